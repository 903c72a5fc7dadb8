"""The one next step after a reading: a table of state and circumstances, as plain data.

Which cautions go with it is told here as codes; the sentences are in `wording.next_steps` and
`wording.cautions`. The person's own plan stands above them. Nothing here names a medicine to take.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum

from logbook.domain.cautions import CautionCode as Caution
from logbook.domain.fasting_month import breaks_fast
from logbook.domain.glucose import Kind, Unit
from logbook.domain.levels import HIGHER_ABOVE, LOW_BELOW
from logbook.domain.lows import SEPARATE_AFTER_MINUTES
from logbook.domain.readings import Feeling, Reading
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Slot
from logbook.domain.states import State
from logbook.domain.targets import Target
from logbook.domain.ticks import About, TickBook, can_have_lows

# "A little" above the target, in steps: 20 mg/dL (1.1 mmol/L). Judgement without a source.
A_LITTLE = {Unit.MG_DL: 20, Unit.MMOL_L: 11}
# What was tested longer ago than this asks for nothing now. Judgement without a source.
KEPT_AFTER = timedelta(hours=2)

_UNWELL = frozenset(
    {
        Feeling.SHAKY,
        Feeling.SWEATY,
        Feeling.DIZZY,
        Feeling.CONFUSED,
        Feeling.WEAK,
        Feeling.UNWELL,
    }
)


class StepCode(StrEnum):
    """What to do now."""

    TREAT_VERY_LOW = "treat_very_low"
    TREAT_LOW = "treat_low"
    KEPT_LOW = "kept_low"
    KEPT = "kept"
    AFTER_LOW = "after_low"
    UNWELL_NOT_LOW = "unwell_not_low"
    FOLLOW_BEDTIME_PLAN = "follow_bedtime_plan"
    FOLLOW_PLAN = "follow_plan"
    NOTHING_NOW = "nothing_now"
    NOTHING_LITTLE_ABOVE = "nothing_little_above"
    NOTHING_ABOVE = "nothing_above"
    NOTHING_NOT_JUDGED = "nothing_not_judged"
    TEST_AGAIN = "test_again"
    TEST_AGAIN_NEW_STRIP = "test_again_new_strip"
    TEST_AGAIN_IF_SURPRISED = "test_again_if_surprised"
    HIGH_AGAIN = "high_again"
    CALL_NOW = "call_now"


class Circumstance(StrEnum):
    """What matters beside the state. The unit never does.

    `EARLIER` is a low that is over, or another value tested over two hours before it was written
    down. `AGAIN` is a high that was tested again, `AFTER_LOW` a check within two hours of a low.
    """

    EARLIER = "earlier"
    LETTERS = "letters"
    AGAIN = "again"
    ABOVE_250 = "above_250"
    A_LITTLE = "a_little"
    AFTER_LOW = "after_low"
    UNWELL = "unwell"
    AT_BEDTIME = "at_bedtime"


class OwnPlan(StrEnum):
    """Which of the person's own written plans stands above the step."""

    LOW = "low"
    HIGH = "high"
    SICK_DAY = "sick_day"


@dataclass(frozen=True, slots=True)
class Row:
    """One row: it holds when the state is this one and all of `when` is the case."""

    state: State
    when: frozenset[Circumstance]
    code: StepCode
    cautions: tuple[Caution, ...] = ()


@dataclass(frozen=True, slots=True)
class Step:
    """The step, its cautions in the order in which they are told, and the plan above them.

    `own_plan` is None where the person wrote none. `next_slot` is the next usual or planned check.
    """

    code: StepCode
    cautions: tuple[Caution, ...] = ()
    own_plan: OwnPlan | None = None
    next_slot: Slot | None = None

    @property
    def doubts_high(self) -> bool:
        """Whether the number is a high that is to be tested again before anything is done."""
        return self.code in _DOUBTS_HIGH

    @property
    def tests_again(self) -> bool:
        """Whether to offer the same check once more."""
        return self.doubts_high or self.code is StepCode.UNWELL_NOT_LOW

    @property
    def is_calm(self) -> bool:
        """Whether there is nothing to do that can't wait."""
        return self.code in _CALM

    @property
    def asks_unwell(self) -> bool:
        """Whether a person who feels unwell would be told something else, if they said so."""
        return self.code in _ASKS_UNWELL


_DOUBTS_HIGH = frozenset(
    {StepCode.TEST_AGAIN, StepCode.TEST_AGAIN_NEW_STRIP, StepCode.TEST_AGAIN_IF_SURPRISED}
)
_NOT_TREATED = frozenset(
    {
        StepCode.FOLLOW_BEDTIME_PLAN,
        StepCode.FOLLOW_PLAN,
        StepCode.NOTHING_NOW,
        StepCode.NOTHING_LITTLE_ABOVE,
        StepCode.NOTHING_ABOVE,
        StepCode.NOTHING_NOT_JUDGED,
    }
)
_ASKS_UNWELL = _NOT_TREATED | {StepCode.HIGH_AGAIN}
_CALM = _NOT_TREATED | {StepCode.KEPT, StepCode.KEPT_LOW}


