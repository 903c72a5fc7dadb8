"""What stands beside the log in the appendix: the laboratory, the meter's own average, the plan."""

from __future__ import annotations

from logbook.domain.plan.calendar_days import plan_on
from logbook.report.contents import Contents
from logbook.report.document import joined_parts, unbroken
from logbook.report.flow import Flow
from logbook.report.text import Span
from logbook.wording import _
from logbook.wording.completeness import (
    both_counts,
    could_explain_text,
    proves_nothing,
    verdict_sentences,
)
from logbook.wording.dates import short_day_text, week_text
from logbook.wording.laboratory import a1c_text, both_numbers, limits_of_both, what_it_means
from logbook.wording.numbers import count_of_text
from logbook.wording.plan import plan_done_sentence, plan_gap_sentences, plan_lines
from logbook.wording.terms import slot_text

# So many earlier A1C values are told, the latest ones.
MOST_A1CS = 6


def write_beside(flow: Flow, contents: Contents) -> None:
    """Each part only where there is something to tell."""
    _write_a1c(flow, contents)
    _write_average(flow, contents)
    _write_plan(flow, contents)


def _write_a1c(flow: Flow, contents: Contents) -> None:
    data, beside = contents.data, contents.review.a1c
    told = [one for one in data.a1cs if one.counts and one.drawn_on <= data.period.last]
    if not told:
        return
    flow.heading(_("Laboratory A1C and the log"))
    if beside is not None:
        for sentence in (
            *both_numbers(beside),
            *what_it_means(beside, for_provider=True),
            *limits_of_both(),
        ):
            flow.paragraph(sentence)
        told = [one for one in told if one.id != beside.a1c.id]
    if told:
        earlier = joined_parts(
            _("{day} {value}").format(
                day=short_day_text(one.drawn_on, with_year=True), value=a1c_text(one)
            )
            for one in reversed(told[-MOST_A1CS:])
        )
        flow.paragraph((Span(_("On record:"), bold=True), Span(f" {earlier}")))


def _write_average(flow: Flow, contents: Contents) -> None:
    compared = contents.review.meter
    if compared is None:
        return
    flow.heading(_("The meter’s own average and the log"))
    for sentence in (*both_counts(compared), *verdict_sentences(compared)):
        flow.paragraph(sentence)
    if compared.explanations:
        flow.paragraph(
            (
                Span(_("What can explain it:"), bold=True),
                *(Span(f" {could_explain_text(one)}") for one in compared.explanations),
            )
        )
    flow.paragraph(proves_nothing())


def _write_plan(flow: Flow, contents: Contents) -> None:
    done, data = contents.review.plan, contents.data
    if done is None:
        return
    flow.heading(_("Checks planned and done"))
    plan = plan_on(data.plans, data.period.last)
    if plan is not None:
        since = short_day_text(plan.holds_from, with_year=True)
        lines = joined_parts(plan_lines(plan))
        flow.paragraph(
            (Span(_("Plan since {day}:").format(day=since), bold=True), Span(f" {lines}"))
        )
    flow.paragraph(plan_done_sentence(done))
    by_slot = (
        _("{slot} {count}").format(
            slot=slot_text(one.slot), count=count_of_text(one.share.part, one.share.of)
        )
        for one in done.by_slot
    )
    flow.paragraph(joined_parts(map(unbroken, by_slot)))
    by_week = (
        _("{days} {count}").format(
            days=week_text(one.period),
            count=count_of_text(one.share.part, one.share.of),
        )
        for one in done.by_week
    )
    flow.paragraph(
        (
            Span(_("By week:"), bold=True),
            Span(f" {joined_parts(map(unbroken, by_week))}"),
        )
    )
    for sentence in plan_gap_sentences(done):
        flow.paragraph(sentence)
