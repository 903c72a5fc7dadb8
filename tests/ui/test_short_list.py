"""The short list after the first start: one thing at a time, and each of them can wait."""

from __future__ import annotations

from pathlib import Path
from uuid import uuid4

import pytest
from pytestqt.qtbot import QtBot

from logbook.domain.targets import TargetKind
from logbook.domain.visits import Contact
from logbook.preferences import Preferences
from logbook.ui.pages.my_plan import MyPlan
from logbook.ui.pages.write_down import WriteDown
from logbook.ui.parts.view_page import ViewPage
from tests.ui.looking_window import target
from tests.ui.writing_window import Writer, writing_window

PHONE = "For later: whom will you phone after a low?"
TARGETS = "For later: which target numbers did your provider give you?"
FINGERS = "For later: which hand holds the lancing device? Do you prick both?"
PAGES = (WriteDown, MyPlan)


def save_one(person: Writer) -> str:
    """The question that stands below the next saved reading; empty for none."""
    if person.page.step is person.page.result_step:
        person.press("Write down another")
    person.press("1", "2", "8", "Save 128 mg/dL")
    words = person.page.result_step.offer_words
    return words.text() if words.isVisible() else ""


def test_each_comes_after_the_one_before_was_put_off(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, pages=PAGES) as person:
        for question in (PHONE, TARGETS, FINGERS):
            assert save_one(person) == question
            person.press("Later")
            assert not person.page.result_step.offer_words.isVisible()
        assert save_one(person) == ""


@pytest.mark.parametrize(("put_off", "view"), [("", "people"), ("phone " * 3, "targets")])
def test_it_leads_to_the_place(qtbot: QtBot, tmp_path: Path, put_off: str, view: str) -> None:
    with writing_window(tmp_path, pages=PAGES) as person:
        person.window.desk.prefer(put_off=put_off.strip())
        save_one(person)
        person.press("Answer now")
        assert isinstance(person.window.page, ViewPage)
        assert person.window.page.view_name == view


def test_who_looked_at_the_fingers_is_not_asked_again(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, pages=PAGES) as person:
        person.book.add(Contact(uuid4(), "person", "Anna", "555 0100"))
        person.book.add(target(TargetKind.FASTING, 80, 130))
        assert save_one(person) == FINGERS
        person.press("Answer now")
        assert isinstance(person.window.page, ViewPage)
        assert person.window.page.view_name == "fingers"
        person.press("Write down")
        assert save_one(person) == ""


def test_what_was_put_off_three_times_is_never_asked_again(qtbot: QtBot, tmp_path: Path) -> None:
    kept = Preferences()
    for _start in range(3):
        with writing_window(tmp_path, pages=PAGES) as person:
            person.window.desk.prefer(put_off=kept.put_off)
            assert save_one(person) == PHONE
            person.press("Later")
            kept = person.window.desk.preferences
    with writing_window(tmp_path, pages=PAGES) as person:
        person.window.desk.prefer(put_off=kept.put_off)
        assert save_one(person) == TARGETS
