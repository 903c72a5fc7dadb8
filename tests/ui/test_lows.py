"""The page of a low in a real window: what it says, when it comes, rings and fills the screen."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from uuid import uuid4

import pytest
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from logbook.book import Book
from logbook.domain.answers import Asked, Said
from logbook.domain.glucose import Glucose, Unit
from logbook.domain.happenings import What
from logbook.domain.readings import Doubt
from logbook.domain.sites import Hand, Place, Site, SiteUse
from logbook.domain.slots import Purpose, Slot
from logbook.domain.ticks import About, Tick, Told
from logbook.domain.visits import Contact
from logbook.ui.pages.help import Help
from logbook.ui.theme import NUMBER
from tests.ui.test_ring import player
from tests.ui.writing_window import NOON, Writer, writing_window

CANNOT_RING = "This computer cannot ring. Set your kitchen timer for 15 minutes."
SUGAR = "Take 15 grams of fast sugar now"


def low(person: Writer, number: str = "62") -> None:
    person.press(*number, f"Save {number} mg/dL")


def recheck(person: Writer, number: str) -> None:
    person.press("I checked again", *number, f"Save {number} mg/dL")


def knows_anna(book: Book) -> None:
    book.add(Contact(uuid4(), "person", "Anna", "555 0142"))


def ticked(*abouts: About, told: Told = Told.YES) -> Callable[[Book], None]:
    def tick(book: Book) -> None:
        day, written = date(2026, 1, 1), datetime(2026, 1, 1, tzinfo=UTC)
        book.add(*(Tick(uuid4(), about, told, day, written) for about in abouts))

    return tick


def is_low_page(person: Writer) -> bool:
    return person.page.step is person.page.low_step and person.page.low_step.isVisible()


# --- what it says ---------------------------------------------------------------------------------


def test_the_persons_own_plan_stands_above_the_usual_steps(qtbot: QtBot, tmp_path: Path) -> None:
    def own(book: Book) -> None:
        book.save_settings(replace(book.settings, low_plan="Three glucose tablets."))

    with writing_window(tmp_path, prepare=own) as person:
        low(person)
        step = person.page.low_step
        assert step.own_plan.text() == "Your plan: Three glucose tablets."
        above = step.own_plan.mapTo(person.window, step.own_plan.rect().topLeft()).y()
        first = step.steps[0]
        assert first.text() == "This is low. Sit down. Do not drive."
        assert above < first.mapTo(person.window, first.rect().topLeft()).y()


@pytest.mark.parametrize("told", [Told.YES, Told.NOT_SURE])
def test_with_acarbose_only_glucose_is_named(qtbot: QtBot, tmp_path: Path, told: Told) -> None:
    with writing_window(tmp_path, prepare=ticked(About.SLOWS_SUGAR, told=told)) as person:
        low(person)
        assert "glucose tablets or glucose gel" in person.words()
        assert "half a cup of juice" not in person.words()


@pytest.mark.parametrize("keys", [("4", "4", "Save 44 mg/dL"), ("Meter shows LO", "Save LO")])
def test_very_low_names_the_person_and_the_number_to_phone(
    qtbot: QtBot, tmp_path: Path, keys: tuple[str, ...]
) -> None:
    with writing_window(tmp_path, prepare=knows_anna) as person:
        person.press(*keys)
        words = person.words()
        assert "Take the sugar first. Then phone Anna and stay on the line." in words
        assert "555 0142" in words
        assert "give nothing by mouth. Use glucagon if you have it. Call 911." in words


def test_after_three_treatments_the_emergency_number_is_large(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, prepare=knows_anna) as person:
        low(person)
        for _treatment in range(3):
            person.pass_time(minutes=15)
            recheck(person, "64")
        step = person.page.low_step
        assert step.title.text() == "Call 911 now."
        assert (step.phone.text(), step.phone.points) == ("911", NUMBER)
        assert SUGAR not in person.words()


def test_where_no_emergency_number_is_known_no_words_stand_in_its_place(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with writing_window(tmp_path, country="ZZ") as person:
        low(person)
        for _treatment in range(3):
            person.pass_time(minutes=15)
            recheck(person, "64")
        assert person.page.low_step.title.text() == "Call the emergency number now."
        assert not person.page.low_step.phone.isVisible()


@pytest.mark.parametrize("percent", [100, 200])
@pytest.mark.parametrize("number", ["62", "44"])
def test_what_to_do_now_is_in_sight_without_scrolling(
    qtbot: QtBot, tmp_path: Path, percent: int, number: str
) -> None:
    with writing_window(tmp_path, percent=percent, prepare=knows_anna) as person:
        person.type(number)
        person.press(f"Save {number} mg/dL")
        step, area = person.page.low_step, person.page.scrolled.area.viewport()
        wanted: list[QWidget] = [step.title, next(one for one in step.steps if SUGAR in one.text())]
        if percent == 100:
            wanted.append(step.happened)
        for part in wanted:
            top = part.mapTo(area, part.rect().topLeft()).y()
            # In large text the sugar begins in sight; all of it does at the usual size.
            seen = part.height() if percent == 100 else part.fontMetrics().height()
            assert 0 <= top <= area.height() - seen, part


# --- sound ----------------------------------------------------------------------------------------


def test_without_a_sound_every_page_of_it_and_closing_name_the_kitchen_timer(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with writing_window(tmp_path) as person:
        low(person)
        assert CANNOT_RING in person.words()
        person.pass_time(minutes=6)
        assert CANNOT_RING in person.words()
        person.pass_time(minutes=9)
        recheck(person, "64")
        assert CANNOT_RING in person.words()
        assert person.window.stays_to_say()
        assert CANNOT_RING in person.message


def test_who_heard_the_sound_is_told_nothing_of_a_timer(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, heard_ring=True, player=player(tmp_path, 0)) as person:
        low(person)
        assert CANNOT_RING not in person.words()
        assert not person.window.stays_to_say()


def rings(folder: Path) -> list[str]:
    played = folder / "played.txt"
    return (
        [line.rpartition("/")[2] for line in played.read_text().splitlines()]
        if (played.exists())
        else []
    )


def test_it_rings_until_it_is_answered_and_grows_loud(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, player=player(tmp_path, 0)) as person:
        low(person)
        person.pass_time(minutes=14)
        assert rings(tmp_path) == []
        ended = person.page.low.ring.ended
        heard: list[str] = []
        for minutes, name in ((1, "ring.wav"), (1 / 3, "ring.wav"), (10, "ring_loud.wav")):
            with qtbot.waitSignal(ended):
                person.pass_time(minutes=minutes)
            heard.append(name)
            assert rings(tmp_path) == heard
        person.pass_time(seconds=5)
        person.press("I checked again", "9", "5", "Save 95 mg/dL")
        person.pass_time(minutes=1)
        assert rings(tmp_path) == heard


def test_a_touch_stops_the_sound_at_once(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, player=player(tmp_path, 0, waits=True)) as person:
        low(person)
        person.pass_time(minutes=15)
        qtbot.waitUntil((tmp_path / "played.txt").exists)
        person.press("I checked again")
        person.pass_time(minutes=4)
        assert rings(tmp_path) == ["ring.wav"]
        assert person.page.form.isVisible()


# --- nobody answers -------------------------------------------------------------------------------


def test_what_nobody_answers_fills_the_screen_with_the_number_to_phone(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with writing_window(tmp_path, prepare=knows_anna) as person:
        low(person)
        person.pass_time(minutes=15)
        assert person.window.side_list.isVisible()
        person.pass_time(minutes=10)
        assert person.window.isFullScreen()
        assert not person.window.side_list.isVisible()
        step = person.page.low_step
        assert (step.phone_name.text(), step.phone.text()) == ("Anna", "555 0142")
        assert step.phone.points == NUMBER
        assert step.helper_box.isVisible()
        assert not person.window.bar.undo.isVisible()  # nobody did that note
        person.press("I checked again")
        assert not person.window.isFullScreen()
        assert person.window.side_list.isVisible()


def test_it_is_noted_once_however_long_nobody_comes(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        low(person)
        for _minute in range(60):
            person.pass_time(minutes=1)
        said = [one.said for one in person.book.answers() if one.asked is Asked.RECHECK_DUE]
        assert said == [Said.NOT_ANSWERED]


def test_it_comes_before_another_page_and_before_what_was_typed(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with writing_window(tmp_path) as person:
        low(person)
        person.press("An earlier reading", "1", "5", "0", "Help")
        assert isinstance(person.window.page, Help)
        person.pass_time(minutes=15)
        assert is_low_page(person)
        person.press("I checked again", "9", "5", "Save 95 mg/dL")
        assert [one.glucose.text for one in person.readings] == ["62", "95"]
        person.press("Write down another")
        assert "still here" in person.message
        assert person.page.form.keypad.display.text == "150"


def test_who_types_the_recheck_is_not_torn_away(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        low(person)
        person.pass_time(minutes=24)
        person.press("I checked again", "9")
        person.pass_time(minutes=4)
        assert person.page.form.isVisible()
        person.press("5")
        person.pass_time(minutes=4)
        assert person.page.form.isVisible()
        person.pass_time(minutes=2)
        assert is_low_page(person)
        person.press("I checked again")
        assert person.page.form.keypad.display.text == "95"


# --- restarts and clocks --------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("minutes", "title"),
    [
        (1, "Take fast sugar now."),
        (7, "Check again at 12:19 PM."),
        (15, "Check again now."),
        (300, "Check again now."),
    ],
)
def test_a_restart_during_a_low_shows_how_it_stands(
    qtbot: QtBot, tmp_path: Path, minutes: int, title: str
) -> None:
    with writing_window(tmp_path) as person:
        low(person)
    with writing_window(tmp_path, now=NOON + timedelta(minutes=minutes)) as person:
        assert is_low_page(person)
        assert person.page.low_step.title.text() == title


def test_a_restart_shows_a_due_recheck_before_what_was_typed(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        low(person)
        person.press("An earlier reading", "1", "5", "0")
    with writing_window(tmp_path, now=NOON + timedelta(minutes=20)) as person:
        assert is_low_page(person)
        person.press("I checked again", "9", "5", "Save 95 mg/dL", "Write down another")
        assert person.page.form.keypad.display.text == "150"


def test_a_low_of_yesterday_is_over(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        low(person)
    with writing_window(tmp_path, now=NOON + timedelta(hours=13)) as person:
        assert person.page.form.isVisible()


def test_a_clock_that_went_back_hides_no_low(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        low(person)
        person.pass_time(hours=-3)
        assert is_low_page(person)
        assert person.page.low_step.title.text() == "Check again now."
    with writing_window(tmp_path, now=NOON - timedelta(hours=3)) as person:
        assert is_low_page(person)


def test_waking_shows_the_due_recheck_first(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        low(person)
        person.press("An earlier reading", "1", "5", "0")
        person.pass_time(hours=2)
        assert is_low_page(person)


# --- corrections and undo -------------------------------------------------------------------------


def test_crossing_the_low_out_closes_its_page(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        low(person)
        person.book.cross_out(person.readings[0].id)
        assert person.page.form.isVisible()
        person.book.bring_back(person.readings[0].id)
        assert is_low_page(person)


def test_a_correction_made_elsewhere_opens_and_closes_it(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        person.press("1", "6", "2", "Save 162 mg/dL", "Help")
        reading = person.readings[0]
        lower = Glucose.number(62, Unit.MG_DL)
        person.book.correct(reading.id, lower, reading.at, reading.slot)
        qtbot.waitUntil(lambda: is_low_page(person))
        person.book.correct(reading.id, Glucose.number(162, Unit.MG_DL), reading.at, reading.slot)
        assert not person.page.low_step.isVisible()


def test_undo_of_the_recheck_opens_the_low_again(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        low(person)
        person.pass_time(minutes=15)
        recheck(person, "95")
        person.press("Undo: 95 mg/dL at 12:19 PM")
        assert is_low_page(person)
        person.press("Put back: 95 mg/dL at 12:19 PM")
        assert person.page.form.isVisible()


# --- what else can be written down meanwhile ------------------------------------------------------


def test_an_earlier_reading_does_not_end_the_low(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        low(person)
        person.press("An earlier reading", "1", "5", "0", "Yesterday", "8:00 AM")
        person.press("Save 150 mg/dL")
        reading = next(one for one in person.readings if one.glucose.text == "150")
        assert (reading.purpose, reading.at.wall.day) == (Purpose.PLANNED, 30)
        person.press("Write down another")
        assert person.page.low.due is not None


def test_a_reading_of_now_written_there_is_the_recheck(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        low(person)
        person.pass_time(minutes=16)
        person.press("An earlier reading", "9", "5", "Now, 12:20 PM", "Save 95 mg/dL")
        first, again = person.readings
        assert (again.purpose, again.recheck_of) == (Purpose.RECHECK, first.id)


def test_help_and_hi_reach_their_pages_during_a_low(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        low(person)
        person.press("Something happened", "A fall")
        assert [one.what for one in person.book.happenings()] == [What.FALL]
        assert is_low_page(person)
        person.press("An earlier reading", "Meter shows HI")
        assert "Did the display show the letters HI?" in person.words()


# --- after it -------------------------------------------------------------------------------------


def test_what_was_felt_why_help_and_the_finger_are_told_after_the_recheck(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with writing_window(tmp_path, size=(1280, 1300)) as person:
        low(person)
        person.pass_time(minutes=15)
        recheck(person, "95")
        person.press("Tell more about this low", "Shaky", "Ate late")
        more = person.page.outcome.low_more
        person.click(more.step.help.buttons[Said.YES])
        person.press("Which finger was it?")
        finger = more.finger_step.hands.buttons[(Hand.LEFT, Place.RING)]
        person.click(finger)
        person.press("I do not know which side", "Done")

        reading = person.readings[0]
        assert [one.value for one in reading.feelings] == ["shaky"]
        assert [one.value for one in reading.differences] == ["ate_late"]
        assert (reading.site, reading.site_use) == (
            Site(Hand.LEFT, Place.RING),
            SiteUse.USED,
        )
        (helped,) = person.book.happenings()
        assert (helped.what, helped.about, helped.at) == (
            What.NEEDED_HELP,
            reading.id,
            reading.at,
        )
        assert person.page.result_step.isVisible()


def test_help_that_was_told_by_mistake_is_crossed_out(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, size=(1280, 1300)) as person:
        low(person)
        person.pass_time(minutes=15)
        recheck(person, "95")
        person.press("Tell more about this low")
        more = person.page.outcome.low_more.step
        person.click(more.help.buttons[Said.YES])
        person.click(more.help.buttons[Said.NO])
        assert [one.counts for one in person.book.happenings()] == [False]


def test_the_later_check_is_named_and_calls_once(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, prepare=ticked(About.INSULIN)) as person:
        low(person)
        person.pass_time(minutes=15)
        recheck(person, "95")
        person.press("Write down another")
        waiting = person.window.side_list.waiting
        assert "Check once more at 1:19 PM" in waiting.text()
        person.press("Help")
        person.pass_time(minutes=60)
        assert person.window.page is person.page
        assert "Check once more now." in waiting.text()
        person.click(waiting)
        person.press("I checked")
        answer = next(one for one in person.book.answers() if one.asked is Asked.WATCH_CHECK)
        assert answer.said is Said.YES
        assert "Check once more at 9:00 PM" in waiting.text()


def test_the_question_after_a_low_waits_where_it_was_not_answered(
    qtbot: QtBot, tmp_path: Path
) -> None:
    none = ticked(About.INSULIN, About.LOW_CAUSING_TABLETS, told=Told.NO)
    with writing_window(tmp_path, prepare=none) as person:
        low(person)
        person.pass_time(minutes=15)
        recheck(person, "95")
    with writing_window(tmp_path, now=NOON + timedelta(minutes=30)) as person:
        waiting = person.window.side_list.waiting
        assert waiting.text() == "Did you feel the low coming?"
        person.click(waiting)
        person.press("No")
        assert not waiting.isVisible()
        answers = person.book.answers([person.readings[0].id])
        assert [one.said for one in answers] == [Said.NO]


# --- which of two is believed ---------------------------------------------------------------------


def two_numbers(person: Writer) -> None:
    low(person)
    person.pass_time(minutes=2)
    recheck(person, "120")
    assert "Which number do you believe?" in person.words()
    assert "If you are not sure, believe the low one." in person.words()


def test_a_low_that_is_believed_stays_open(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        two_numbers(person)
        person.press("62 mg/dL, at 12:04 PM")
        assert [one.doubt for one in person.readings] == [None, Doubt.UNWASHED_FINGER]
        assert is_low_page(person)


def test_a_low_that_is_not_believed_is_over_and_outside_figures(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with writing_window(tmp_path) as person:
        two_numbers(person)
        person.press("120 mg/dL, at 12:06 PM")
        assert [one.doubt for one in person.readings] == [Doubt.OTHER, None]
        assert "120 mg/dL" in person.words()
        assert person.page.low.due is None
        assert "take extra medicine" not in person.words()


def test_where_sugar_had_time_to_work_nothing_is_asked(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        low(person)
        person.pass_time(minutes=15)
        recheck(person, "120")
        assert "The low is over." in person.words()


def test_two_highs_are_asked_about_after_a_restart(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        person.press("3", "1", "8", "Before lunch", "Save 318 mg/dL")
    with writing_window(tmp_path, now=NOON + timedelta(minutes=10)) as person:
        person.press("1", "8", "2", "Before lunch", "Save 182 mg/dL")
        assert "Which number do you believe?" in person.words()
        assert [one.slot for one in person.readings] == [Slot.BEFORE_LUNCH] * 2


def test_of_a_low_without_a_number_nothing_more_is_asked(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        person.press("Something happened", "Felt low and treated it")
        person.pass_time(minutes=16)
        person.press("I checked again", "1", "0", "2", "Save 102 mg/dL")
        assert person.page.result_step.felt.isVisible()
        assert not person.page.result_step.tell_more.isVisible()
