"""When a control test is due and why, and what follows from failed ones.

The reasons are common practice, told alike in meter manuals and consumer texts (read in copies): a
new vial, a new meter, a drop or damage, a battery change, results not believed, now and then. Only
a passing test made after a reason arose clears it, each meter for itself.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import StrEnum
from uuid import UUID

from logbook.domain.kit.control import ControlTest
from logbook.domain.kit.control_results import ControlResult, JudgedTest, judged_tests
from logbook.domain.kit.kit_data import KitData
from logbook.domain.kit.meter_care import MeterEvent, MeterWhat
from logbook.domain.kit.meters import meter_used
from logbook.domain.kit.strip_opening import same_text
from logbook.domain.kit.vial_life import vial_in_use
from logbook.domain.moments import Moment
from logbook.domain.settings import LogSettings

# From so many failed tests running on the strips are no longer to be used.
FAILS_TO_STOP = 2


class ControlReason(StrEnum):
    """Why a control test is due."""

    NEW_VIAL = "new_vial"
    NEW_METER = "new_meter"
    DROPPED = "dropped"
    DAMAGED = "damaged"
    BATTERY = "battery"
    NOT_BELIEVED = "not_believed"
    INTERVAL = "interval"


_REASON_OF_EVENT = {
    MeterWhat.FIRST_USED: ControlReason.NEW_METER,
    MeterWhat.DROPPED: ControlReason.DROPPED,
    MeterWhat.DAMAGED: ControlReason.DAMAGED,
    MeterWhat.BATTERY_CHANGED: ControlReason.BATTERY,
    MeterWhat.NOT_BELIEVED: ControlReason.NOT_BELIEVED,
}


@dataclass(frozen=True, slots=True)
class DueReason:
    """One reason, when it arose, and the vial, event, test or meter it is about."""

    kind: ControlReason
    arose: datetime
    about: UUID


class ControlState(StrEnum):
    """How the strips and a meter stand by their control tests.

    `NOT_KNOWN`: there are tests, but none with a range to judge it by, or all with an out-of-date
    bottle. `FAILED_NEW_VIAL`: failed twice, and then with another vial too.
    """

    NO_TEST = "no_test"
    NOT_KNOWN = "not_known"
    PASSED = "passed"
    FAILED_ONCE = "failed_once"
    FAILED_TWICE = "failed_twice"
    FAILED_NEW_VIAL = "failed_new_vial"


class FirstFailCheck(StrEnum):
    """What is looked at after a first fail, in this order, before the test is made again."""

    BOTTLE_IN_DATE = "bottle_in_date"
    SHAKEN = "shaken"
    FIRST_DROP_WIPED = "first_drop_wiped"
    RIGHT_LEVEL = "right_level"
    WARM_ENOUGH = "warm_enough"


@dataclass(frozen=True, slots=True)
class ControlStanding:
    """The state, the last passed test, and the failed ones that nothing has cleared yet."""

    state: ControlState
    last_pass: ControlTest | None = None
    fails: tuple[ControlTest, ...] = ()

    @property
    def must_stop(self) -> bool:
        """Whether these strips are no longer to be used: two fails running."""
        return self.state in (ControlState.FAILED_TWICE, ControlState.FAILED_NEW_VIAL)


@dataclass(frozen=True, slots=True)
class SuspectSpan:
    """Readings of a meter after the last pass and up to the last of the fails running."""

    meter_id: UUID | None
    after: datetime
    until: datetime


# --- due ------------------------------------------------------------------------------------------


def due_reasons(
    meter_id: UUID | None, kit: KitData, settings: LogSettings, now: Moment
) -> tuple[DueReason, ...]:
    """Why a control test of a meter is due, the newest reason first; empty when none is.

    Empty too for a person without control solution.
    """
    if not settings.has_control_solution:
        return ()
    passes = [one for one in judged_tests(meter_id, kit, settings) if _is_pass(one)]
    found = _reasons_of_events(meter_id, kit, passes, now)
    vial = vial_in_use(meter_id, kit)
    if vial is not None and vial.opened_at is not None and vial.opened_at <= now.instant:
        with_it = [one for one in passes if one.vial is not None and one.vial.id == vial.id]
        if not _is_cleared(vial.opened_at, with_it):
            found.append(DueReason(ControlReason.NEW_VIAL, vial.opened_at, vial.id))
    interval = _interval_reason(meter_id, kit, settings, now, passes)
    if interval is not None:
        found.append(interval)
    return tuple(sorted(found, key=lambda reason: reason.arose, reverse=True))


def _reasons_of_events(
    meter_id: UUID | None, kit: KitData, passes: list[JudgedTest], now: Moment
) -> list[DueReason]:
    return [
        DueReason(_REASON_OF_EVENT[event.what], event.at.instant, event.id)
        for event in kit.meter_events
        if event.counts and event.meter_id == meter_id and event.what in _REASON_OF_EVENT
        if event.at.instant <= now.instant and not _is_cleared(event.at.instant, passes)
    ]


def _interval_reason(
    meter_id: UUID | None,
    kit: KitData,
    settings: LogSettings,
    now: Moment,
    passes: list[JudgedTest],
) -> DueReason | None:
    """So many of the person's days after the last pass, or after the meter's first day of use."""
    days = settings.control_interval_days
    meter = next((meter for meter in kit.meters if meter.id == meter_id), None)
    if days is None or meter is None:
        return None
    last, about = meter.in_use_from, meter.id
    if passes:
        test = passes[-1].test
        last, about = test.at.day(settings.day_starts_at), test.id
    due = last + timedelta(days=days)
    if now.day(settings.day_starts_at) < due:
        return None
    wall = datetime.combine(due, settings.day_starts_at)
    arose = Moment.from_wall(wall, now.zone).instant
    return DueReason(ControlReason.INTERVAL, arose, about)


def _is_cleared(arose: datetime, passes: Iterable[JudgedTest]) -> bool:
    # Strictly after: what happens in the minute of a test is not what the test looked at.
    return any(one.test.at.instant > arose for one in passes)


def _is_pass(one: JudgedTest) -> bool:
    return one.result is ControlResult.PASS


# --- what follows from fails ----------------------------------------------------------------------


def standing_of(meter_id: UUID | None, kit: KitData, settings: LogSettings) -> ControlStanding:
    """How the strips and a meter stand by their control tests.

    A pass clears the fails of its own level, and those made with an earlier vial; that the meter
    was found fit again clears all before it. Tests that decide nothing change nothing.
    """
    tests = judged_tests(meter_id, kit, settings)
    if not tests:
        return ControlStanding(ControlState.NO_TEST)
    fit_again = last_event(MeterWhat.FIT_AGAIN, meter_id, kit)
    since = None if fit_again is None else fit_again.at.instant
    last_pass: ControlTest | None = None
    fails: tuple[JudgedTest, ...] = ()
    for one in tests:
        last_pass, fails = _after_test(one, last_pass, fails)
    fails = tuple(one for one in fails if since is None or one.test.at.instant > since)
    return ControlStanding(_state(last_pass, fails), last_pass, tuple(one.test for one in fails))


def is_not_for_decisions(meter_id: UUID | None, kit: KitData, settings: LogSettings) -> bool:
    """Whether a meter is not to be used for decisions: the person said so, or a new vial failed."""
    said = last_event(MeterWhat.NOT_FOR_DECISIONS, meter_id, kit)
    fit_again = last_event(MeterWhat.FIT_AGAIN, meter_id, kit)
    if said is not None and (fit_again is None or said.at.instant > fit_again.at.instant):
        return True
    return standing_of(meter_id, kit, settings).state is ControlState.FAILED_NEW_VIAL


def _after_test(
    one: JudgedTest, last_pass: ControlTest | None, fails: tuple[JudgedTest, ...]
) -> tuple[ControlTest | None, tuple[JudgedTest, ...]]:
    match one.result:
        case ControlResult.PASS:
            return one.test, tuple(fail for fail in fails if not _does_clear(one, fail))
        case ControlResult.FAIL:
            return last_pass, (*fails, one)
        case ControlResult.NOT_KNOWN:
            return last_pass, fails


def _does_clear(passed: JudgedTest, fail: JudgedTest) -> bool:
    one, other = passed.vial, fail.vial
    is_another_vial = one is not None and other is not None and one.id != other.id
    return is_another_vial or same_text(passed.test.level, fail.test.level)


def _state(last_pass: ControlTest | None, fails: tuple[JudgedTest, ...]) -> ControlState:
    if not fails:
        return ControlState.NOT_KNOWN if last_pass is None else ControlState.PASSED
    if len(fails) < FAILS_TO_STOP:
        return ControlState.FAILED_ONCE
    vials = {fail.vial.id for fail in fails if fail.vial is not None}
    if len(fails) > FAILS_TO_STOP and len(vials) > 1:
        return ControlState.FAILED_NEW_VIAL
    return ControlState.FAILED_TWICE


# --- which readings are in doubt ------------------------------------------------------------------


def suspect_spans(kit: KitData, settings: LogSettings) -> tuple[SuspectSpan, ...]:
    """The times whose readings are in doubt, only where two control tests failed running.

    Each runs from the last pass before the fails to the last of them. Without a pass on record
    nothing is in doubt more than before. A pass that comes later does not lift it.
    """
    of_meters = {meter_used(t.meter_id, t.at.instant, kit.meters) for t in kit.control_tests}
    spans = [span for meter_id in of_meters for span in _spans_of(meter_id, kit, settings)]
    return tuple(sorted(spans, key=lambda span: (span.after, span.until)))


def _spans_of(meter_id: UUID | None, kit: KitData, settings: LogSettings) -> list[SuspectSpan]:
    found: list[SuspectSpan] = []
    last_pass: ControlTest | None = None
    passed_before: ControlTest | None = None
    fails: tuple[JudgedTest, ...] = ()
    for one in judged_tests(meter_id, kit, settings):
        was = fails
        last_pass, fails = _after_test(one, last_pass, fails)
        if not fails:
            passed_before = last_pass
        if len(fails) <= len(was) or len(fails) < FAILS_TO_STOP or passed_before is None:
            continue
        span = SuspectSpan(meter_id, passed_before.at.instant, one.test.at.instant)
        if found and found[-1].after == span.after:
            found.pop()
        found.append(span)
    return found


def last_event(what: MeterWhat, meter_id: UUID | None, kit: KitData) -> MeterEvent | None:
    """The last time that this happened to a meter, crossed-out ones left aside."""
    events = [e for e in kit.meter_events if e.counts and e.what is what]
    of_meter = [event for event in events if event.meter_id == meter_id]
    return max(of_meter, key=lambda event: event.at.instant, default=None)
