"""Everyday life in a real window: night work, a journey, an illness, a helper, two people.

Everything in these logs is invented.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime, time, timedelta
from pathlib import Path
from uuid import uuid4

import pytest
from pytestqt.qtbot import QtBot

from logbook import places
from logbook.app import page_types
from logbook.book import Book
from logbook.commands.reading_log import figures_of_log
from logbook.commands.summary_page import summary_lines
from logbook.domain.glucose import Glucose, Unit
from logbook.domain.moments import Moment, Period
from logbook.domain.readings import Reading
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Slot
from logbook.domain.spells import Spell, SpellKind
from logbook.domain.visits import Contact
from logbook.report.options import ReportOptions
from logbook.report.visit import visit_report
from logbook.ui.log_chooser import LogChooser
from logbook.ui.log_names import name_of_log
from logbook.ui.parts.texts import Words
from logbook.ui.theme import Look
from tests.report.reading_back import Printed
from tests.ui.writing_window import NOON, ZONE, Writer, habit, settle, writing_window

TODAY = date(2026, 3, 31)
ANNA = LogSettings(country="US", home_zone=ZONE, person_name="Anna Sample")
WITH_HELPER = LogSettings(country="US", home_zone=ZONE, helpers=(("EK", "Eva Klein"),))
SIMPLE = LogSettings(country="US", home_zone=ZONE, has_simple_page=True)


def write(book: Book, wall: datetime, value: int = 120, zone: str = ZONE) -> Reading:
    at = Moment.from_wall(wall, zone)
    reading = Reading(uuid4(), Glucose.number(value, Unit.MG_DL), at, at.instant, Slot.OTHER)
    book.add(reading)
    return reading


def keeps(record: Spell) -> Callable[[Book], None]:
    def add(book: Book) -> None:
        book.add(record)

    return add


def words_in(person: Writer) -> str:
    seen = person.window.findChildren(Words)
    return "\n".join(one.text() for one in seen if one.isVisible())


def my_plan(person: Writer, *buttons: str) -> None:
    person.press("My plan", *buttons)


# --- my day starts at -----------------------------------------------------------------------------


def night_low(book: Book) -> None:
    """A low at twenty past one, in the night from Saturday the 28th to Sunday."""
    write(book, datetime(2026, 3, 29, 1, 20), 61)
    write(book, datetime(2026, 3, 29, 1, 40), 110)


def test_a_low_after_midnight_has_one_name_on_screen_paper_and_summary(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with writing_window(tmp_path, prepare=night_low, pages=page_types(), settings=ANNA) as person:
        person.window.show_page("look_back/time")
        person.press("Each reading")
        listed = words_in(person)
        assert "Saturday, March 28, 1:20 AM after midnight" in listed
        assert "March 29" not in listed
        now = Moment.at(NOON, ZONE)
        data = person.book.visit_data(Period(date(2026, 3, 1), TODAY), now)
        made = Printed(visit_report(data, ReportOptions(appendix=True, grid_days=None)))
        paper = " ".join(made.whole_text.replace("\N{NO-BREAK SPACE}", " ").split())
        made.close()
        assert "latest Mar 28, 1:20 AM after midnight, 61 mg/dL" in paper
        assert "Mar 29" not in paper
        lines = list(summary_lines(figures_of_log(person.book, None, None, now)))
        assert not [line for line in lines if "Mar 29" in line or "March 29" in line]


def test_night_work_in_three_clicks(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, pages=page_types()) as person:
        my_plan(person, "My day starts at", "2:00 PM")
        assert person.clicks == 3
        assert person.book.settings.day_starts_at == time(14)
        assert "The night is when you sleep by day." in person.message
        # At four in the afternoon a new day has begun; at noon it was still yesterday's.
        assert person.window.desk.today() == date(2026, 3, 30)
        person.pass_time(hours=4)
        assert person.window.desk.today() == TODAY


# --- travel ---------------------------------------------------------------------------------------


def fly(person: Writer, zone: str) -> None:
    person.window.desk._computer_zone = lambda: zone
    person.window.beat()
    person.page.refresh(None)
    settle()


def test_a_journey_is_asked_about_once_and_ended_at_home(qtbot: QtBot, tmp_path: Path) -> None:
    def at_home(book: Book) -> None:
        write(book, datetime(2026, 3, 31, 7, 5))

    with writing_window(tmp_path, prepare=at_home, settings=ANNA) as person:
        fly(person, "Europe/Berlin")
        person.press("Are you travelling?")
        assert "This clock is 6 hours ahead of your last entry. Are you travelling?" in words_in(
            person
        )
        person.press("Yes, I am travelling")
        (spell,) = person.book.spells()
        assert (spell.kind, spell.first, spell.last) == (SpellKind.TRAVEL, TODAY, None)
        assert spell.note == "Berlin"
        person.press("1", "2", "8", "Save 128 mg/dL")
        assert person.readings[-1].at.zone == "Europe/Berlin"
        person.pass_time(days=4)
        fly(person, ZONE)
        person.press("Is your journey over?", "Yes, I am home")
        (spell,) = person.book.spells()
        assert spell.last == date(2026, 4, 4)


def test_who_moved_is_at_home_there(qtbot: QtBot, tmp_path: Path) -> None:
    def at_home(book: Book) -> None:
        write(book, datetime(2026, 3, 31, 7, 5))

    with writing_window(tmp_path, prepare=at_home, settings=ANNA) as person:
        fly(person, "America/Chicago")
        person.press("Are you travelling?", "No, I live here now")
        assert person.book.settings.home_zone == "America/Chicago"
        assert person.book.spells() == []
        assert not [one for one in person.window.lists.both if one.waiting.isVisible()]


def test_the_report_tells_what_was_measured_by_another_clock(qtbot: QtBot, tmp_path: Path) -> None:
    with Book.create(tmp_path / "my.logbook", ANNA, lambda: NOON) as book:
        write(book, datetime(2026, 3, 10, 7, 5))
        for day in (12, 13):
            write(book, datetime(2026, 3, day, 7, 5), zone="Europe/Berlin")
        data = book.visit_data(Period(date(2026, 3, 1), TODAY), Moment.at(NOON, ZONE))
        made = Printed(visit_report(data, ReportOptions(grid_days=None)))
        paper = " ".join(made.whole_text.replace("\N{NO-BREAK SPACE}", " ").split())
        made.close()
        told = "By the clock there: Mar 12 to Mar 13, Berlin (5 hours ahead of home), 2 readings."
        assert told in paper


def test_the_clock_of_another_place_can_be_chosen(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, pages=page_types(), settings=ANNA) as person:
        my_plan(person, "Clock and paper")
        person.press("The clock of another place")
        view = person.window.page.view  # type: ignore[attr-defined]
        view.place.setText("kolk")
        view.place.textEdited.emit("kolk")
        settle()
        person.press("Kolkata, now 9:34 PM")
        assert person.window.desk.zone() == "Asia/Kolkata"
        assert person.window.desk.now().wall == datetime(2026, 3, 31, 21, 34)
        person.press("Use the computer's clock")
        assert person.window.desk.zone() == ZONE


def test_a_plan_of_seven_goes_by_the_clock_there_and_rechecks_by_minutes(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with writing_window(tmp_path, settings=ANNA) as person:
        person.press("6", "2", "Save 62 mg/dL")
        due = person.page.low.due
        assert due is not None
        fly(person, "Europe/Berlin")
        assert person.page.low.due is not None
        assert person.page.low.due.due_at == due.due_at == NOON + timedelta(minutes=15)


# --- days that are not ordinary -------------------------------------------------------------------


def test_a_period_begins_and_ends_in_three_clicks_each(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, pages=page_types(), settings=ANNA) as person:
        my_plan(person, "Days that are not ordinary", "Steroid course")
        assert person.clicks == 3
        (spell,) = person.book.spells()
        assert (spell.kind, spell.first, spell.last) == (SpellKind.STEROID, TODAY, None)
        person.press("Steroid course")
        assert len(person.book.spells()) == 1, "it goes on already"
        person.press("Today is the last day")
        (spell,) = person.book.spells()
        assert spell.last == TODAY


def test_the_days_of_a_period_can_be_changed(qtbot: QtBot, tmp_path: Path) -> None:
    ill = Spell(uuid4(), SpellKind.ILL, date(2026, 3, 20), note="cold")
    with writing_window(tmp_path, pages=page_types(), settings=ANNA, prepare=keeps(ill)) as person:
        my_plan(person, "Days that are not ordinary")
        settle()
        person.press("Change")
        view = person.window.page.view  # type: ignore[attr-defined]
        assert view.note.text() == "cold"
        view.last.field.setText("March 22")
        person.press("Save days")
        (spell,) = person.book.spells()
        assert (spell.id, spell.first, spell.last) == (ill.id, ill.first, date(2026, 3, 22))


def test_in_a_fasting_month_a_low_says_to_break_the_fast(qtbot: QtBot, tmp_path: Path) -> None:
    month = Spell(uuid4(), SpellKind.FASTING_MONTH, date(2026, 3, 20))
    with writing_window(tmp_path, settings=ANNA, prepare=keeps(month)) as person:
        person.press("6", "2", "Save 62 mg/dL")
        assert "Break your fast now." in words_in(person)
    with writing_window(tmp_path / "other", settings=ANNA) as person:
        person.press("6", "2", "Save 62 mg/dL")
        assert "Break your fast" not in words_in(person)


def test_a_medicine_taken_late_is_two_clicks_from_the_page_that_opens(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with writing_window(tmp_path, pages=page_types(), settings=ANNA) as person:
        person.press("Something happened", "Medicine late, missed or other")
        assert person.clicks == 2
        person.press("Medicine missed", "Save note")
        (note,) = person.book.medicine_notes()
        assert note.at.instant == NOON - timedelta(seconds=NOON.second)


# --- a helper -------------------------------------------------------------------------------------


def test_with_one_person_nobody_is_asked_who_writes(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, settings=ANNA) as person:
        assert not person.page.writer_button.isVisible()
        person.press("1", "2", "8", "Save 128 mg/dL")
        assert person.readings[0].initials == ""


def test_a_helper_writes_and_stands_with_the_reading(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, pages=page_types(), settings=WITH_HELPER) as person:
        person.press("Writing: myself", "Eva Klein (EK)")
        assert person.clicks == 2
        person.press("1", "2", "8", "Save 128 mg/dL")
        assert person.readings[0].initials == "EK"
        person.window.show_page("look_back/time")
        person.press("Each reading")
        assert "Written by Eva Klein (EK)." in words_in(person)
        data = person.book.visit_data(Period(TODAY, TODAY), Moment.at(NOON, ZONE))
        made = Printed(visit_report(data, ReportOptions()))
        assert "helped to write: EK" in made.text(0).replace("\N{NO-BREAK SPACE}", " ")
        made.close()
        # It stays until someone else is chosen, over a restart too.
        person.press("Write down", "Write down another", "Writing: EK", "The person of this log")
        person.press("1", "3", "1", "Save 131 mg/dL")
        assert person.readings[-1].initials == ""


def test_a_helper_is_added_with_initials_of_their_own(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, pages=page_types(), settings=WITH_HELPER) as person:
        my_plan(person, "Helpers", "Who writes here")
        view = person.window.page.view  # type: ignore[attr-defined]
        view.name.setText("Emil Kant")
        person.press("Save helper")
        assert person.book.settings.helpers == (("EK", "Eva Klein"), ("EK2", "Emil Kant"))
        view.initials.setText("EK")
        view.name.setText("Someone")
        person.press("Save helper")
        assert "Another helper has these initials. Choose others." in words_in(person)
        assert len(person.book.settings.helpers) == 2


def test_how_the_log_is_kept_is_counted_only_if_turned_on(qtbot: QtBot, tmp_path: Path) -> None:
    def some(book: Book) -> None:
        write(book, datetime(2026, 3, 30, 7, 5))

    with writing_window(tmp_path, pages=page_types(), settings=ANNA, prepare=some) as person:
        my_plan(person, "Helpers", "How the log is kept")
        view = person.window.page.view  # type: ignore[attr-defined]
        assert not view.table.isVisible()
        assert "How the log is kept" not in _appendix(person.book)
        person.press("On")
        assert view.table.isVisible()
        assert "Days with a reading: 1 of 31" in _appendix(person.book)


def _appendix(book: Book) -> str:
    data = book.visit_data(Period(date(2026, 3, 1), TODAY), Moment.at(NOON, ZONE))
    made = Printed(visit_report(data, ReportOptions(appendix=True)))
    text = " ".join(made.whole_text.replace("\N{NO-BREAK SPACE}", " ").split())
    made.close()
    return text


# --- two people -----------------------------------------------------------------------------------


def test_two_logs_are_begun_named_and_never_mixed(qtbot: QtBot, tmp_path: Path) -> None:
    settings = LogSettings(country="US", home_zone=ZONE)
    with writing_window(tmp_path, pages=page_types(), settings=settings) as person:
        person.press("1", "2", "8", "Save 128 mg/dL")
        my_plan(person, "Helpers", "A log for another person")
        view = person.window.page.view  # type: ignore[attr-defined]
        view.other_name.setText("Bert Sample")
        person.press("Begin their log")
        assert "Write first whose log this one is." in words_in(person)
        view.own_name.setText("Anna Sample")
        person.press("Begin their log")
        assert person.window.lists.side.person.text() == "Anna Sample"
        person.press("Write down", "Write down another")
        person.press("1", "3", "1")
        person.press("Save 131 mg/dL for Anna")
        person.press("Anna Sample", "Open: Bert Sample")
        other = person.window.next_log
        assert other == tmp_path / "my-2.logbook"
        assert not person.window.isVisible()
        with Book.open(other, lambda: NOON, read_only=True) as book:
            assert book.readings() == []
            assert book.settings.person_name == "Bert Sample"
    with Book.open(tmp_path / "my.logbook", lambda: NOON, read_only=True) as book:
        assert len(book.readings()) == 2
        assert book.settings.person_name == "Anna Sample"


def test_an_unusual_number_is_asked_about_with_the_name(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, prepare=habit, settings=ANNA) as person:
        person.window.desk.tell_several()
        person.press("9", "9", "0", "Save 990 mg/dL for Anna")
        assert person.page.question_step.isVisible()
        assert "This is the log of Anna Sample." in words_in(person)
    with writing_window(tmp_path / "alone", prepare=habit, settings=ANNA) as person:
        person.press("9", "9", "0", "Save 990 mg/dL")
        assert person.page.question_step.isVisible()
        assert "This is the log of" not in words_in(person)


def test_an_open_low_is_told_before_another_log_is_opened(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, pages=page_types(), settings=ANNA) as person:
        path = places.next_log(person.book.path)
        Book.create(path, LogSettings(person_name="Bert"), lambda: NOON).close()
        person.press("6", "2", "Save 62 mg/dL")
        my_plan(person, "Helpers", "A log for another person", "Open: Bert")
        assert "A check after a low is still to come here." in person.message
        assert person.window.isVisible()
        person.press("Open: Bert")
        assert person.window.next_log == path


def test_at_the_start_the_names_are_asked_in_large_print(qtbot: QtBot, tmp_path: Path) -> None:
    for number, name in enumerate(("Anna", "Bert", "")):
        path = tmp_path / ("my.logbook" if not number else f"my-{number + 1}.logbook")
        Book.create(path, LogSettings(person_name=name), lambda: NOON).close()
    logs = places.logs_beside(tmp_path / "my.logbook")
    assert [one.name for one in logs] == ["my.logbook", "my-2.logbook", "my-3.logbook"]
    names = [(path, name_of_log(path, lambda: NOON)) for path in logs]
    chooser = LogChooser(Look(), names)
    qtbot.addWidget(chooser)
    chooser.show()
    settle()
    texts = [button.text() for button in chooser.buttons]
    assert texts == ["Anna", "Bert", "A log without a name (my-3.logbook)"]
    assert all(button.font().pixelSize() >= 37 for button in chooser.buttons)
    chooser.buttons[1].click()
    assert chooser.chosen == tmp_path / "my-2.logbook"
    assert not chooser.isVisible()


# --- the simple page ------------------------------------------------------------------------------


def simple_log(book: Book) -> None:
    book.add(Contact(uuid4(), "person", "Eva", "555 0142"))


@pytest.mark.parametrize("percent", [100, 200, 300])
def test_the_simple_page_has_few_things_and_a_way_back(
    qtbot: QtBot, tmp_path: Path, percent: int
) -> None:
    with writing_window(
        tmp_path, pages=page_types(), settings=SIMPLE, prepare=simple_log, percent=percent
    ) as person:
        lists = person.window.lists
        assert not any(one.isVisible() for one in lists.both)
        seen = {one.text() for one in person.page.form.findChildren(type(person.page.save_button))}
        assert {"1", "0", "Meter shows LO", "I used this finger"} <= seen
        assert not person.page.form.circumstances.isVisible()
        person.press("Phone")
        assert "555 0142" in words_in(person)
        person.press("Go back")
        person.type("1 2 8")
        person.press("Save 128 mg/dL")
        assert person.readings[0].slot is not None
        assert "128 mg/dL" in words_in(person)
        # What belongs to another page stays shut.
        person.window.show_page("my_plan")
        assert person.window.page is person.page
        person.press("For my helper")
        step = person.page.around.helper_step
        person.fill(step.typed_number, "999" if step.number != "999" else "998")
        person.press("Open all pages")
        assert not any(one.isVisible() for one in lists.both)
        person.fill(step.typed_number, step.number)
        person.press("Open all pages")
        assert any(one.isVisible() for one in lists.both)


def test_a_low_on_the_simple_page_is_the_low_it_always_is(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, pages=page_types(), settings=SIMPLE) as person:
        person.press("6", "2", "Save 62 mg/dL")
        assert "Take 15 grams of fast sugar now" in words_in(person)
        person.pass_time(minutes=16)
        person.press("I checked again", "1", "0", "4", "Save 104 mg/dL")
        assert "The low is over." in words_in(person)


def test_a_number_left_for_long_asks_when_it_was_there_too(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, pages=page_types(), settings=SIMPLE) as person:
        person.press("1", "2", "8")
        person.pass_time(minutes=11)
        person.press("Save 128 mg/dL")
        assert person.readings == []
        assert person.page.form.circumstances.isVisible()
        person.press("Now, 12:15 PM", "Save 128 mg/dL")
        assert len(person.readings) == 1


def test_undo_on_the_simple_page_never_turns_it_off(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, pages=page_types(), settings=ANNA) as person:
        my_plan(person, "Helpers", "The simple page", "On", "Back to the simple page")
        assert person.window.desk.is_simple
        assert not person.window.bar.undo.isVisible()
        person.press("1", "2", "8", "Save 128 mg/dL")
        person.press("Undo: 128 mg/dL at 12:04 PM")
        assert person.readings == []
        assert not person.window.bar.undo.isVisible()
        assert person.book.settings.has_simple_page


def test_control_without_the_simple_page_all_pages_are_there(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, pages=page_types(), settings=ANNA) as person:
        assert person.window.lists.side.isVisible()
        assert not any(one.isVisible() for one in person.window.lists.simple)
        assert not person.window.lists.side.person.isVisible()
