"""How soon the sugar is on screen after Save, and what watching costs: `pytest -m benchmark -s`.

Turn by turn with an ordinary reading in the same window, on a log of a few weeks and on one of
twenty years; the times are printed, the ratios are held.
"""

from __future__ import annotations

from pathlib import Path
from statistics import median
from time import perf_counter

import pytest
from pytestqt.qtbot import QtBot

from logbook.book import Book
from logbook.domain.moments import Moment
from tests.benchmarks.test_store_speed import TWENTY_YEARS, make_readings
from tests.ui.writing_window import Writer, settle, writing_window

pytestmark = [pytest.mark.benchmark, pytest.mark.slow]

_TIMES = 15
_FEW_WEEKS = 300


def _milliseconds(person: Writer, number: str) -> float:
    """From the press on Save until the page that follows is painted."""
    for character in number:
        person.press(character)
    save = person.button(f"Save {number} mg/dL")
    begun = perf_counter()
    save.click()
    person.page.grab()
    taken = 1_000 * (perf_counter() - begun)
    person.window.desk.book.undo()
    settle()
    return taken


def _medians(folder: Path, count: int) -> tuple[float, float, float]:
    """Of a low, of an ordinary reading, and of one look at the clock during a low."""
    made = make_readings(count)
    end = made[-1].at.instant

    def fill(book: Book) -> None:
        for first in range(0, count, 2_000):
            book.add(*made[first : first + 2_000])

    now = Moment.at(end, "America/New_York").instant
    lows, others, looks = [], [], []
    with writing_window(folder, now=now.replace(microsecond=0), prepare=fill) as person:
        person.pass_time(hours=20)
        person.page._begin()
        for _time in range(_TIMES):
            others.append(_milliseconds(person, "128"))
            lows.append(_milliseconds(person, "62"))
        person.press("6", "2", "Save 62 mg/dL")
        assert "Take 15 grams of fast sugar now" in person.words()
        for _time in range(_TIMES):
            begun = perf_counter()
            person.window.beat()
            looks.append(1_000 * (perf_counter() - begun))
    return median(lows), median(others), median(looks)


def test_the_sugar_is_there_as_soon_as_any_result(qtbot: QtBot, tmp_path: Path) -> None:
    few_folder, many_folder = tmp_path / "few", tmp_path / "many"
    few_folder.mkdir()
    many_folder.mkdir()
    low, other, look = _medians(few_folder, _FEW_WEEKS)
    old_low, old_other, old_look = _medians(many_folder, TWENTY_YEARS)
    print(
        f"\n{_FEW_WEEKS} readings: low {low:.0f} ms, other {other:.0f} ms, look {look:.1f} ms"
        f"\n{TWENTY_YEARS} readings: low {old_low:.0f} ms, other {old_other:.0f} ms, "
        f"look {old_look:.1f} ms"
    )
    assert low <= 1.5 * other
    assert old_low <= 1.5 * old_other
    assert old_low <= 3 * low
    assert old_look <= 5 * look
