"""The appendix's kit: questions it raises, strips, control tests, meters, stock.

What the kit is judged by is in `logbook.domain.kit`. Fingers and lancets are in
`appendix_fingers`.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from uuid import UUID

from logbook.domain.kit.comparison import compared
from logbook.domain.kit.control import ControlTest
from logbook.domain.kit.control_due import ControlState
from logbook.domain.kit.control_results import (
    ControlResult,
    doubts_of,
    range_of,
    result_of,
    vial_tested,
)
from logbook.domain.kit.kit_summary import KitSummary, VialInReport
from logbook.domain.kit.low_supplies import low_supply_states
from logbook.domain.kit.meter_care import MeterWhat
from logbook.domain.kit.strip_opening import last_vial, next_vial
from logbook.report.appendix_fingers import write_fingers, write_lancets
from logbook.report.contents import Contents
from logbook.report.document import joined_parts, kept_together
from logbook.report.flow import Flow
from logbook.report.text import Rich, Span
from logbook.wording import _, mark, ngettext
from logbook.wording.dates import day_text, short_day_text
from logbook.wording.kit import (
    left_text,
    low_supply_text,
    readings_out_of_date_text,
    stock_text,
    strips_text,
)
from logbook.wording.kit_control import (
    clock_ahead_text,
    comparison_text,
    control_test_text,
    never_a_reading,
    no_test_on_record,
    suspect_text,
)
from logbook.wording.kit_line import question_text
from logbook.wording.kit_terms import (
    control_doubt_text,
    control_state_text,
    meter_what_text,
    packing_text,
    why_ended_text,
)
from logbook.wording.numbers import glucose_text, number_text, range_text

# Of each long list so many are told, the latest ones.
MOST_LISTED = 20

_RESULT = {
    ControlResult.PASS: mark("passed"),
    ControlResult.FAIL: mark("failed"),
    ControlResult.NOT_KNOWN: mark("no range"),
}


def write_kit(flow: Flow, contents: Contents) -> None:
    """Each part only where there is something to tell."""
    kit = contents.review.kit
    _write_questions(flow, kit)
    _write_strips(flow, contents, kit)
    _write_tests(flow, contents, kit)
    _write_meters(flow, contents, kit)
    write_fingers(flow, contents)
    write_lancets(flow, contents)
    _write_stock(flow, contents, kit)


def _write_questions(flow: Flow, kit: KitSummary) -> None:
    if kit.questions:
        flow.heading(_("Questions the kit raises"))
        for question in kit.questions:
            flow.entry(question_text(question))


def _meter_name(contents: Contents, meter_id: UUID | None) -> str:
    return next((one.name for one in contents.data.meters if one.id == meter_id), "")


def _latest(flow: Flow, many: Sequence[Rich]) -> None:
    """The latest of a list, and how many more there are."""
    for text in many[-MOST_LISTED:]:
        flow.entry(text)
    left = len(many) - MOST_LISTED
    if left > 0:
        flow.paragraph(
            ngettext(
                "{n} earlier one is not listed.", "{n} earlier ones are not listed.", left
            ).format(n=number_text(left))
        )


# --- strips ---------------------------------------------------------------------------------------


def _write_strips(flow: Flow, contents: Contents, kit: KitSummary) -> None:
    if not (kit.vials or kit.out_of_date):
        return
    flow.heading(_("Strips used"), bookmark=True)
    _latest(flow, [_vial_text(contents, one) for one in kit.vials])
    if kit.out_of_date:
        ids = [one.reading_id for one in kit.out_of_date]
        flow.paragraph(readings_out_of_date_text(len(ids)) + " " + _days_in_question(contents, ids))


def _vial_text(contents: Contents, one: VialInReport) -> str:
    vial, account = one.vial, one.account
    parts = [_meter_name(contents, vial.meter_id), packing_text(vial.packing)]
    parts.append(_("lot {lot}").format(lot=vial.lot) if vial.lot else _("lot not noted"))
    if vial.opened_on is not None:
        opened = short_day_text(vial.opened_on, with_year=True)
        parts.append(_("opened {day}").format(day=opened))
    if one.life is None:
        parts.append(_("no use-until date noted"))
    else:
        until = short_day_text(one.life.until, with_year=True)
        parts.append(_("use until {day}").format(day=until))
    if vial.ended_at is not None and vial.why_ended is not None:
        parts.append(_("ended: {why}").format(why=why_ended_text(vial.why_ended).lower()))
    if account is None:
        parts.append(strips_text(vial.count))
    elif vial.is_in_use and not account.beyond:
        parts.append(left_text(account).rstrip("."))
    else:
        parts.append(
            _("{used} of {strips} used by the log").format(
                used=number_text(account.used), strips=strips_text(account.count)
            )
        )
    return joined_parts(parts)


def _days_in_question(contents: Contents, ids: Sequence[UUID]) -> str:
    """From which day to which the readings were made; the grid marks each of them."""
    wanted, starts_at = set(ids), contents.data.settings.day_starts_at
    days = [one.at.day(starts_at) for one in contents.data.kit_readings if one.id in wanted]
    if not days:
        return ""
    return _("Made {first} to {last}, each with a diamond in the grid.").format(
        first=short_day_text(min(days)), last=short_day_text(max(days))
    )


# --- control tests --------------------------------------------------------------------------------


def _write_tests(flow: Flow, contents: Contents, kit: KitSummary) -> None:
    data = contents.data
    has_kit = bool(kit.tests or kit.vials or kit.suspect)
    if not has_kit and data.settings.has_control_solution:
        return
    flow.heading(_("Control tests"), bookmark=True)
    if not kit.tests:
        flow.paragraph(
            no_test_on_record()
            if data.settings.has_control_solution
            else _("There is no control solution, so no control tests are made.")
        )
    else:
        flow.paragraph(
            _("{n} made: {passed} passed, {failed} failed, {not_known} without a range.").format(
                n=number_text(len(kit.tests)),
                passed=number_text(kit.passed),
                failed=number_text(kit.failed),
                not_known=number_text(kit.not_known),
            )
        )
        flow.paragraph(never_a_reading())
        _latest(flow, [_test_text(contents, test) for test in kit.tests])
        for meter_id, standing in kit.standings:
            if standing.state is not ControlState.NO_TEST:
                name = _meter_name(contents, meter_id)
                state = control_state_text(standing.state)
                flow.paragraph(
                    _("Now, {meter}: {state}.").format(meter=name, state=state.lower())
                    if name
                    else _("Now: {state}.").format(state=state.lower())
                )
    if kit.suspect:
        flow.paragraph(
            suspect_text(len(kit.suspect)) + " " + _days_in_question(contents, kit.suspect)
        )


def _test_text(contents: Contents, test: ControlTest) -> Rich:
    data = contents.data
    vial = vial_tested(test, data.kit)
    known = range_of(vial, test.level, test.glucose.unit)
    result = result_of(test, data.kit)
    day = kept_together(short_day_text(test.at.day(data.settings.day_starts_at), with_year=True))
    parts = [_meter_name(contents, test.meter_id), control_test_text(test, known).rstrip(".")]
    if vial is not None and vial.lot:
        parts.append(_("lot {lot}").format(lot=vial.lot))
    parts += [control_doubt_text(doubt) for doubt in doubts_of(test, data.kit, data.settings)]
    return (
        Span(f"{day} · "),
        Span(_(_RESULT[result]), bold=result is ControlResult.FAIL),
        Span(f" · {joined_parts(parts)}"),
    )


# --- meters ---------------------------------------------------------------------------------------


def _write_meters(flow: Flow, contents: Contents, kit: KitSummary) -> None:
    data = contents.data
    today = data.made_at.day(data.settings.day_starts_at)
    meters = [one for one in data.meters if one.is_own and one.is_in_use(today)]
    if not (meters or kit.meter_events or kit.comparisons):
        return
    flow.heading(_("Meters"))
    for meter in meters:
        limits = range_text(meter.lowest, meter.highest, meter.unit)
        flow.paragraph(
            _("{name}: shows {limits}, outside them LO or HI.").format(
                name=meter.name, limits=limits
            )
        )
    _latest(flow, list(_event_texts(contents, kit)))
    for pair in kit.comparisons:
        result = compared(pair)
        flow.paragraph(
            _("{day}, {meter} beside the laboratory: {glucose} and {laboratory}. {said}").format(
                day=short_day_text(pair.at.day(data.settings.day_starts_at), with_year=True),
                meter=_meter_name(contents, pair.meter_id) or _("meter"),
                glucose=glucose_text(pair.glucose),
                laboratory=glucose_text(pair.laboratory),
                said=comparison_text(result, pair.laboratory.unit),
            )
        )


def _event_texts(contents: Contents, kit: KitSummary) -> Iterator[str]:
    starts_at = contents.data.settings.day_starts_at
    for event in kit.meter_events:
        what = meter_what_text(event.what)
        if event.what is MeterWhat.CLOCK_CHECKED and event.clock_ahead_minutes is not None:
            what = clock_ahead_text(event.clock_ahead_minutes).rstrip(".")
        day = kept_together(short_day_text(event.at.day(starts_at), with_year=True))
        yield joined_parts((day, _meter_name(contents, event.meter_id), what, event.note))


# --- stock ----------------------------------------------------------------------------------------


def _write_stock(flow: Flow, contents: Contents, kit: KitSummary) -> None:
    data = contents.data
    today = data.made_at.day(data.settings.day_starts_at)
    lows = low_supply_states(data.kit, today)
    # A meter whose strips were never told of has no stock to speak of.
    outlooks = [
        one
        for one in kit.outlooks
        if last_vial(one.meter_id, data.kit) or next_vial(one.meter_id, data.kit)
    ]
    if not (outlooks or lows):
        return
    flow.heading(_("Stock on {day}").format(day=day_text(today)))
    for outlook in outlooks:
        name, text = _meter_name(contents, outlook.meter_id), stock_text(outlook, today)
        flow.paragraph((Span(f"{name}: ", bold=True), Span(text)) if name else text)
    for one in lows:
        flow.paragraph(low_supply_text(one, today))
