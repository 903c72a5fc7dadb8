"""The short list after the first start: one thing at a time, and each of them can wait."""

from __future__ import annotations

from pathlib import Path
from uuid import uuid4

import pytest
from pytestqt.qtbot import QtBot

from logbook.domain.targets import TargetKind
from logbook.domain.ticks import About, Tick, Told
from logbook.domain.visits import Contact
from logbook.preferences import Preferences
from logbook.ui.pages.my_plan import MyPlan
from logbook.ui.pages.write_down import WriteDown
from logbook.ui.parts.view_page import ViewPage
from tests.ui.looking_window import target
from tests.ui.writing_window import NOON, Writer, writing_window

PHONE = "For later: whom will you phone after a low?"
SOUND = "For later: can you hear this computer ring? After a low it reminds you to check."
MEDICINES = "For later: do you take a beta blocker, a steroid or a blood thinner?"
METER = "For later: could something fool your meter, such as anaemia or dialysis?"
TARGETS = "For later: which target numbers did your provider give you?"
FINGERS = "For later: which hand holds the lancing device? Do you prick both?"
COPIES = "For later: do you want a copy of your log on a USB stick?"
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
        for question in (PHONE, SOUND, MEDICINES, METER, TARGETS, FINGERS, COPIES):
            assert save_one(person) == question
            person.press("Later")
            assert not person.page.result_step.offer_words.isVisible()
        assert save_one(person) == ""


@pytest.mark.parametrize(
    ("put_off", "view"),
    [
        ("", "people"),
        ("phone " * 3, "sound"),
        ("phone " * 3 + "sound " * 3, "know"),
        ("phone " * 3 + "sound " * 3 + "medicines " * 3, "know_meter"),
        ("phone " * 3 + "sound " * 3 + "medicines " * 3 + "meter " * 3, "targets"),
    ],
)
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
        person.window.desk.prefer(heard_ring=True)
        for about in (About.BETA_BLOCKER, About.ANAEMIA):
            person.book.add(Tick(uuid4(), about, Told.NO, NOON.date(), NOON))
        assert save_one(person) == FINGERS
        person.press("Answer now")
        assert isinstance(person.window.page, ViewPage)
        assert person.window.page.view_name == "fingers"
        person.press("Write down")
        assert save_one(person) == COPIES
        person.press("Answer now")
        assert person.window.page.name == "my_plan"
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
        assert save_one(person) == SOUND


def test_who_looked_at_the_medicines_is_not_asked_again(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, pages=PAGES) as person:
        person.window.desk.prefer(put_off="phone phone phone", heard_ring=False)
        assert save_one(person) == MEDICINES
        person.press("Answer now", "Write down")
        assert save_one(person) == METER


def test_what_was_told_at_the_first_start_leaves_the_others_open(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with writing_window(tmp_path, pages=PAGES) as person:
        person.window.desk.prefer(put_off="phone phone phone", heard_ring=False)
        for about in (About.INSULIN, About.LOW_CAUSING_TABLETS):
            person.book.add(Tick(uuid4(), about, Told.NO, NOON.date(), NOON))
        assert save_one(person) == MEDICINES


@pytest.mark.parametrize(
    "presses",
    [
        ("3", "1", "8", "Save 318 mg/dL"),
        ("3", "1", "8", "Save 318 mg/dL", "I tested again", "3", "2", "0", "Save 320 mg/dL"),
        ("1", "0", "8", "Save 108 mg/dL", "I feel unwell"),
        ("Meter shows HI", "Yes, save HI"),
    ],
)
def test_nothing_is_asked_for_later_while_something_is_to_be_done_now(
    qtbot: QtBot, tmp_path: Path, presses: tuple[str, ...]
) -> None:
    with writing_window(tmp_path, pages=PAGES) as person:
        person.press(*presses)
        assert person.page.step is person.page.result_step
        assert not person.page.result_step.offer_words.isVisible()
