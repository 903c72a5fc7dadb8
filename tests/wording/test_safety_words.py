"""Next steps, the stages of a low, calls and ticks in words: plain, with units, and all there."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import pytest

from logbook.domain.answers import Said
from logbook.domain.call_reasons import CallReason, Urgency
from logbook.domain.calls import Call, ListedCall
from logbook.domain.glucose import Unit
from logbook.domain.low_course import LowCourse, Stage
from logbook.domain.next_steps import OwnPlan, Step, StepCode
from logbook.domain.readings import Reading
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Slot
from logbook.domain.states import State
from logbook.domain.targets import Limit, Limits, Operator, Target, TargetKind
from logbook.domain.ticks import ABOUT_MEDICINES, FOOLS_THE_A1C, FOOLS_THE_METER, About, Told
from logbook.wording import calls as call_words
from logbook.wording import low_course as low_words
from logbook.wording import next_steps as step_words
from logbook.wording import ticks as tick_words
from logbook.wording.cautions import CautionFacts
from logbook.wording.manner import Manner, set_manner
from tests.domain.series_of import moment, range_target, reading
from tests.wording.plain_words import faults
from tests.wording.reading_age import HIGHEST_GRADE, grade

_FACTS = CautionFacts("911", "Anna")
_NOW = moment("2026-03-05 12:10")


@pytest.fixture(autouse=True)
def _clock_of_24_hours() -> None:
    set_manner(Manner("en_US", hours_24=True))


# --- next steps -----------------------------------------------------------------------------------


def _words(shown: str, slot: Slot, code: StepCode, state: State, target: Target | None) -> str:
    made = reading("2026-03-05 12:00", shown, slot)
    text = step_words.step_text(Step(code), made, state, target, _FACTS)
    return f"{text.where} {text.to_do}".strip()


class TestNextSteps:
    def test_a_little_above(self) -> None:
        target = range_target(TargetKind.FASTING, 80, 130)
        words = _words(
            "142", Slot.FASTING, StepCode.NOTHING_LITTLE_ABOVE, State.ABOVE_TARGET, target
        )
        assert words == "A little above your target of 80 to 130 mg/dL. Nothing to do now."

    def test_below_at_bedtime(self) -> None:
        target = range_target(TargetKind.BEDTIME, 150, 250)
        words = _words(
            "118", Slot.BEDTIME, StepCode.FOLLOW_BEDTIME_PLAN, State.BELOW_TARGET, target
        )
        assert words == (
            "Not low, but below your bedtime target of 150 to 250 mg/dL. Follow your bedtime plan."
        )

    def test_a_target_with_one_limit(self) -> None:
        target = range_target(TargetKind.AFTER_MEALS, 80, 180)
        limits = Limits(Unit.MG_DL, None, Limit(Operator.BELOW, 180))
        words = _words(
            "210",
            Slot.AFTER_LUNCH,
            StepCode.NOTHING_ABOVE,
            State.ABOVE_TARGET,
            replace(target, printed=(limits,)),
        )
        assert words == "Above your target (below 180 mg/dL). Nothing to do now."

    @pytest.mark.parametrize("code", list(StepCode))
    @pytest.mark.parametrize("state", list(State))
    def test_every_step_is_plain(self, code: StepCode, state: State) -> None:
        target = range_target(TargetKind.BEDTIME, 80, 130)
        words = _words("142", Slot.BEDTIME, code, state, target)
        if words:
            assert list(faults(words)) == []
            assert grade(words) <= HIGHEST_GRADE
        # What to do in a low is said by its own page.
        is_low_page = code in (StepCode.TREAT_LOW, StepCode.TREAT_VERY_LOW)
        made = reading("2026-03-05 12:00", "142")
        assert (step_words.step_text(Step(code), made, state, target).to_do == "") is is_low_page

    def test_the_own_plan_in_its_own_words(self) -> None:
        settings = LogSettings(low_plan="4 sweets.", high_plan="Walk.", sick_day_plan="Soup.")
        told = [step_words.own_plan_text(plan, settings) for plan in OwnPlan]
        assert told == ["Your plan: 4 sweets.", "Your plan: Walk.", "Your plan: Soup."]
        assert step_words.own_plan_text(OwnPlan.LOW, LogSettings()) == ""


# --- the low --------------------------------------------------------------------------------------


def _course(stage: Stage, **others: object) -> LowCourse:
    low_at = datetime(2026, 3, 5, 12, 4, tzinfo=UTC)
    course = LowCourse(
        stage=stage,
        about="1",
        low_at=low_at,
        due_at=low_at + timedelta(minutes=15) if stage.is_open else None,
        times_low=1,
        is_very_low=False,
        is_unanswered=False,
        is_unanswered_noted=False,
        recovered_at=None if stage.is_open else low_at + timedelta(minutes=16),
        watch_due_at=None,
        asks_felt_coming=False,
        helped=False,
        signs=("1",),
    )
    return replace(course, **others)  # type: ignore[arg-type]


def _courses() -> Iterator[LowCourse]:
    for stage in Stage:
        watch = datetime(2026, 3, 5, 13, 20, tzinfo=UTC)
        yield _course(stage, watch_due_at=watch if stage is Stage.WATCHED else None)
        if stage.is_open:
            yield _course(stage, is_very_low=True)
            for times in (2, 3, 4, 5):
                yield _course(stage, times_low=times, is_unanswered=times == 3)


class TestLow:
    def test_the_first_words(self) -> None:
        text = low_words.course_text(_course(Stage.LOW), _NOW, _FACTS)
        assert text.title == "Take fast sugar now."
        assert text.steps[0] == "This is low. Sit down. Do not drive."
        assert text.steps[1].startswith("Take 15 grams of fast sugar now:")
        assert text.steps[2].startswith("Check again at 12:19.")

    def test_very_low_takes_the_sugar_first_then_phones(self) -> None:
        text = low_words.course_text(_course(Stage.LOW, is_very_low=True), _NOW, _FACTS)
        assert text.steps[0] == (
            "This is very low. Take the sugar first. Then phone Anna and stay on the line."
        )

    def test_second_third_and_after_three_treatments(self) -> None:
        told = [
            low_words.course_text(_course(Stage.STILL_LOW, times_low=times), _NOW, _FACTS).steps[0]
            for times in (2, 3, 4)
        ]
        assert "a second time" in told[0]
        assert "a third time" in told[1]
        assert told[2] == "Still low after 3 treatments. Call 911 now."

    def test_acarbose_and_a_computer_that_cannot_ring(self) -> None:
        text = low_words.course_text(
            _course(Stage.LOW), _NOW, _FACTS, only_glucose=True, can_ring=False
        )
        assert "half a cup of juice" not in " ".join(text.steps)
        assert text.steps[-1].startswith("This computer cannot ring.")

    def test_due_and_unanswered(self) -> None:
        late = moment("2026-03-05 12:30")
        text = low_words.course_text(_course(Stage.RECHECK, is_unanswered=True), late, _FACTS)
        assert text.title == "Check again now."
        assert text.steps[0] == "The check is late. Check now. If you feel worse, phone Anna."

    def test_watched(self) -> None:
        watch = datetime(2026, 3, 5, 13, 20, tzinfo=UTC)
        course = _course(Stage.WATCHED, watch_due_at=watch)
        before = low_words.watch_text(course, moment("2026-03-05 13:10"))
        assert before == "Check once more at 13:20, because of the low at 12:04."
        due = low_words.watch_text(course, moment("2026-03-05 13:20"))
        assert due == "Check once more now. You had a low at 12:04."
        assert low_words.watch_text(_course(Stage.OVER), _NOW) == ""

    @pytest.mark.parametrize("course", list(_courses()), ids=lambda course: str(course.stage))
    def test_every_stage_is_plain(self, course: LowCourse) -> None:
        for now in (_NOW, moment("2026-03-05 14:00")):
            text = low_words.course_text(course, now, _FACTS, can_ring=False)
            for words in (text.title, *text.steps):
                assert list(faults(words)) == []
                assert grade(words) <= HIGHEST_GRADE


# --- calls ----------------------------------------------------------------------------------------


def _call(reason: CallReason, count: int) -> Call:
    return Call(reason, datetime(2026, 3, 4, 10, 0, tzinfo=UTC), "1", ("1",), count)


class TestCalls:
    @pytest.mark.parametrize("unit", list(Unit))
    @pytest.mark.parametrize("count", [1, 2, 5])
    @pytest.mark.parametrize("reason", list(CallReason))
    def test_every_line_is_plain(self, reason: CallReason, count: int, unit: Unit) -> None:
        line = call_words.call_line(_call(reason, count), unit, date(2026, 3, 5))
        assert list(faults(line)) == []
        assert "{" not in line
        assert re.match(r"Call your provider (now, day or night|today|this week)\. ", line)
        # A limit stands with its unit, in the unit of the log.
        limits = re.findall(r"\b(?:250|300|13\.9|16\.7)\b(?: (\S+))?", line)
        assert all(one == unit.value for one in limits)
        assert bool(limits) == (reason in (CallReason.HIGH_WHILE_ILL, CallReason.HIGH_TWO_DAYS))

    def test_for_page_one(self) -> None:
        call = _call(CallReason.VERY_LOW, 2)
        told = [
            call_words.listed_call_text(ListedCall(call, said, None), Unit.MG_DL)
            for said in (Said.YES, Said.LATER, None)
        ]
        assert told == [
            "2 lows that were very low (Mar 4): called",
            "2 lows that were very low (Mar 4): put off",
            "2 lows that were very low (Mar 4): not called yet",
        ]

    def test_near_lows_name_the_times_of_day(self) -> None:
        line = call_words.call_text(_call(CallReason.NEAR_LOWS, 3), Unit.MG_DL)
        assert line == "3 numbers close to low, before breakfast, at bedtime or at night"

    def test_they_are_read_at_eleven(self) -> None:
        # All together: the formula says little about a sentence of four words.
        whole = " ".join(
            call_words.call_line(_call(reason, 2), Unit.MG_DL, date(2026, 3, 5))
            for reason in CallReason
        )
        assert {urgency for urgency in Urgency if call_words.urgency_text(urgency) in whole} == {
            *Urgency
        }
        assert grade(whole) <= HIGHEST_GRADE


# --- ticks ----------------------------------------------------------------------------------------


class TestTicks:
    @pytest.mark.parametrize("about", list(About))
    def test_everything_asked_has_a_question_and_a_name(self, about: About) -> None:
        question = tick_words.about_question(about)
        assert list(faults(question)) == []
        assert question.endswith("?")
        name = tick_words.about_name(about)
        assert name
        assert name[0].isupper()
        if help_text := tick_words.about_help(about):
            assert list(faults(help_text)) == []

    def test_only_what_changes_a_number_has_an_effect(self) -> None:
        fools = {about for about in About if tick_words.tick_effect(about)}
        assert fools == {*FOOLS_THE_METER, *FOOLS_THE_A1C}

    # Haematocrit: PMC3208875, read at the journal. Icodextrin: FDA notice of 2009, in a copy.
    def test_which_way_it_reads(self) -> None:
        assert tick_words.tick_note(About.ANAEMIA) == (
            "Anaemia or blood loss (reads high, can hide a low)"
        )
        assert "reads low" in tick_words.tick_note(About.THICK_BLOOD)
        assert "too high" in tick_words.tick_note(About.ICODEXTRIN)
        assert tick_words.tick_effect(About.IRON_DEFICIENCY) == "A1C falsely high"

    def test_not_sure_is_said(self) -> None:
        note = tick_words.tick_note(About.ANAEMIA, Told.NOT_SURE)
        assert note.startswith("Anaemia or blood loss, not sure (")
        told = [tick_words.told_text(told) for told in (*Told, None)]
        assert told == ["Yes", "No", "Not sure", "Not answered"]

    def test_groups(self) -> None:
        groups = (ABOUT_MEDICINES, FOOLS_THE_METER, FOOLS_THE_A1C)
        assert len({tick_words.about_group_text(group) for group in groups}) == len(groups)


def test_a_reading_shows_its_unit_when_it_surprises() -> None:
    made: Reading = reading("2026-03-05 12:00", "318")
    text = step_words.step_text(Step(StepCode.TEST_AGAIN), made, State.VERY_HIGH, None)
    assert text.to_do.startswith("318 mg/dL is high.")
