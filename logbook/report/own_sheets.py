"""The person's own sheets: the plan sheet, the wallet card, the fridge sheet, and blank sheets.

This is the way in. The card is drawn in `wallet_card`, sheets to fill in in `blank_sheets` and
`finger_sheet`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from logbook.domain.visits import Appointment
from logbook.report.blank_sheets import write_month, write_profile, write_week
from logbook.report.document import Document
from logbook.report.finger_sheet import write_hands
from logbook.report.flow import Flow
from logbook.report.options import LEADING, Print, ReportOptions
from logbook.report.own_facts import (
    OwnFacts,
    about_sheet,
    medicines_now,
    phone_texts,
    target_texts,
)
from logbook.report.text import Span, beside, paragraph, stacked
from logbook.report.wallet_card import write_wallet_card
from logbook.wording import _, cautions
from logbook.wording.dates import clock_text, weekday_day_text
from logbook.wording.kit_terms import for_lows_text
from logbook.wording.own_sheets import OwnSheet, helper_steps, sheet_name, usual_low_steps
from logbook.wording.plan import plan_lines

# The sheets in large letters try these sizes, in points, until all stands on one page. Large print
# is never smaller: what does not fit in the last goes on on a second page.
_LARGE_SIZES = (18.0, 17.0, 16.0)
_TITLE = 22.0
_GAP = 0.5

Part = tuple[str, list[str]]

_WRITERS = {
    OwnSheet.WALLET: write_wallet_card,
    OwnSheet.WEEK: write_week,
    OwnSheet.MONTH: write_month,
    OwnSheet.PROFILE: write_profile,
    OwnSheet.HANDS: write_hands,
}


def own_sheet(sheet: OwnSheet, facts: OwnFacts, options: ReportOptions) -> bytes:
    """One sheet as a PDF, on the paper of `options`; each has the print that suits it."""
    writer = _WRITERS.get(sheet)
    if writer is not None:
        document = _document(sheet, facts, options)
        writer(document, facts)
        return document.finish()
    write = _write_plan if sheet is OwnSheet.PLAN else _write_fridge
    for size in _LARGE_SIZES:
        document = _document(sheet, facts, options)
        write(document, facts, size)
        if len(document.pages) == 1:
            break
    return document.finish()


def _document(sheet: OwnSheet, facts: OwnFacts, options: ReportOptions) -> Document:
    standard = replace(options, print=Print.STANDARD)  # for footers and what is filled in by hand
    return Document(about_sheet(facts, sheet), standard, facts.typed_texts())


def _write_plan(document: Document, facts: OwnFacts, size: float) -> None:
    settings = facts.settings
    flow = Flow(document)
    name = settings.person_name
    title = _("My plan: {name}").format(name=name) if name else _("My plan")
    flow.paragraph((Span(title, bold=True),), size=_TITLE)
    if facts.appointment is not None:
        flow.paragraph(_visit_text(facts.appointment), size=size)
    own_low = settings.low_plan.strip()
    usual = usual_low_steps(facts.emergency, only_glucose=facts.needs_glucose)
    plan = plan_lines(facts.plan) if facts.plan is not None else []
    _write_parts(flow, [(_("I check"), plan)], size)
    both = [(_("My targets"), target_texts(facts)), (_("Phone"), phone_texts(facts))]
    _write_beside(flow, [part for part in both if part[1]], size)
    parts = [
        (_("When I am low"), [own_low] if own_low else usual),
        (_("When I am high"), _told(settings.high_plan)),
        (_("On a sick day"), _told(settings.sick_day_plan)),
        (_("My medicines"), medicines_now(facts)),
    ]
    _write_parts(flow, parts, size)
    flow.gap(size * _GAP)
    flow.paragraph(cautions.no_advice(), size=size)


def _visit_text(visit: Appointment) -> str:
    when = weekday_day_text(visit.day, with_year=True)
    if visit.at is not None:
        when = _("{day}, {time}").format(day=when, time=clock_text(visit.at))
    return _("My next visit: {when}").format(when=when)


def _write_fridge(document: Document, facts: OwnFacts, size: float) -> None:
    name = facts.settings.person_name
    flow = Flow(document)
    title = _("{name} has diabetes").format(name=name) if name else _("I have diabetes")
    flow.paragraph((Span(title, bold=True),), size=_TITLE)
    steps = helper_steps(facts.emergency, only_glucose=facts.needs_glucose)
    own_low = facts.settings.low_plan.strip()
    where = [
        _("{thing}: {place}").format(thing=for_lows_text(one.kind), place=one.place)
        for one in facts.low_supplies
        if one.is_there and one.ended_on is None and one.place.strip()
    ]
    knows = [
        _("Knows how to use it: {name}").format(name=one.who_knows)
        for one in facts.low_supplies
        if one.is_there and one.ended_on is None and one.who_knows.strip()
    ]
    parts = (
        (_("Shaky, sweaty, confused or very sleepy? I may be low."), steps),
        (_("My own written plan"), _told(own_low)),
        (_("Where it is"), where + knows),
        (_("Phone"), phone_texts(facts)),
        (_("My medicines"), medicines_now(facts)),
    )
    _write_parts(flow, parts, size)
    flow.gap(size * 0.6)
    flow.paragraph(cautions.call_emergency_if(facts.emergency), size=size)


def _write_beside(flow: Flow, parts: Sequence[Part], size: float) -> None:
    """Two short parts next to each other, or the only one that there is."""
    if not parts:
        return
    faces, width = flow.document.faces, (flow.width - size) / len(parts)
    blocks = [
        stacked(
            [
                paragraph(faces, (Span(title, bold=True),), size, width),
                *(paragraph(faces, line, size, width, hanging=size) for line in lines),
            ]
        )
        for title, lines in parts
    ]
    if max(block.height for block in blocks) > (flow.page.top - flow.page.bottom) / 2:
        _write_parts(flow, parts, size)  # too long to stay in one piece
        return
    flow.gap(size * _GAP)
    flow.block(beside(blocks[0], blocks[1], width + size) if len(blocks) > 1 else blocks[0])


def _write_parts(flow: Flow, parts: Sequence[Part], size: float) -> None:
    for title, lines in parts:
        if lines:
            if not flow.has_room(3 * size * LEADING):
                flow.new_page()
            flow.gap(size * _GAP)
            flow.paragraph((Span(title, bold=True),), size=size)
            for line in lines:
                flow.paragraph(line, size=size, hanging=size)


def _told(text: str) -> list[str]:
    return [text.strip()] if text.strip() else []


__all__ = ["OwnSheet", "own_sheet", "sheet_name"]
