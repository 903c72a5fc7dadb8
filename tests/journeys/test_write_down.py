"""What a person does on *Write down*, with the number of clicks it may cost at most."""

from __future__ import annotations

from datetime import datetime, time, timedelta
from pathlib import Path
from uuid import UUID

import pytest
from pytestqt.qtbot import QtBot

from logbook.domain.answers import Asked, Said
from logbook.domain.glucose import Glucose, Unit
from logbook.domain.happenings import StripFailure, What
from logbook.domain.plan.plans import CheckPlan, PlannedCheck
from logbook.domain.readings import Doubt
from logbook.domain.sites import Hand, Place, Side, Site, SiteUse
from logbook.domain.slots import Purpose, Slot
from logbook.domain.spells import SpellKind
from logbook.domain.ticks import About, Told, can_have_lows
from tests.ui.writing_window import NOON, Writer, habit, tell_lows, writing_window

MORNING = NOON.replace(hour=11)  # 7:04 in New York


def test_fasting_as_suggested_costs_5_clicks(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, now=MORNING) as person:
        person.press("1", "1", "2", "I used this finger", "Save 112 mg/dL")

        (reading,) = person.readings
        assert person.clicks == 5
        assert reading.glucose == Glucose.number(112, Unit.MG_DL)
        assert reading.slot is Slot.FASTING
        assert reading.site_use is SiteUse.USED
        assert reading.at.instant == MORNING
        assert "112 mg/dL" in person.words()


