"""Another copy, two versions side by side, locked copies and the report's password, in the window.

Buttons are pressed where they are seen; the places offered are folders of the test.
"""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import timedelta
from io import BytesIO
from pathlib import Path
from uuid import UUID

import pypdf
import pypdfium2
import pytest
from PySide6.QtWidgets import QApplication, QLabel
from pytestqt.qtbot import QtBot

from logbook.book import Book
from logbook.domain.glucose import Glucose, Unit
from logbook.domain.moments import Moment
from logbook.domain.readings import Reading
from logbook.domain.settings import LogSettings
from logbook.domain.visits import Contact
from logbook.exchange.locked_copy import lock_log, unlock
from logbook.exchange.phrases import phrase_words
from logbook.preferences import Preferences
from logbook.ui.pages import my_plan_sharing, visit_out
from logbook.ui.pages.my_plan_locked import LockedView, sheet_of
from logbook.ui.pages.my_plan_sharing import BringInView
from logbook.ui.pages.my_plan_two_versions import TwoVersionsView
from logbook.ui.pages.visit_password import PasswordView
from logbook.ui.parts.subject_button import SubjectButton
from logbook.ui.saving_places import SavingPlace
from logbook.wording.dates import clock_text, day_text
from tests.ui.plan_window import NOON, ZONE, OpenWindow, open_window, write_readings

PHRASE = "acorn bridge candle dolphin eagle fiddle garden"
BEA = Contact(UUID(int=7, version=4), "neighbour", "Bea", "555-0101")


@dataclass
class Two:
    """The window's log, and a copy of it on a stick."""

    opened: OpenWindow
    stick: Path

    @property
    def other(self) -> Path:
        return self.stick / "my.logbook"

    def there(self) -> Book:
        return Book.open(self.other, lambda: NOON + timedelta(hours=1))


@pytest.fixture
def two(qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Two]:
    stick, documents = tmp_path / "stick", tmp_path / "documents"
    stick.mkdir()
    places = [
        SavingPlace(documents, "Documents", "in your Documents folder"),
        SavingPlace(stick, "USB stick BLUE", "on the USB stick BLUE"),
    ]
    for module in (my_plan_sharing, visit_out):
        monkeypatch.setattr(module, "find_places", lambda: places)
    with open_window(qtbot, tmp_path) as opened:
        write_readings(opened.book, 3)
        opened.book.add(BEA)
        shutil.copy(opened.book.path, stick / "my.logbook")
        opened.window.show_page("my_plan")
        yield Two(opened, stick)


def wait_for_words(opened: OpenWindow) -> None:
    """Until a copy is locked or opened: it takes long on purpose, longer on a busy machine."""
    opened.qtbot.waitUntil(lambda: not opened.desk.work.is_busy, timeout=120_000)
    QApplication.processEvents()


def texts(opened: OpenWindow) -> str:
    """Everything that can be read in the view."""
    return "\n".join(one.text() for one in opened.view.findChildren(QLabel) if one.isVisible())


def differ(two: Two) -> Reading:
    """The same reading corrected differently on both computers."""
    reading = two.opened.book.readings()[0]
    two.opened.book.correct(
        reading.id, Glucose.number(111, Unit.MG_DL), reading.at, reading.slot, "typed wrong"
    )
    with two.there() as there:
        there.correct(
            reading.id, Glucose.number(222, Unit.MG_DL), reading.at, reading.slot, "read again"
        )
    return reading


def to_bring_in(opened: OpenWindow) -> None:
    opened.press("Sharing")
    opened.press("Bring in another copy")


def test_a_copy_says_where_it_lies_and_when_it_was_written(two: Two) -> None:
    """Two of like names on one stick are told apart; by the clock of the log's own zone."""
    for name, at in (("my.logbook", NOON), ("my-2.logbook", NOON - timedelta(days=3, hours=2))):
        shutil.copy(two.opened.book.path, two.stick / name)
        os.utime(two.stick / name, (at.timestamp(), at.timestamp()))
    to_bring_in(two.opened)
    told = [
        one.text().splitlines()[1]
        for one in two.opened.view.findChildren(SubjectButton)
        if "logbook" in one.text()
    ]
    newer, older = (Moment.at(NOON - timedelta(days=n, hours=n and 2), ZONE) for n in (0, 3))
    assert told == [
        f"USB stick BLUE, {day_text(at.wall.date())}, {clock_text(at)}" for at in (newer, older)
    ]
    assert told[0] != told[1]