def _row(state: State, *when: Circumstance, to: StepCode, and_: tuple[Caution, ...] = ()) -> Row:
    return Row(state, frozenset(when), to, and_)


_LOW_CAUTIONS = (Caution.LOW_FIRST, Caution.FAST_SUGAR, Caution.RECHECK, Caution.FINGERTIP_ONLY)
_UNWELL_CAUTIONS = (Caution.CALL_EMERGENCY_IF, Caution.NUMBER_NOT_TRUSTED)
_HIGH_CAUTIONS = (Caution.NO_EXTRA_MEDICINE, Caution.DRINK_WATER)


def _not_low(state: State) -> tuple[Row, ...]:
    """The rows of a value that can be high or ordinary."""
    return (
        _row(state, Circumstance.EARLIER, to=StepCode.KEPT),
        # Sugar on a finger, after a low, gives a false high number.
        _row(state, Circumstance.AFTER_LOW, Circumstance.ABOVE_250, to=StepCode.TEST_AGAIN),
        _row(state, Circumstance.AFTER_LOW, to=StepCode.AFTER_LOW),
        _row(
            state,
            Circumstance.ABOVE_250,
            Circumstance.AGAIN,
            to=StepCode.HIGH_AGAIN,
            and_=_HIGH_CAUTIONS,
        ),
        _row(state, Circumstance.UNWELL, to=StepCode.UNWELL_NOT_LOW, and_=_UNWELL_CAUTIONS),
        _row(state, Circumstance.ABOVE_250, to=StepCode.TEST_AGAIN_IF_SURPRISED),
    )


# The first row that holds is the step; within a state the narrower rows come first. The low comes
# before any target and a surprising high is doubted before anything is done about it. Treatment:
# ADA 2024, summary of the treatment of lows, read at the source. HI: the ADA's position statement
# on long-term care, read in PMC7428662. The rest is common practice, no source.
ROWS: tuple[Row, ...] = (
    _row(State.VERY_LOW, Circumstance.EARLIER, to=StepCode.KEPT_LOW),
    _row(
        State.VERY_LOW,
        to=StepCode.TREAT_VERY_LOW,
        and_=(Caution.VERY_LOW, *_LOW_CAUTIONS, Caution.FOR_A_HELPER),
    ),
    _row(State.LOW, Circumstance.EARLIER, to=StepCode.KEPT_LOW),
    _row(State.LOW, to=StepCode.TREAT_LOW, and_=(*_LOW_CAUTIONS, Caution.LOW_WITHOUT_SIGNS)),
    _row(State.VERY_HIGH, Circumstance.EARLIER, to=StepCode.KEPT),
    _row(
        State.VERY_HIGH,
        Circumstance.LETTERS,
        Circumstance.AGAIN,
        to=StepCode.CALL_NOW,
        and_=_HIGH_CAUTIONS,
    ),
    _row(State.VERY_HIGH, Circumstance.LETTERS, to=StepCode.TEST_AGAIN_NEW_STRIP),
    _row(State.VERY_HIGH, Circumstance.AGAIN, to=StepCode.HIGH_AGAIN, and_=_HIGH_CAUTIONS),
    _row(State.VERY_HIGH, to=StepCode.TEST_AGAIN),
    *_not_low(State.ABOVE_TARGET),
    _row(State.ABOVE_TARGET, Circumstance.A_LITTLE, to=StepCode.NOTHING_LITTLE_ABOVE),
    _row(State.ABOVE_TARGET, to=StepCode.NOTHING_ABOVE),
    *_not_low(State.NOT_JUDGED),
    _row(State.NOT_JUDGED, to=StepCode.NOTHING_NOT_JUDGED),
    _row(State.IN_TARGET, Circumstance.EARLIER, to=StepCode.KEPT),
    _row(State.IN_TARGET, Circumstance.AFTER_LOW, to=StepCode.AFTER_LOW),
    _row(State.IN_TARGET, Circumstance.UNWELL, to=StepCode.UNWELL_NOT_LOW, and_=_UNWELL_CAUTIONS),
    _row(State.IN_TARGET, to=StepCode.NOTHING_NOW),
    _row(State.BELOW_TARGET, Circumstance.EARLIER, to=StepCode.KEPT),
    _row(State.BELOW_TARGET, Circumstance.AFTER_LOW, to=StepCode.AFTER_LOW),
    _row(
        State.BELOW_TARGET, Circumstance.UNWELL, to=StepCode.UNWELL_NOT_LOW, and_=_UNWELL_CAUTIONS
    ),
    _row(State.BELOW_TARGET, Circumstance.AT_BEDTIME, to=StepCode.FOLLOW_BEDTIME_PLAN),
    _row(State.BELOW_TARGET, to=StepCode.FOLLOW_PLAN),
)

_KEPT = frozenset({StepCode.KEPT, StepCode.KEPT_LOW})
_JUDGED = frozenset({State.BELOW_TARGET, State.IN_TARGET, State.ABOVE_TARGET})


