"""What a person does on *Look back*: correct, cross out, bring back, choose days, take back."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from datetime import date, datetime
from pathlib import Path
from uuid import uuid4

import pytest
from pytestqt.qtbot import QtBot

from logbook.book import Book
from logbook.domain.glucose import Glucose, Kind, Unit
from logbook.domain.happenings import Happening, StripFailure, What
from logbook.domain.medicine_notes import MedicineNote, NotAsPlanned
from logbook.domain.moments import Moment, Period
from logbook.domain.readings import Reading
from logbook.domain.slots import Slot
from logbook.ui.pages.look_back import LookBack
from logbook.ui.pages.look_back_home import HomeView
from logbook.ui.parts.day_field import DayField
from logbook.ui.parts.texts import Words
from tests.ui.looking_window import Looker, full_log, looking_window, one_reading
from tests.ui.writing_window import ZONE


def three(book: Book) -> None:
    book.add(one_reading("2026-03-30 07:05", 112))
    book.add(one_reading("2026-03-30 22:10", 182, Slot.BEDTIME))
    book.add(one_reading("2026-03-31 07:15", 128))


def reading_of(looker: Looker, steps: int) -> Reading:
    return next(one for one in looker.readings if one.glucose.steps == steps)


def test_a_wrong_number_is_corrected_and_what_it_was_stays(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path, prepare=three) as looker:
        looker.press("Each reading")
        looker.clicks = 0
        looker.press_first("Correct: 182 mg/dL")
        looker.press("1", "2", "8", "Typed wrong", "Save")
        assert looker.clicks == 6

        corrected = next(one for one in looker.readings if one.earlier)
        assert corrected.glucose == Glucose.number(128, Unit.MG_DL)
        assert corrected.slot is Slot.BEDTIME
        assert corrected.earlier[0].glucose == Glucose.number(182, Unit.MG_DL)
        assert corrected.earlier[0].reason == "Typed wrong"
        assert "Was 182 mg/dL, corrected today at 12:04 PM: Typed wrong." in looker.words()
        assert looker.message == "Corrected: 128 mg/dL on Mar 30 at 10:10 PM."

        undo = looker.window.bar.undo
        assert "change of 128" in undo.text()
        looker.click(undo)
        assert reading_of(looker, 182).earlier == ()
        looker.click(looker.window.bar.put_back)
        assert [one for one in looker.readings if one.earlier]


def test_the_keyboard_corrects_as_well(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path, prepare=three) as looker:
        looker.press("Each reading")
        looker.press_first("Correct: 182 mg/dL")
        looker.keys = 0
        looker.type("1 2 8 Enter Enter")
        assert looker.keys <= 8
        assert sorted(one.glucose.steps or 0 for one in looker.readings) == [112, 128, 128]


def test_a_corrected_day_and_time(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path, prepare=three) as looker:
        looker.press("Each reading")
        looker.press_first("Correct: 182 mg/dL")
        looker.press("The day or the time", "1 day earlier", "Wrong day or time", "Save")

        corrected = reading_of(looker, 182)
        assert corrected.at.wall.isoformat() == "2026-03-29T22:10:00"
        assert "Was yesterday at 10:10 PM, corrected" in looker.words()


def test_a_moment_that_has_not_come_is_refused_and_what_was_typed_stays(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with looking_window(tmp_path, prepare=three) as looker:
        looker.press("Each reading")
        looker.press_first("Correct: 128 mg/dL")
        looker.press("The day or the time", "1 week later", "Save")
        assert "has not come yet" in looker.message
        field = looker.view.findChild(DayField)
        assert field is not None
        assert field.field.text() == "April 7, 2026"
        assert reading_of(looker, 128).earlier == ()


@pytest.mark.parametrize(
    ("keys", "words"),
    [("1 5 0 0", "lies outside what is possible"), ("Backspace Backspace Backspace", "no number")],
)
def test_a_number_that_no_meter_shows_is_refused(
    qtbot: QtBot, tmp_path: Path, keys: str, words: str
) -> None:
    with looking_window(tmp_path, prepare=three) as looker:
        looker.press("Each reading")
        looker.press_first("Correct: 128 mg/dL")
        looker.type(keys)
        looker.press("Save")
        assert words in looker.message
        assert reading_of(looker, 128).earlier == ()


def test_lo_can_be_what_it_was(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path, prepare=three) as looker:
        looker.press("Each reading")
        looker.press_first("Correct: 128 mg/dL")
        looker.press("Meter shows LO", "Save")
        assert [one.glucose.kind for one in looker.readings][-1] is Kind.READS_LOW


def test_what_it_was_for_is_corrected(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path, prepare=three) as looker:
        looker.press("Each reading")
        looker.press_first("Correct: 128 mg/dL")
        looker.press("What it was for", "After breakfast", "Save")
        assert reading_of(looker, 128).slot is Slot.AFTER_BREAKFAST
        assert "Was fasting (before breakfast), corrected" in looker.words()


def test_saving_without_a_change_writes_nothing(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path, prepare=three) as looker:
        looker.press("Each reading")
        looker.press_first("Correct: 128 mg/dL")
        looker.press("Save")
        assert looker.message == "Nothing is different from what was written down."
        assert reading_of(looker, 128).earlier == ()


def test_crossing_out_costs_2_clicks_and_asks_no_second_time(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path, prepare=three) as looker:
        looker.press("Each reading")
        looker.clicks = 0
        looker.press_first("Cross out: 182 mg/dL")
        looker.press("Written down twice")
        assert looker.clicks == 2

        crossed_out = reading_of(looker, 182).crossed_out
        assert crossed_out is not None
        assert crossed_out.reason == "Written down twice"
        assert "Crossed out today at 12:04 PM: Written down twice." in looker.words()
        rows = looker.view.list.rows  # type: ignore[attr-defined]
        struck = [row.value.text() for row in rows if row.value.font().strikeOut()]
        assert struck == ["182 mg/dL"]

        looker.press("Picture")
        assert "2 readings on 2 of 30 days" in looker.words()
        looker.press("Each reading")
        looker.press_first("Bring back: 182 mg/dL")
        assert reading_of(looker, 182).crossed_out is None
        assert looker.message == "Brought back: 182 mg/dL on Mar 30 at 10:10 PM."


def test_undo_takes_a_crossing_out_back(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path, prepare=three) as looker:
        looker.press("Each reading")
        looker.press_first("Cross out: 182 mg/dL")
        looker.press("Another reason")
        looker.click(looker.window.bar.undo)
        assert reading_of(looker, 182).crossed_out is None
        assert looker.starting_with("Cross out: 182 mg/dL")


def test_back_leaves_a_reading_as_it_is(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path, prepare=three) as looker:
        looker.press("Each reading")
        looker.press_first("Cross out: 182 mg/dL")
        looker.press("Leave as it is")
        looker.press_first("Correct: 182 mg/dL")
        looker.press("1", "Leave as it is")
        # Another reading is not mixed up with what was typed for this one.
        looker.press_first("Correct: 112 mg/dL")
        assert "Written down: 112 mg/dL" in looker.words()
        assert not [one for one in looker.readings if one.earlier or one.crossed_out]


def test_a_press_that_slides_off_or_lasts_does_nothing(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path, prepare=three) as looker:
        looker.press("Each reading")
        looker.press_first("Cross out: 182 mg/dL")
        button = looker.button("Typed wrong")
        looker.down(button)
        looker.up(button, at=button.rect().bottomRight() * 3)
        looker.click(button, held=4_000)
        assert reading_of(looker, 182).crossed_out is None


def test_older_and_newer_go_through_every_reading_once(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path, prepare=full_log) as looker:
        looker.press("2 weeks", "Each reading")
        seen: list[Reading] = []
        while True:
            seen += [row.reading for row in looker.view.list.rows]  # type: ignore[attr-defined]
            if not looker.window.page.older_button.isVisible():  # type: ignore[attr-defined]
                break
            looker.press("Older")
        period = Period.ending(date(2026, 3, 31), 14)
        assert [one.id for one in seen] == [
            one.id for one in looker.book.readings(period, newest_first=True)
        ]
        looker.press("Newer")
        assert looker.title.startswith("Readings ")


def test_any_dates(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path, prepare=full_log) as looker:
        looker.press("Any dates")
        first, last = looker.view.findChildren(DayField)
        looker.fill(first.field, "March 10, 2026")
        looker.fill(last.field, "March 12, 2026")
        looker.press("Show these days")
        assert "March 10 to March 12, 2026: 12 readings on 3 of 3 days" in looker.words()
        assert looker.button("Any dates").isChecked()


def test_a_day_that_does_not_exist_is_told_beside_its_field(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path, prepare=full_log) as looker:
        looker.press("Any dates")
        looker.fill(looker.view.findChildren(DayField)[0].field, "February 30, 2026")
        looker.press("Show these days")
        assert "There is no day “February 30, 2026”." in looker.words()


def test_the_whole_log_in_two_clicks(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path, prepare=full_log) as looker:
        looker.press("Any dates")
        looker.press_first("The whole log")
        assert looker.clicks == 2
        assert f"{len(looker.readings)} readings on 40 of 40 days" in looker.words()


def test_a_new_reading_appears_without_being_asked_for(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path, prepare=three) as looker:
        looker.book.add(one_reading("2026-03-31 11:00", 99))
        assert "4 readings on 2 of 30 days" in looker.words()


def damage(path: Path) -> Callable[[Book], None]:
    def spoil(book: Book) -> None:
        three(book)
        with sqlite3.connect(path) as connection:
            connection.execute("UPDATE readings SET steps = 82 WHERE steps = 182")
        connection.close()

    return spoil


def test_a_damaged_record_is_shown_as_damaged_and_never_as_a_number(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with looking_window(tmp_path, prepare=damage(tmp_path / "my.logbook")) as looker:
        assert "2 readings on 2 of 30 days" in looker.words()
        assert "1 reading is left out; see Each reading." in looker.words()
        looker.press("Each reading")
        words = looker.words()
        assert "Damaged" in words
        assert "This record is no longer what was written. It is outside every figure." in words
        assert "82 mg/dL" not in words
        damaged = [row for row in looker.view.list.rows if row.reading.is_damaged]  # type: ignore[attr-defined]
        assert len(damaged) == 1
        assert damaged[0].buttons.count() == 0


def test_the_page_is_the_one_the_list_names(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path, "fingers", prepare=three) as looker:
        looker.press("Look back")
        assert isinstance(looker.window.page, LookBack)
        assert isinstance(looker.view, HomeView)


# --- what happened without a number ---------------------------------------------------------------


def felt_low(book: Book) -> None:
    """A low that was only felt and treated, between two readings, and a failed strip."""
    at = Moment.from_wall(datetime(2026, 3, 30, 15, 5), ZONE)
    later = Moment.from_wall(datetime(2026, 3, 30, 20, 0), ZONE)
    book.add(
        one_reading("2026-03-30 12:00", 120, Slot.BEFORE_LUNCH),
        Happening(uuid4(), What.FELT_LOW_TREATED, at, at.instant, note="after the garden"),
        Happening(uuid4(), What.STRIP_FAILED, later, later.instant, StripFailure.PRICKED_AGAIN),
        one_reading("2026-03-31 07:00", 110, Slot.FASTING),
    )


def test_what_happened_without_a_number_stands_among_the_readings(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with looking_window(tmp_path, prepare=felt_low) as looker:
        looker.press("Each reading")
        told = [row.findChildren(Words)[0].text() for row in looker.view.list.rows]  # type: ignore[attr-defined]
        assert told == ["110 mg/dL", "A strip failed", "Felt low and treated it", "120 mg/dL"]
        words = looker.words()
        assert "Monday, March 30, 3:05 PM" in words
        assert "Without a number." in words
        assert "Note: after the garden." in words
        assert "Pricked again." in words


def test_what_happened_is_crossed_out_and_brought_back(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path, prepare=felt_low) as looker:
        looker.press("Each reading")
        looker.press("Cross out: Felt low and treated it, on Mar 30 at 3:05 PM")
        assert looker.clicks == 2
        assert looker.message == "Crossed out: Felt low and treated it, on Mar 30 at 3:05 PM."
        assert [one.counts for one in looker.book.happenings()] == [False, True]
        assert "Crossed out today at" in looker.words()
        looker.press("Bring back: Felt low and treated it, on Mar 30 at 3:05 PM")
        assert [one.counts for one in looker.book.happenings()] == [True, True]
        looker.click(looker.window.bar.undo)
        assert [one.counts for one in looker.book.happenings()] == [False, True]


def with_medicine_notes(book: Book) -> None:
    """A dose that was missed between two readings, and one that came late, without words."""
    felt_low(book)
    at = Moment.from_wall(datetime(2026, 3, 30, 18, 30), ZONE)
    later = Moment.from_wall(datetime(2026, 3, 31, 8, 0), ZONE)
    missed, late = NotAsPlanned.MISSED, NotAsPlanned.LATE
    book.add(
        MedicineNote(uuid4(), missed, at, at.instant, "the white tablet"),
        MedicineNote(uuid4(), late, later, later.instant),
    )


def heads(looker: Looker) -> list[str]:
    """The first words of each row of the list."""
    return [row.findChildren(Words)[0].text() for row in looker.view.list.rows]  # type: ignore[attr-defined]


def test_medicine_notes_stand_among_the_readings(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path, prepare=with_medicine_notes) as looker:
        looker.press("Each reading")
        listed = heads(looker)
        looker.press("Older")
        listed += heads(looker)
        assert listed == [
            "Medicine taken late",
            "110 mg/dL",
            "A strip failed",
            "Medicine missed",
            "Felt low and treated it",
            "120 mg/dL",
        ]


def test_a_medicine_note_is_crossed_out_brought_back_and_erased(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with looking_window(tmp_path, prepare=with_medicine_notes) as looker:
        looker.press("Each reading")
        assert "Note: the white tablet." in looker.words()
        looker.press("Cross out: Medicine missed, on Mar 30 at 6:30 PM")
        assert looker.clicks == 2
        assert looker.message == "Crossed out: Medicine missed, on Mar 30 at 6:30 PM."
        assert [one.counts for one in looker.book.medicine_notes()] == [False, True]
        looker.press("Bring back: Medicine missed, on Mar 30 at 6:30 PM")
        assert [one.counts for one in looker.book.medicine_notes()] == [True, True]
        looker.press("Erase note: Medicine missed, on Mar 30 at 6:30 PM")
        assert "the white tablet" in looker.words()
        looker.press("Erase these words", "Yes, erase them for good")
        assert [one.text for one in looker.book.medicine_notes()] == ["", ""]
        assert "the white tablet" not in looker.words()


def test_a_medicine_note_belongs_to_no_time_of_day(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path, prepare=with_medicine_notes) as looker:
        looker.press("Each reading", "One time of day", "Before meals")
        assert "Medicine" not in " ".join(heads(looker))
        assert heads(looker) == ["120 mg/dL"]


def test_a_log_of_medicine_notes_alone_shows_them(qtbot: QtBot, tmp_path: Path) -> None:
    def missed(book: Book) -> None:
        at = Moment.from_wall(datetime(2026, 3, 30, 15, 5), ZONE)
        book.add(MedicineNote(uuid4(), NotAsPlanned.MISSED, at, at.instant))

    with looking_window(tmp_path, prepare=missed) as looker:
        looker.press("Each reading")
        assert heads(looker) == ["Medicine missed"]


def test_what_happened_belongs_to_no_time_of_day(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path, prepare=felt_low) as looker:
        looker.press("Each reading", "One time of day", "Before meals")
        assert "Felt low" not in looker.words()
        assert "120 mg/dL" in looker.words()


def test_a_log_without_readings_still_shows_what_happened(qtbot: QtBot, tmp_path: Path) -> None:
    def fell(book: Book) -> None:
        at = Moment.from_wall(datetime(2026, 3, 30, 15, 5), ZONE)
        book.add(Happening(uuid4(), What.FALL, at, at.instant))

    with looking_window(tmp_path, prepare=fell) as looker:
        assert "There are no readings in these days." in looker.words()
        looker.press("Each reading")
        assert "A fall" in looker.words()


def test_undo_of_the_very_reading_that_is_corrected_leads_back(
    qtbot: QtBot, tmp_path: Path
) -> None:
    def one(book: Book) -> None:
        book.add(one_reading("2026-03-30 12:00", 120, Slot.BEFORE_LUNCH))
        book.add(one_reading("2026-03-31 07:00", 110, Slot.FASTING))

    with looking_window(tmp_path, prepare=one) as looker:
        looker.press("Each reading")
        looker.press_first("Correct")
        assert looker.title == "What should it say?"
        looker.click(looker.window.bar.undo)
        assert looker.title == "Each reading, newest first"
        assert looker.message == "This reading is not in the log any more."
        assert "110 mg/dL" not in looker.words()


def test_older_and_newer_stay_where_they_are(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path, prepare=full_log) as looker:
        looker.press("2 weeks", "Each reading")
        page = looker.view_page
        assert isinstance(page, LookBack)
        place = page.older_button.geometry()
        looker.press("Older")
        newer = page.newer_button.geometry()
        while page.older_button.isVisible():
            assert page.older_button.geometry() == place
            looker.press("Older")
        assert page.newer_button.geometry() == newer