def test_a_copy_is_brought_in_and_taken_back(two: Two) -> None:
    opened = two.opened
    with two.there() as there:
        write_readings(there, 1)
    before = two.other.read_bytes()
    opened.clicks = 0
    to_bring_in(opened)
    opened.press("my.logbook")
    opened.wait_for_jobs()
    assert "Readings that are new here: 1" in texts(opened)
    assert len(opened.book.readings()) == 3, "nothing is brought in before it is said"
    opened.press("Bring it in")
    opened.wait_for_jobs()
    assert opened.clicks <= 6  # one of them Down, to the end of the list of subjects
    assert len(opened.book.readings()) == 4
    assert opened.message == "It was brought in. Undo takes it back."
    assert opened.page.view_name == "sharing"
    assert two.other.read_bytes() == before
    opened.window._undo()
    assert len(opened.book.readings()) == 3

    opened.press("Bring in another copy")
    opened.press("my.logbook")
    opened.wait_for_jobs()
    opened.press("Bring it in")
    opened.wait_for_jobs()
    opened.press("Bring in another copy")
    opened.press("my.logbook")
    opened.wait_for_jobs()
    assert "Everything in this copy is here already." in texts(opened)
    assert "Bring it in" not in [one.text() for one in opened.buttons()]


def test_what_differs_is_shown_side_by_side_and_chosen(two: Two) -> None:
    opened = two.opened
    reading = differ(two)
    with two.there() as there:
        there.replace(replace(BEA, phone="555-0199"))
    opened.book.replace(replace(BEA, phone="555-0102"))
    to_bring_in(opened)
    opened.press("my.logbook")
    opened.wait_for_jobs()
    opened.press("Bring it in")
    opened.wait_for_jobs()
    view = opened.view
    assert isinstance(view, TwoVersionsView)
    assert view.title() == "Which one is right? There are 2 pairs."
    for part in ("Meter showed: 222 mg/dL", "Meter showed: 111 mg/dL", "Reading of Nov 23, 2026"):
        assert part in texts(opened), texts(opened)
    opened.press("Take this one")
    assert opened.book.reading(reading.id).glucose.written in ("111", "")
    assert opened.book.reading(reading.id).glucose.order_steps == 111
    assert opened.message == "Chosen. 1 pair is left to choose."
    assert "Phone: 555-0199" in texts(opened)
    assert "Person to phone: Bea" in texts(opened)
    opened.press("Keep this one")
    assert opened.window.bar.undo.text() == "Undo: choice between two entries"
    assert opened.page.view_name == "sharing"
    assert [one.phone for one in opened.book.contacts()] == ["555-0199"]
    assert opened.book.disagreements() == []
    opened.window._undo()
    assert len(opened.book.disagreements()) == 1


def test_a_locked_copy_asks_for_its_words(two: Two) -> None:
    opened = two.opened
    with two.there() as there:
        write_readings(there, 1)
        lock_log(there.make_copy, two.stick / "a.logbook.age", PHRASE)
    to_bring_in(opened)
    opened.press("a.logbook.age")
    view = opened.view
    assert isinstance(view, BringInView)
    assert view.title() == "Which words open this copy?"
    opened.press("Open this copy")
    assert "The words are missing." in texts(opened)
    opened.type_into(view.words, PHRASE.replace("bridge", "bridges"))
    opened.press("Open this copy")
    assert "it may be “bridge”" in texts(opened)
    opened.type_into(view.words, " ".join(reversed(PHRASE.split())))
    opened.press("Open this copy")
    wait_for_words(opened)
    assert "These words do not open" in texts(opened)
    assert view.words.toPlainText(), "what was typed stays"
    opened.type_into(view.words, PHRASE.title())
    opened.press("Open this copy")
    wait_for_words(opened)
    opened.press("Bring it in")
    wait_for_words(opened)
    assert len(opened.book.readings()) == 4


def test_back_from_the_words_leads_to_the_other_copies(two: Two) -> None:
    """The words are lost: there is a way to a copy that needs none, and none of them is in it."""
    opened = two.opened
    with two.there() as there:
        write_readings(there, 1)
        lock_log(there.make_copy, two.stick / "a.logbook.age", PHRASE)
    to_bring_in(opened)
    opened.press("a.logbook.age")
    view = opened.view
    assert isinstance(view, BringInView)
    opened.type_into(view.words, " ".join(reversed(PHRASE.split())))
    opened.press("Open this copy")
    wait_for_words(opened)
    assert view.words.hasFocus(), "the keyboard is where the words are mended"
    opened.press("Back")
    assert view.title() == "Which copy do you want to bring in?"
    opened.press("a.logbook.age")
    assert view.words.toPlainText(), "what was typed stays"
    opened.press("Back")
    opened.press("my.logbook")
    opened.wait_for_jobs()
    assert "Readings that are new here: 1" in texts(opened)
    assert not view.words.toPlainText()
    opened.press("Back")
    assert view.title() == "Which copy do you want to bring in?"
    opened.press("Back")
    assert opened.page.view_name == "sharing"


