"""A number corrected on *Look back* is doubted as a typed one is, and a low opens its page."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime, timedelta
from pathlib import Path
from uuid import UUID

import pytest
from pytestqt.qtbot import QtBot

from logbook.book import Book
from logbook.domain.glucose import Glucose, Kind, Unit
from logbook.domain.moments import Moment
from logbook.domain.readings import Reading
from logbook.domain.slots import Slot
from logbook.ui.pages.look_back import LookBack
from logbook.ui.pages.look_back_correct import CorrectView
from logbook.ui.pages.write_down import WriteDown
from logbook.ui.parts.texts import Words
from tests.ui.writing_window import NOON, ZONE, Writer, habit, settle, writing_window

PAGES = (WriteDown, LookBack)
WRONG_ID = UUID(int=7)


def written(number: int, at: datetime) -> Callable[[Book], None]:
    """Three weeks of ordinary numbers, and one that will be corrected."""

    def write(book: Book) -> None:
        habit(book)
        moment = Moment.at(at, ZONE)
        glucose = Glucose.number(number, Unit.MG_DL)
        book.add(Reading(WRONG_ID, glucose, moment, moment.instant, Slot.BETWEEN_MEALS))

    return write


DAYS_AGO = NOON - timedelta(days=3)
JUST_NOW = NOON - timedelta(minutes=2)


def open_correction(person: Writer) -> CorrectView:
    person.window.show_page("look_back")
    settle()
    page = person.window.page
    assert isinstance(page, LookBack)
    page.looking.subject = WRONG_ID
    page.turn_to("correct")
    settle()
    assert isinstance(page.view, CorrectView)
    return page.view


def words(person: Writer) -> str:
    seen = [one for one in person.window.page.findChildren(Words) if one.isVisible()]
    return "\n".join(one.text() for one in seen)


def now_written(person: Writer) -> Reading:
    return person.book.reading(WRONG_ID)


@pytest.mark.parametrize(
    ("answer", "kept"), [("Yes, save 1000 mg/dL", 1000), ("No, save 100 mg/dL", 100)]
)
def test_a_figure_too_many_is_asked_about(
    qtbot: QtBot, tmp_path: Path, answer: str, kept: int
) -> None:
    with writing_window(tmp_path, prepare=written(131, DAYS_AGO), pages=PAGES) as person:
        open_correction(person)
        person.press("1", "0", "0", "0", "Save")
        assert now_written(person).glucose.steps == 131
        assert "Is this what the meter showed?" in words(person)
        assert "Perhaps it was" in words(person)
        person.press(answer)
        assert now_written(person).glucose.steps == kept
        assert person.message.startswith(f"Corrected: {kept} mg/dL")


def test_back_leads_to_what_was_typed(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, prepare=written(131, DAYS_AGO), pages=PAGES) as person:
        view = open_correction(person)
        person.press("1", "0", "0", "0", "Save")
        back = person.window.page.back_button  # type: ignore[attr-defined]
        assert back.text() == "Back"
        person.click(back)
        assert view.isVisible()
        assert view.number.isVisible()
        assert view.number.keypad.display.text == "1000"
        assert back.text() == "Leave as it is"
        assert now_written(person).earlier == ()
        # The keys of the number have a Back of their own.
        person.click(view.number.keypad.keys["back"])
        person.press("Save")
        assert now_written(person).glucose.steps == 100


def test_hi_is_asked_about_and_a_usual_number_is_not(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, prepare=written(131, DAYS_AGO), pages=PAGES) as person:
        open_correction(person)
        person.press("Meter shows HI", "Save")
        assert "Did the display show the letters HI?" in words(person)
        person.press("Yes, save HI")
        assert now_written(person).glucose.kind is Kind.READS_HIGH
        open_correction(person)
        person.press("1", "2", "8", "Save")
        assert now_written(person).glucose.steps == 128


def test_a_time_alone_is_not_asked_about(qtbot: QtBot, tmp_path: Path) -> None:
    """The number was asked about when it was written down."""
    with writing_window(tmp_path, prepare=written(560, DAYS_AGO), pages=PAGES) as person:
        view = open_correction(person)
        person.press("The day or the time")
        person.fill(view.time, "7:15 AM")
        person.press("Save")
        assert now_written(person).at.wall.hour == 7


def test_a_rare_low_of_another_day_is_asked_about(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, prepare=written(131, DAYS_AGO), pages=PAGES) as person:
        open_correction(person)
        person.press("3", "1", "Save")
        assert now_written(person).glucose.steps == 131
        assert "The 90 days" not in words(person)
        assert "Is this what the meter showed?" in words(person)
        person.press("Yes, save 31 mg/dL")
        assert now_written(person).glucose.steps == 31
        assert isinstance(person.window.page, LookBack)  # long over: no page of a low


def test_a_low_of_just_now_is_kept_at_once_and_opens_its_page(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, prepare=written(131, JUST_NOW), pages=PAGES) as person:
        open_correction(person)
        person.press("6", "1", "Save")
        assert now_written(person).glucose.steps == 61
        qtbot.waitUntil(lambda: person.window.page is person.page)
        assert person.page.low_step.isVisible()
        assert "61 mg/dL" in person.words()


def test_a_low_that_is_corrected_to_a_very_low_one_opens_its_page_again(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with writing_window(tmp_path, prepare=written(65, JUST_NOW), pages=PAGES) as person:
        assert person.page.low_step.isVisible()
        open_correction(person)
        person.press("4", "5", "Save")
        qtbot.waitUntil(lambda: person.window.page is person.page)
        assert "45 mg/dL" in person.words()


def test_a_low_that_was_none_closes_its_page(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, prepare=written(61, JUST_NOW), pages=PAGES) as person:
        assert person.page.low_step.isVisible()
        open_correction(person)
        person.press("1", "6", "1", "Save")
        assert isinstance(person.window.page, LookBack)
        assert person.page.low.due is None
        person.window.show_page("write_down")
        assert not person.page.low_step.isVisible()
