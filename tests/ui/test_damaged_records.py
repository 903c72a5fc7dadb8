"""A damaged reading is nowhere a number: every page and view of the window, and every printed page.

Two readings of an invented log are altered in the file behind its back: one whose number no other
has, and a very low one, which would bring up a call. The control is the same log unharmed.
"""

from __future__ import annotations

import io
import json
import os
import re
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from datetime import timedelta
from pathlib import Path

import pytest
from pypdf import PdfReader
from pytestqt.qtbot import QtBot

from logbook import app
from logbook.book import Book
from logbook.cli import main
from logbook.domain.moments import Moment, Period
from logbook.domain.readings import Reading
from logbook.domain.sites import SIDES, Hand, Place, Site, SiteUse
from logbook.domain.slots import Slot
from logbook.report.options import Paper, ReportOptions
from logbook.report.visit import visit_report
from logbook.ui.damage_watch import DamageWatch
from logbook.ui.parts.view_page import ViewPage
from tests.ui.looking_window import TODAY, full_log, one_reading
from tests.ui.test_unit_beside_every_number import texts_of
from tests.ui.writing_window import NOON, ZONE, Writer, settle, writing_window

HIGH, LOW = 237, 41
_NUMBERS = re.compile(rf"(?<![\d:.,/-])(?:{HIGH}|{LOW})(?![\d:.,/-])(?=.{{0,3}}mg/dL)")
# They need a reading that was chosen; a damaged one can't be.
_ABOUT_ONE = ("look_back/correct", "look_back/cross_out", "look_back/erase_note")
PLACE = Site(Hand.RIGHT, Place.THUMB, SIDES[0])


def marked(steps: int, days_ago: int, slot: Slot) -> Reading:
    return one_reading(
        f"{TODAY - timedelta(days=days_ago)} 16:3{days_ago}",
        steps,
        slot,
        site=PLACE,
        site_use=SiteUse.USED,
        note="a note that stands there",
    )


def made(folder: Path, *, is_harmed: bool) -> Path:
    """The log, closed."""
    path = folder / "my.logbook"
    with writing_window(folder, prepare=full_log) as person:
        used = {one.glucose.text for one in person.readings}
        assert not used & {str(HIGH), str(LOW)}
        person.book.take_in(
            [marked(HIGH, 1, Slot.BEFORE_DINNER), marked(LOW, 2, Slot.BEFORE_DINNER)], "two.csv"
        )
        # Undo names the last action, whose change is whole; it is not to be about these two.
        person.book.add(one_reading(f"{TODAY} 08:00", 99))
    if is_harmed:
        with closing(sqlite3.connect(path)) as connection:
            spoilt = connection.execute(
                "UPDATE readings SET unit = unit, wall_minute = wall_minute, note = note || '!' "
                f"WHERE steps IN ({HIGH}, {LOW})"
            )
            assert spoilt.rowcount == 2
            connection.commit()
    return path


def walk(person: Writer) -> Iterator[str]:
    """Every page, and every view of each that can be turned to by its name."""
    for name in ("write_down", "fingers", "look_back", "kit", "visit", "my_plan"):
        person.window.show_page(name)
        settle()
        yield name
        page = person.window.page
        if isinstance(page, ViewPage):
            for view in page.makers:
                if f"{name}/{view}" in _ABOUT_ONE:
                    continue
                person.window.show_page(f"{name}/{view}")
                settle()
                yield f"{name}/{view}"
                for way in getattr(page.view, "ways", ()):
                    page.view.turn_to_way(way)  # type: ignore[attr-defined]
                    settle()
                    yield f"{name}/{view}, {way}"


def seen_in_window(folder: Path) -> tuple[list[str], set[str]]:
    """Where one of the numbers stands, and every text that was seen."""
    found, texts = [], set()
    with writing_window(folder, pages=app.page_types()) as person:
        for place in walk(person):
            for _widget, text in texts_of(person.window):
                texts.add(text)
                found += [f"{place}: {text}"] if _NUMBERS.search(text) else []
    return found, texts


def test_it_is_a_number_nowhere_in_the_window(qtbot: QtBot, tmp_path: Path) -> None:
    made(tmp_path, is_harmed=True)
    found, texts = seen_in_window(tmp_path)
    assert found == []
    assert any("Damaged" in text for text in texts)


def test_the_walk_sees_the_same_numbers_where_they_are_not_damaged(
    qtbot: QtBot, tmp_path: Path
) -> None:
    made(tmp_path, is_harmed=False)
    found, _texts = seen_in_window(tmp_path)
    assert any(str(HIGH) in text for text in found)
    assert any(str(LOW) in text for text in found)
    assert {text.partition("/")[0] for text in found} & {"look_back", "fingers"}


@pytest.mark.parametrize("is_harmed", [True, False])
def test_it_is_a_number_nowhere_on_paper(qtbot: QtBot, tmp_path: Path, is_harmed: bool) -> None:
    path = made(tmp_path, is_harmed=is_harmed)
    with Book.open(path, lambda: NOON, read_only=True) as book:
        first, last = book.span() or (TODAY, TODAY)

        data = book.visit_data(Period(first, last), Moment.at(NOON, ZONE))
    content = visit_report(data, ReportOptions(paper=Paper.LETTER, appendix=True))
    pages = [page.extract_text() for page in PdfReader(io.BytesIO(content)).pages]
    numbers = re.findall(rf"(?<![\d:.,]){HIGH}(?![\d:.,])", "\n".join(pages))
    assert bool(numbers) is not is_harmed
    assert is_harmed is any(
        "no longer what was written" in " ".join(page.split()) for page in pages
    )


@pytest.mark.parametrize("is_harmed", [True, False])
def test_it_is_in_no_figure(
    qtbot: QtBot,
    tmp_path: Path,
    is_harmed: bool,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    path = made(tmp_path, is_harmed=is_harmed)
    monkeypatch.setattr(os, "umask", lambda _mask: 0o022)  # it is the whole process's
    assert main(["summary", "--json", "--log", str(path)]) == 0
    told = json.loads(capsys.readouterr().out)
    assert (told["figures"]["min"] == LOW) is not is_harmed


def test_what_the_check_finds_waits_for_the_person(qtbot: QtBot, tmp_path: Path) -> None:
    made(tmp_path, is_harmed=True)
    with writing_window(tmp_path, pages=app.page_types()) as person:
        desk = person.window.desk
        DamageWatch(desk, person.window)
        qtbot.waitUntil(lambda: desk.damage is not None, timeout=20_000)
        short = "Something in your log is damaged."
        waiting = person.window.side_list.waiting
        person.click(waiting)
        assert short in person.words()
        assert "2 records are no longer what was written." in person.words()
        person.button("Show the copies").click()
        settle()
        assert person.window.page.name == "my_plan"
        assert person.window.page.title.text() == "Copies of your log"


def test_a_sound_log_says_nothing(qtbot: QtBot, tmp_path: Path) -> None:
    made(tmp_path, is_harmed=False)
    with writing_window(tmp_path, pages=app.page_types()) as person:
        desk = person.window.desk
        DamageWatch(desk, person.window)
        qtbot.waitUntil(lambda: not desk.work.is_busy, timeout=20_000)
        settle()
        assert desk.damage is None
