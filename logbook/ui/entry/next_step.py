"""What is said about a reading that was just saved: the step of the domain's table, in words.

What to do is decided by `domain.next_steps`, the sentences are in `wording.next_steps`. Here the
two are read together with what the log says around the reading.
"""

from __future__ import annotations

from dataclasses import dataclass

from logbook.domain.fasting_month import is_fasting_month
from logbook.domain.next_steps import StepCode, is_unwell, next_step_of
from logbook.domain.readings import Reading
from logbook.domain.states import State, state_of_reading
from logbook.ui.desk import Desk
from logbook.wording.cautions import CautionFacts
from logbook.wording.emergency import emergency_word
from logbook.wording.next_steps import own_plan_text, step_text
from logbook.wording.numbers import glucose_text
from logbook.wording.terms import state_text

# How far back the check just before is looked for; the table asks for nothing older.
_BEFORE = 5


@dataclass(frozen=True, slots=True)
class NextStep:
    """The state in words and shape, what it is held against, what to do, and the cautions below.

    `own_plan` is the person's own text, which stands above what to do. `tests_again` asks for a
    button that begins the same check once more, `asks_unwell` for one that says "I feel unwell".
    `doubts_high` tells that the next check of this time tests a surprising high again, `is_calm`
    that there is nothing to do, `says_call` that it says already whom to call.
    """

    state: State
    state_words: str
    against: str
    own_plan: str
    to_do: str
    cautions: tuple[str, ...]
    tests_again: bool
    asks_unwell: bool
    doubts_high: bool
    is_calm: bool
    says_call: bool


def next_step(desk: Desk, reading: Reading, *, is_second_high: bool, is_low_over: bool) -> NextStep:
    """The words for a saved reading. The latest low has a page of its own.

    `is_second_high` says that it was tested again because the first number was surprisingly high,
    `is_low_over` that the page of the low does not hang on this one.
    """
    settings, targets = desk.book.settings, desk.book.targets()
    day = reading.at.day(settings.day_starts_at)
    state = state_of_reading(reading, day, targets, settings.very_high_above)
    target = targets.for_slot(reading.judged_slot, day)
    step = next_step_of(
        reading,
        state,
        target,
        is_second_high=is_second_high,
        previous=_check_before(desk, reading),
        settings=settings,
        ticks=desk.book.ticks(),
        day=day,
        is_low_over=is_low_over,
        fasts=is_fasting_month(desk.book.spells(), day),
    )
    facts = CautionFacts(
        emergency=emergency_word(settings.country, settings.emergency_number),
        value=glucose_text(reading.glucose),
    )
    text = step_text(step, reading, state, target, facts)
    return NextStep(
        state=state,
        state_words="" if state is State.NOT_JUDGED else state_text(state),
        against=text.where,
        own_plan="" if step.own_plan is None else own_plan_text(step.own_plan, settings),
        to_do=text.to_do,
        cautions=text.cautions,
        tests_again=step.tests_again,
        asks_unwell=step.asks_unwell and not is_unwell(reading),
        doubts_high=step.doubts_high,
        is_calm=step.is_calm,
        says_call=step.code is StepCode.CALL_NOW,
    )


def _check_before(desk: Desk, reading: Reading) -> Reading | None:
    """The check that counts just before this one."""
    found = desk.book.readings(newest_first=True, limit=_BEFORE, older_than=reading.at)
    return next((one for one in found if one.counts), None)