def test_words_of_another_copy_are_not_tried_on_an_open_one(two: Two, tmp_path: Path) -> None:
    """A locked copy of another log is refused; an ordinary copy chosen next is not locked."""
    opened = two.opened
    with Book.create(tmp_path / "other.logbook", LogSettings(), lambda: NOON) as another:
        lock_log(another.make_copy, two.stick / "a.logbook.age", PHRASE)
    with two.there() as there:
        write_readings(there, 1)
    to_bring_in(opened)
    opened.press("a.logbook.age")
    assert isinstance(opened.view, BringInView)
    opened.type_into(opened.view.words, PHRASE)
    opened.press("Open this copy")
    wait_for_words(opened)
    assert "a copy of another log" in texts(opened)
    opened.press("my.logbook")
    opened.wait_for_jobs()
    assert "Readings that are new here: 1" in texts(opened)


def test_too_few_words_are_told_with_their_number(two: Two) -> None:
    opened = two.opened
    with two.there() as there:
        lock_log(there.make_copy, two.stick / "a.logbook.age", PHRASE)
    to_bring_in(opened)
    opened.press("a.logbook.age")
    assert isinstance(opened.view, BringInView)
    opened.type_into(opened.view.words, " ".join(PHRASE.split()[:6]))
    opened.press("Open this copy")
    assert "The sheet has 7 words, and “acorn bridge candle dolphin eagle fiddle” has 6." in texts(
        opened
    )


@pytest.mark.parametrize("fault", ["another log", "damaged", "no log"])
def test_what_cannot_be_brought_in_is_told_and_another_can_be_chosen(two: Two, fault: str) -> None:
    opened = two.opened
    two.other.unlink()
    if fault == "another log":
        Book.create(two.other, opened.book.settings, lambda: NOON).close()
    elif fault == "damaged":
        two.other.write_bytes(opened.book.path.read_bytes()[:9000])
    else:
        two.other.write_text("breakfast 128\n" * 100, encoding="utf-8")
    to_bring_in(opened)
    opened.press("my.logbook")
    opened.wait_for_jobs()
    told = {"another log": "a copy of another log", "damaged": "damaged", "no log": "not a log"}
    assert told[fault] in texts(opened)
    assert opened.button("my.logbook").isVisible()
    assert len(opened.book.readings()) == 3


@pytest.mark.parametrize("is_locked", [True, False])
def test_on_a_new_computer_the_copy_takes_the_place_of_the_empty_log(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, is_locked: bool
) -> None:
    old = tmp_path / "old" / "my.logbook"
    stick = tmp_path / "stick"
    stick.mkdir()
    name = "a.logbook.age" if is_locked else "a.logbook"
    with Book.create(old, LogSettings(), lambda: NOON) as book:
        write_readings(book, 3)
        if is_locked:
            lock_log(book.make_copy, stick / name, PHRASE)
        else:
            shutil.copy(book.make_copy(), stick / name)
    places = [SavingPlace(stick, "USB stick BLUE", "on the USB stick BLUE")]
    monkeypatch.setattr(my_plan_sharing, "find_places", lambda: places)
    with open_window(qtbot, tmp_path) as opened:
        opened.press("My plan")
        to_bring_in(opened)
        opened.press(name)
        if is_locked:
            assert isinstance(opened.view, BringInView)
            opened.type_into(opened.view.words, PHRASE)
            opened.press("Open this copy")
        wait_for_words(opened)
        assert "has no readings yet" in texts(opened)
        opened.press("Go back to this copy")
        opened.wait_for_jobs()
        assert len(opened.book.readings()) == 3
        opened.window._undo()
        assert opened.book.readings() == [], opened.message