def next_step_of(  # noqa: PLR0913  (what the step depends on)
    reading: Reading,
    state: State,
    target: Target | None,
    *,
    is_second_high: bool,
    previous: Reading | None,
    settings: LogSettings,
    ticks: TickBook,
    day: date,
    slot_next: Slot | None = None,
    is_low_over: bool = False,
    fasts: bool = False,
) -> Step:
    """The step after `reading`, whose `state` was told by `target` on the person's `day`.

    `is_second_high` says that it was tested again after a surprising high; `previous` is the check
    that counts just before it; `is_low_over` that the page of the low does not hang on it; `fasts`
    that the day is one of a fasting month.
    """
    holds = set(
        _circumstances(
            reading,
            state,
            target,
            is_second_high=is_second_high,
            previous=previous,
            is_low_over=is_low_over,
        )
    )
    row = next(row for row in ROWS if row.state is state and row.when <= holds)
    if row.code in _KEPT:
        return Step(row.code, next_slot=slot_next)
    cautions = [
        Caution.GLUCOSE_ONLY
        if code is Caution.FAST_SUGAR and ticks.may_hold(About.SLOWS_SUGAR, day)
        else code
        for code in row.cautions
    ]
    # A high that surprises is tested again before anything is done about it.
    if fasts and breaks_fast(reading.glucose) and row.code not in _DOUBTS_HIGH:
        cautions.insert(0, Caution.BREAK_FAST)
    cautions += _further(row, holds, ticks, settings, day)
    if target is not None and not target.is_agreed and state in _JUDGED:
        cautions.append(Caution.TARGET_NOT_AGREED)
    return Step(row.code, tuple(dict.fromkeys(cautions)), _own_plan(row.code, settings), slot_next)


def _circumstances(
    reading: Reading,
    state: State,
    target: Target | None,
    *,
    is_second_high: bool,
    previous: Reading | None,
    is_low_over: bool,
) -> Iterator[Circumstance]:
    glucose, unit = reading.glucose, reading.glucose.unit
    if is_low_over if state.is_low else reading.written_after > KEPT_AFTER:
        yield Circumstance.EARLIER
    if glucose.kind is not Kind.NUMBER:
        yield Circumstance.LETTERS
    if is_second_high or (previous is not None and _is_hi_again(previous, reading)):
        yield Circumstance.AGAIN
    if glucose.order_steps > HIGHER_ABOVE[unit]:
        yield Circumstance.ABOVE_250
    limits = None if target is None else target.limits_in(unit)
    upper = None if limits is None else limits.upper
    if upper is not None and glucose.order_steps - upper.steps <= A_LITTLE[unit]:
        yield Circumstance.A_LITTLE
    if previous is not None and _is_low(previous) and _is_soon_after(previous, reading):
        yield Circumstance.AFTER_LOW
    if is_unwell(reading):
        yield Circumstance.UNWELL
    if reading.slot is Slot.BEDTIME:
        yield Circumstance.AT_BEDTIME


def _further(
    row: Row, holds: set[Circumstance], ticks: TickBook, settings: LogSettings, day: date
) -> Iterator[Caution]:
    """What medicines and feelings add."""
    is_unwell = Circumstance.UNWELL in holds
    is_for_unwell = row.code is StepCode.UNWELL_NOT_LOW
    if is_unwell and not row.state.is_low and not is_for_unwell:
        yield Caution.CALL_EMERGENCY_IF
    if (row.state.is_low or is_for_unwell) and ticks.may_hold(About.BETA_BLOCKER, day):
        yield Caution.BETA_BLOCKER
    if is_unwell and not row.state.is_low and ticks.may_hold(About.SGLT2_INHIBITOR, day):
        yield Caution.KETOACIDOSIS
    if row.code is StepCode.AFTER_LOW and can_have_lows(ticks, settings, day) is not False:
        yield Caution.WATCH
    if ticks.may_hold(About.ICODEXTRIN, day):
        yield Caution.ICODEXTRIN


def is_unwell(reading: Reading) -> bool:
    """Whether the person felt in a way that a number of 70 mg/dL (3.9) or more doesn't explain."""
    return bool(_UNWELL.intersection(reading.feelings))


def _own_plan(code: StepCode, settings: LogSettings) -> OwnPlan | None:
    if code in (StepCode.TREAT_LOW, StepCode.TREAT_VERY_LOW):
        return OwnPlan.LOW if settings.low_plan else None
    # A plan for highs stands only above a number that was tested again.
    if code in (StepCode.HIGH_AGAIN, StepCode.CALL_NOW):
        return OwnPlan.HIGH if settings.high_plan else None
    return None


def _is_low(reading: Reading) -> bool:
    return reading.counts and reading.glucose.order_steps < LOW_BELOW[reading.glucose.unit]


def _is_hi_again(previous: Reading, reading: Reading) -> bool:
    kinds = {previous.glucose.kind, reading.glucose.kind}
    return kinds == {Kind.READS_HIGH} and _is_soon_after(previous, reading)


def _is_soon_after(previous: Reading, reading: Reading) -> bool:
    after = reading.at.instant - previous.at.instant
    return timedelta(0) <= after <= timedelta(minutes=SEPARATE_AFTER_MINUTES)