def test_the_finger_is_only_suggested_when_nobody_said_it_was_used(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with writing_window(tmp_path) as person:
        person.press("1", "1", "2", "Save 112 mg/dL")
        assert person.readings[0].site_use is SiteUse.SUGGESTED


@pytest.mark.parametrize(("keys", "clicks"), [("7.1", 5), ("10.4", 6)])
def test_mmol_costs_5_clicks_and_6_from_ten_up(
    qtbot: QtBot, tmp_path: Path, keys: str, clicks: int
) -> None:
    with writing_window(tmp_path, unit=Unit.MMOL_L, now=MORNING) as person:
        for character in keys:
            person.press("Point" if character == "." else character)
        person.press("I used this finger", f"Save {keys} mmol/L")

        assert person.clicks == clicks
        assert person.readings[0].glucose == Glucose.parse(keys, Unit.MMOL_L)


def test_after_a_meal_with_minutes_costs_6_clicks(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        person.press("1", "6", "0", "After breakfast", "1½ hours", "Save 160 mg/dL")

        assert person.clicks == 6
        assert person.readings[0].slot is Slot.AFTER_BREAKFAST
        assert person.readings[0].minutes_after == 90


def test_three_hours_after_a_meal_is_between_meals(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        person.press("1", "6", "0", "After breakfast", "3 or more", "Save 160 mg/dL")
        assert person.readings[0].slot is Slot.BETWEEN_MEALS
        assert person.readings[0].minutes_after is None


def test_after_a_meal_with_another_finger_costs_8_clicks(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        person.press("1", "6", "0", "After lunch")  # two hours is chosen beforehand
        person.press("Another finger", "Right ring finger", "Thumb side", "Save 160 mg/dL")

        (reading,) = person.readings
        assert person.clicks == 8
        assert reading.minutes_after == 120
        assert reading.site == Site(Hand.RIGHT, Place.RING, Side.THUMB_SIDE)
        assert reading.site_use is SiteUse.USED


def test_yesterday_costs_7_clicks(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        person.press("1", "6", "0", "Yesterday", "7:00 PM", "Bedtime", "Save 160 mg/dL")

        (reading,) = person.readings
        assert person.clicks == 7
        assert reading.at.wall == datetime(2026, 3, 30, 19)
        assert reading.written_at == NOON
        # The advice of today says nothing about yesterday's finger.
        assert reading.site_use is SiteUse.NOT_NOTED


@pytest.mark.parametrize(
    ("typed", "wall"),
    [("7.30", (7, 30)), ("7:30 pm", (19, 30)), ("0730", (7, 30)), ("19:05", (19, 5))],
)
def test_an_exact_time_can_be_typed(
    qtbot: QtBot, tmp_path: Path, typed: str, wall: tuple[int, int]
) -> None:
    with writing_window(tmp_path) as person:
        person.press("1", "6", "0", "Yesterday")
        person.fill(person.page.filling.when_step.typed_text, typed)
        person.press("Use what I typed")
        if typed == "7.30":  # morning or evening: asked, never guessed
            person.press("7:30 AM")
        person.press("Save 160 mg/dL")
        at = person.readings[0].at.wall
        assert (at.hour, at.minute) == wall


def test_another_day_by_its_name(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        person.press("1", "6", "0", "Another day", "Friday, March 27", "7:00 AM", "Save 160 mg/dL")
        assert person.readings[0].at.wall == datetime(2026, 3, 27, 7)


def test_the_keyboard_alone_needs_7_keys(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, now=MORNING) as person:
        person.type("112 Tab Space Enter Enter")

        assert person.keys == 7
        assert person.readings[0].glucose == Glucose.number(112, Unit.MG_DL)
        assert person.readings[0].site_use is SiteUse.USED


# --- lows ---------------------------------------------------------------------------------------


def test_a_low_costs_3_clicks_to_the_sugar(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        person.press("6", "2", "Save 62 mg/dL")

        assert person.clicks == 3
        assert person.readings[0].glucose == Glucose.number(62, Unit.MG_DL)
        assert "15 grams of fast sugar" in person.words()
        assert "Check again at 12:19 PM" in person.words()


def test_a_low_in_mmol_costs_4_clicks(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, unit=Unit.MMOL_L) as person:
        person.press("3", "Point", "2", "Save 3.2 mmol/L")
        assert person.clicks == 4
        assert "15 grams of fast sugar" in person.words()


def test_lo_costs_2_clicks_and_is_never_questioned(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, prepare=habit) as person:
        person.press("Meter shows LO", "Save LO")

        assert person.clicks == 2
        assert person.readings[-1].glucose == Glucose.reads_low(Unit.MG_DL)
        assert "give nothing by mouth" in person.words()
        assert "911" in person.words()


def test_hi_costs_2_clicks_and_asks_once(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        person.press("Meter shows HI")
        assert "Did the display show the letters HI?" in person.words()
        person.press("Yes, save HI")

        assert person.clicks == 2
        assert person.readings[0].glucose == Glucose.reads_high(Unit.MG_DL)
        assert "test again with a new strip" in person.words()
        person.press("I tested again", "Meter shows HI", "Yes, save HI")
        assert person.readings[1].purpose is Purpose.REPEAT
        assert "Call your provider now, day or night." in person.words()


def test_of_two_numbers_far_apart_one_is_believed_and_the_other_stays(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with writing_window(tmp_path) as person:
        person.press("3", "1", "8", "Save 318 mg/dL", "I tested again")
        person.pass_time(minutes=6)
        person.press("1", "8", "2", "Save 182 mg/dL")
        assert "Which number do you believe?" in person.words()
        person.press("182 mg/dL, at 12:10 PM")

        first, again = person.readings
        assert (first.doubt, again.doubt) == (Doubt.UNWASHED_FINGER, None)
        assert "182 mg/dL" in person.words()
        assert person.message == "318 mg/dL stays in the log, outside every figure."
        person.press("Undo: doubt about 318 mg/dL at 12:04 PM")
        assert person.readings[0].doubt is None


def test_a_first_number_that_is_believed_brings_the_caution(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        person.press("3", "1", "8", "Save 318 mg/dL", "I tested again")
        person.pass_time(minutes=6)
        person.press("1", "8", "2", "Save 182 mg/dL", "318 mg/dL, at 12:04 PM")
        first, again = person.readings
        assert (first.doubt, again.doubt) == (None, Doubt.OTHER)
        assert "318 mg/dL" in person.words()
        assert "Do not take extra medicine unless your written plan says so." in person.words()
        assert not person.page.result_step.again.isVisible()


def test_both_numbers_can_be_believed(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        person.press("3", "1", "8", "Save 318 mg/dL", "I tested again")
        person.press("1", "8", "2", "Save 182 mg/dL", "Both of them")
        assert [one.doubt for one in person.readings] == [None, None]
        assert "182 mg/dL" in person.words()


@pytest.mark.parametrize("again", ["318", "300", "255", "381"])
def test_two_numbers_that_are_near_ask_nothing(qtbot: QtBot, tmp_path: Path, again: str) -> None:
    with writing_window(tmp_path) as person:
        person.press("3", "1", "8", "Save 318 mg/dL", "I tested again")
        person.type(again)
        person.press(f"Save {again} mg/dL")
        assert person.page.step is person.page.result_step


def test_the_question_goes_when_the_number_is_taken_back(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        person.press("3", "1", "8", "Save 318 mg/dL", "I tested again")
        person.press("1", "8", "2", "Save 182 mg/dL", "Undo: 182 mg/dL at 12:04 PM")
        assert person.page.form.isVisible()
        assert len(person.readings) == 1


def test_felt_low_without_a_number_costs_2_clicks(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        person.press("Something happened", "Felt low and treated it")

        assert person.clicks == 2
        (happening,) = person.book.happenings()
        assert happening.what is What.FELT_LOW_TREATED
        assert "Check again at 12:19 PM" in person.words()


def test_the_recheck_stays_until_it_is_answered_and_is_linked(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        person.press("6", "2", "Save 62 mg/dL")
    # A restart changes nothing: the log tells what is due.
    later = NOON + timedelta(minutes=16)
    with writing_window(tmp_path, now=later) as person:
        assert "Check again now." in person.words()
        person.press("I checked again", "9", "5", "Save 95 mg/dL")

        low, recheck = person.readings
        assert recheck.purpose is Purpose.RECHECK
        assert recheck.recheck_of == low.id
        assert "The low is over." in person.words()
        person.press("No")
        (answer,) = person.book.answers([low.id])
        assert (answer.asked, answer.said) == (Asked.FELT_LOW_COMING, Said.NO)


def test_still_low_asks_for_the_same_sugar_again_and_then_for_help(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with writing_window(tmp_path) as person:
        person.press("6", "2", "Save 62 mg/dL")
        for treated in ("second", "third"):
            person.pass_time(minutes=15)
            person.press("I checked again", "6", "4", "Save 64 mg/dL")
            assert f"Take the same sugar a {treated} time." in person.words()
        person.pass_time(minutes=15)
        person.press("I checked again", "6", "6", "Save 66 mg/dL")
        assert "Still low after 3 treatments. Call 911 now." in person.words()


def test_a_recheck_that_will_not_be_made_is_kept_as_an_answer(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        person.press("6", "2", "Save 62 mg/dL", "I will not check again")

        (answer,) = person.book.answers()
        assert (answer.asked, answer.said) == (Asked.RECHECK_DUE, Said.NO)
        assert "What does the meter show?" in person.words()


def test_nobody_answers_for_10_minutes(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        person.press("6", "2", "Save 62 mg/dL")
        person.pass_time(minutes=26)
        person.pass_time(minutes=5)

        (answer,) = person.book.answers()
        assert answer.said is Said.NOT_ANSWERED
        assert "Check again now." in person.words()


def test_a_doubt_about_a_low_is_one_quiet_line_with_a_button(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, prepare=habit) as person:
        person.press("1", "2", "Save 12 mg/dL")
        assert "15 grams of fast sugar" in person.words()
        assert "Your numbers of the last 90 days were" in person.words()
        person.press("It was 120 mg/dL")

        reading = person.readings[-1]
        assert reading.glucose == Glucose.number(120, Unit.MG_DL)
        assert reading.earlier[0].glucose == Glucose.number(12, Unit.MG_DL)
        assert "15 grams" not in person.words()


# --- what else happened -------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("button", "way"),
    [
        ("New strip, same drop", StripFailure.SAME_DROP),
        ("The meter showed a fault", StripFailure.ERROR_SHOWN),
    ],
)
def test_a_strip_failed(qtbot: QtBot, tmp_path: Path, button: str, way: StripFailure) -> None:
    with writing_window(tmp_path) as person:
        person.press("Something happened", "A strip failed", button)
        (happening,) = person.book.happenings()
        assert (happening.what, happening.strip_failure) == (What.STRIP_FAILED, way)
        assert happening.site is None


def test_who_pricked_again_is_asked_for_the_finger(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        person.press("Something happened", "A strip failed", "Pricked again")
        assert "Which finger did you prick again?" in person.words()
        hands = person.page.happening.finger_step.hands
        person.click(hands.buttons[Hand.LEFT, Place.RING])
        person.press("Go back")
        person.click(hands.buttons[Hand.LEFT, Place.MIDDLE])
        person.press("Thumb side")
        (happening,) = person.book.happenings()
        assert happening.strip_failure is StripFailure.PRICKED_AGAIN
        assert happening.site == Site(Hand.LEFT, Place.MIDDLE, Side.THUMB_SIDE)


def test_the_finger_that_was_pricked_again_need_not_be_known(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        person.press("Something happened", "A strip failed", "Pricked again", "I do not know")
        (happening,) = person.book.happenings()
        assert (happening.strip_failure, happening.site) == (StripFailure.PRICKED_AGAIN, None)


def test_ill_today_costs_2_clicks_and_goes_on_until_told(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        person.press("Something happened", "I am ill today")
        assert person.clicks == 2
        (spell,) = person.book.spells()
        assert (spell.kind, spell.last) == (SpellKind.ILL, None)
        assert "Keep drinking small sips." in person.words()


def test_vomiting_says_when_to_call(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        person.press("Something happened", "Vomiting, or cannot eat or drink")
        (happening,) = person.book.happenings()
        assert happening.what is What.CANNOT_EAT_OR_DRINK
        assert "Call your provider now if you vomit or cannot eat." in person.words()


def test_a_fall_yesterday(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        person.press("Something happened", "Yesterday", "8:00 AM", "A fall")
        (happening,) = person.book.happenings()
        assert happening.what is What.FALL
        assert happening.at.wall == datetime(2026, 3, 30, 8)


def test_help_during_a_low_belongs_to_it(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        person.press("4", "4", "Save 44 mg/dL", "Something happened", "Someone had to help")
        (happening,) = person.book.happenings()
        assert happening.about == person.readings[0].id
        assert "Check again at" in person.words()


# --- doubts, undo, more -------------------------------------------------------------------------


def test_an_impossible_number_is_refused_in_words_and_stays(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        person.press("1", "2", "0", "0", "Save 1200 mg/dL")
        assert person.readings == []
        assert "outside what is possible" in person.message
        assert person.page.form.keypad.display.text == "1200"
        person.press("Back")
        assert person.message == ""


def test_a_doubt_is_asked_once(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, prepare=habit) as person:
        count = len(person.readings)
        person.press("4", "2", "0", "Save 420 mg/dL")
        assert "Is this what the meter shows?" in person.words()
        assert len(person.readings) == count
        person.press("Yes, save 420 mg/dL")
        assert len(person.readings) == count + 1


def test_undo_and_put_back_name_what_they_do(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        person.press("1", "2", "8", "Save 128 mg/dL", "Undo: 128 mg/dL at 12:04 PM")
        assert person.readings == []
        assert person.message == "Taken back: 128 mg/dL at 12:04 PM."
        assert "What does the meter show?" in person.words()
        person.press("Put back: 128 mg/dL at 12:04 PM")
        assert len(person.readings) == 1


def test_more_is_kept_with_the_reading(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, size=(1280, 1100)) as person:
        person.press("1", "2", "8", "More …", "Shaky", "Ate late", "Could not wash")
        assert "Wipe the first drop away" in person.words()
        person.page.filling.more_step.note.setPlainText("  birthday  ")
        person.press("Back to the number", "Save 128 mg/dL")

        (reading,) = person.readings
        assert [one.value for one in reading.feelings] == ["shaky"]
        assert [one.value for one in reading.differences] == ["ate_late"]
        assert reading.could_not_wash
        assert reading.note == "birthday"


def test_the_state_is_told_in_words_with_one_next_step(qtbot: QtBot, tmp_path: Path) -> None:
    from datetime import date
    from uuid import uuid4

    from logbook.book import Book
    from logbook.domain.targets import Limit, Limits, Operator, SetBy, Target, TargetKind

    def agree(book: Book) -> None:
        limits = Limits(Unit.MG_DL, Limit(Operator.AT_LEAST, 80), Limit(Operator.AT_MOST, 130))
        kind, day = TargetKind.BEFORE_MEALS, date(2026, 1, 1)
        book.add(Target(uuid4(), kind, (limits,), day, SetBy.PROVIDER))

    expected = {
        "128": ("In target", "Nothing to do now."),
        "131": ("Above target", "Nothing to do now."),
        "79": ("Below target, not low", "Follow the plan"),
        "318": ("Very high", "Wash and dry your hands, then test again."),
    }
    with writing_window(tmp_path, prepare=agree) as person:
        for number, words in expected.items():
            person.press(*number, "Before lunch", f"Save {number} mg/dL")
            for word in words:
                assert word in person.words()
            person.press("Write down another")


# --- first start --------------------------------------------------------------------------------


def test_three_pages_come_before_the_first_reading(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, country="") as person:
        person.press("United Kingdom")
        assert "Emergency number there: 999." in person.words()
        person.press("Go on", "7.1 mmol/L", "Go on", "Start writing down")
        assert person.message == "Answer both questions first. Not sure is an answer too."
        tell_lows(person, Told.NOT_SURE, Told.NO)
        person.press("Start writing down")

        settings = person.book.settings
        assert (settings.country, settings.unit) == ("GB", Unit.MMOL_L)
        told = {(one.about, one.told, one.holds_from) for one in person.book.ticks().all}
        today = NOON.date()
        assert told == {
            (About.INSULIN, Told.NOT_SURE, today),
            (About.LOW_CAUSING_TABLETS, Told.NO, today),
        }
        assert can_have_lows(person.book.ticks(), settings, today) is None
        assert "What does the meter show?" in person.words()
        person.press("7", "Point", "1", "Save 7.1 mmol/L")
        assert len(person.readings) == 1


# --- drafts and the clock -----------------------------------------------------------------------


def test_what_was_typed_is_there_again_and_now_is_asked(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        person.press("1", "2", "8", "After lunch")
        file = person.page.filling.file
        qtbot.waitUntil(file.path.exists, timeout=1_000)
        assert file.path.stat().st_mode & 0o777 == 0o600
    with writing_window(tmp_path, now=NOON + timedelta(hours=3)) as person:
        assert "still here" in person.message
        assert person.page.form.keypad.display.text == "128"
        person.press("Save 128 mg/dL")
        assert person.readings == []
        assert "When was it?" in person.message
        person.press("Now, 3:04 PM", "Save 128 mg/dL")
        assert person.readings[0].slot is Slot.AFTER_LUNCH
        assert not person.page.filling.file.path.exists()


def test_now_is_asked_again_when_the_first_figure_is_old(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        person.press("1", "2", "8")
        person.pass_time(minutes=11)
        person.press("Save 128 mg/dL")
        assert person.readings == []
        person.press("Now, 12:15 PM", "Save 128 mg/dL")
        assert person.readings[0].at.instant == NOON + timedelta(minutes=11)


def test_an_old_low_is_saved_all_the_same(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        person.press("6", "2")
        person.pass_time(minutes=30)
        person.press("Save 62 mg/dL")
        assert len(person.readings) == 1


def test_rest_days_and_the_sentence_follow_the_persons_day(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, prepare=habit) as person:
        assert "Before lunch: usually about 12:00 PM." in person.words()
        rested = _rest_days(person)
        person.pass_time(hours=19)  # 7:04 the next morning
        assert "Before breakfast: usually about 7:00 AM." in person.words()
        assert _rest_days(person) == rested + 1


def _rest_days(person: Writer) -> int:
    days = person.page.filling.news.fingers.advice.days
    assert days is not None
    return days


def test_closing_during_a_low_says_that_nothing_will_ring(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        assert not person.window.stays_to_say()
        person.press("6", "2", "Save 62 mg/dL")
        assert person.window.stays_to_say()
        assert "Set your kitchen timer for 15 minutes." in person.message
        assert not person.window.stays_to_say()  # the second time it closes


# --- the plan -------------------------------------------------------------------------------------


def plan_of(*checks: PlannedCheck) -> CheckPlan:
    return CheckPlan(UUID(int=7), NOON.date() - timedelta(days=9), checks, NOON)


def test_what_is_due_by_the_plan_is_put_aside_in_1_click(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        person.book.add(plan_of(PlannedCheck(Slot.BEFORE_LUNCH, time(12, 0))))
        assert person.page.filling.draft.slot is Slot.BEFORE_LUNCH
        person.clicks = 0
        person.press("Not today")

        assert person.clicks == 1
        (aside,) = person.book.put_asides()
        assert aside.slot is Slot.BEFORE_LUNCH
        assert "Not asked again today" in person.message
        slot_now: Slot | None = person.page.filling.draft.slot
        assert slot_now is None
        assert not person.page.form.way.isVisible()


def test_i_start_eating_now_moves_the_check_after_the_meal(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        person.book.add(plan_of(PlannedCheck(Slot.AFTER_LUNCH, time(14, 0), minutes_after=120)))
        person.clicks = 0
        person.press("I start eating now")

        assert person.clicks == 1
        (meal,) = person.book.meal_starts()
        assert meal.slot is Slot.AFTER_LUNCH
        assert "Check at" in person.message
        person.pass_time(minutes=115)
        person.page.refresh(None)
        assert person.page.filling.draft.slot is Slot.AFTER_LUNCH


def test_a_meal_without_a_planned_check_is_begun_under_something_happened(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with writing_window(tmp_path) as person:
        assert not person.page.form.way.isVisible()
        person.press("Something happened", "I start eating now")
        (meal,) = person.book.meal_starts()
        assert meal.slot is Slot.AFTER_LUNCH
        assert person.page.step is person.page.form
        assert "Check at" in person.message