def test_a_locked_copy_is_saved_with_its_sheet_and_opens(two: Two) -> None:
    opened = two.opened
    opened.clicks = 0
    opened.press("Sharing")
    opened.press("Locked copy for a USB stick")
    assert isinstance(opened.view, LockedView)
    phrase = sheet_of(opened.page).phrase
    shown = texts(opened)
    for number, word in enumerate(phrase.split(), start=1):
        assert f"{number}. {word}" in shown
    opened.press("Save the sheet as PDF")
    opened.press("Documents")
    opened.wait_for_jobs()
    opened.wait_for_jobs()
    (sheet,) = (two.stick.parent / "documents").iterdir()
    document = pypdfium2.PdfDocument(sheet)
    try:
        words = document[0].get_textpage().get_text_range().split()
    finally:
        document.close()
    assert set(phrase.split()) <= set(words)
    opened.press("Save the locked copy")
    opened.press("USB stick BLUE")
    wait_for_words(opened)
    assert opened.message.endswith("It was read back and opens with its words.")
    assert opened.clicks <= 7
    (locked,) = two.stick.glob("*.age")
    assert "".join(locked.name.split()) in "".join(words)
    assert unlock(locked, phrase).startswith(b"SQLite format 3\0")
    opened.press("Locked copy for a USB stick")
    assert sheet_of(opened.page).phrase != phrase, "each copy has words of its own"


def test_a_locked_copy_that_cannot_be_kept_is_told(two: Two) -> None:
    opened = two.opened
    shutil.rmtree(two.stick)
    two.stick.write_text("in the way", encoding="utf-8")
    opened.press("Sharing")
    opened.press("Locked copy for a USB stick")
    phrase = sheet_of(opened.page).phrase
    opened.press("Save the locked copy")
    opened.press("USB stick BLUE")
    wait_for_words(opened)
    assert "cannot be written" in opened.message or "is not there" in opened.message
    assert sheet_of(opened.page).phrase == phrase, "the sheet that was printed still fits"


def test_the_report_is_saved_with_a_password(two: Two) -> None:
    opened = two.opened
    opened.window.show_page("visit")
    opened.clicks = 0
    opened.press("Save as PDF")
    opened.press("Save with a password, for e-mail")
    view = opened.view
    assert isinstance(view, PasswordView)
    words = view.words.text()
    assert len(words.split()) == 5
    assert set(words.split()) <= set(phrase_words())
    opened.press("Save with these words")
    assert words in texts(opened)
    opened.press("USB stick BLUE")
    opened.wait_for_jobs()
    opened.wait_for_jobs()
    assert opened.clicks == 4
    (file,) = two.stick.glob("*.pdf")
    assert "locked" in file.name
    reader = pypdf.PdfReader(BytesIO(file.read_bytes()))
    assert reader.is_encrypted
    assert reader.decrypt("guess") is pypdf.PasswordType.NOT_DECRYPTED
    assert reader.decrypt(words) is not pypdf.PasswordType.NOT_DECRYPTED
    assert len(reader.pages) >= 1


def test_a_password_of_ones_own_has_12_letters(two: Two) -> None:
    opened = two.opened
    opened.window.show_page("visit")
    opened.press("Save as PDF")
    opened.press("Save with a password, for e-mail")
    view = opened.view
    assert isinstance(view, PasswordView)
    opened.type_into(view.words, "short")
    opened.press("Save with these words")
    assert opened.view is view
    assert "at least 12 letters" in view.problem_text
    opened.type_into(view.words, "my own long one")
    opened.press("Save with these words")
    opened.press("USB stick BLUE")
    opened.wait_for_jobs()
    opened.wait_for_jobs()
    (file,) = two.stick.glob("*.pdf")
    reader = pypdf.PdfReader(BytesIO(file.read_bytes()))
    assert reader.decrypt("my own long one") is not pypdf.PasswordType.NOT_DECRYPTED


@pytest.mark.parametrize("percent", [100, 300])
def test_a_title_of_two_lines_is_never_cut(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, percent: int
) -> None:
    """In the largest letters it scrolls with the page; else it stands above it."""
    monkeypatch.setattr(visit_out, "find_places", list)
    preferences = Preferences(paper="letter", text_percent=percent)
    with open_window(qtbot, tmp_path, preferences=preferences) as opened:
        write_readings(opened.book, 1)
        opened.window.show_page("my_plan")
        page = opened.page
        for name in ("locked_sheet_save", "sharing", "locked_sheet_save"):
            page.turn_to(name)
            for _round in range(3):
                QApplication.processEvents()
            title = page.title
            assert title.isVisible()
            assert title.height() >= title.heightForWidth(title.width())
            is_inside = page.scrolled.content.isAncestorOf(title)
            assert is_inside == (percent == 300 and name == "locked_sheet_save")
