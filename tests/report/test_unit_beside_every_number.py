"""No glucose number on paper, and none printed by `summary`, without its unit.

A sentence names the unit itself. A row of a table may leave it to a heading above it on the same
page ("Values in mg/dL").
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from unittest.mock import patch

import pytest

from logbook.book import Book
from logbook.domain.glucose import Unit
from logbook.domain.moments import Period
from logbook.domain.settings import LogSettings
from logbook.domain.targets import TargetBook
from logbook.report import front_words
from logbook.report.options import Print
from logbook.report.visit import ReportOptions, visit_report
from tests.commands.command_runs import run
from tests.report.invented import LAST_DAY, visit_data
from tests.report.reading_back import Printed
from tests.unit_scan import (
    ORDINARY,
    bare_sentences,
    has_number,
    marked_readings,
    marked_targets,
    numbers_of,
)


def pages(unit: Unit, options: ReportOptions) -> Iterator[str]:
    """The text of each page of a report on a marked log, read back by pypdf."""
    settings = LogSettings(unit=unit, home_zone="UTC")
    readings = marked_readings(unit, "UTC", LAST_DAY, 60)
    data = visit_data(readings, Period.ending(LAST_DAY, 90), settings)
    data = replace(data, targets=TargetBook(tuple(marked_targets(unit))))
    printed = Printed(visit_report(data, options))
    for page in range(printed.page_count):
        yield printed.text(page)
    printed.close()


def bare_lines(page: str, unit: Unit) -> list[str]:
    """The lines with a glucose number that have its unit neither in them nor above them."""
    found: list[str] = []
    is_headed = False
    # A line that goes on ends with a space.
    for line in page.replace(" \n", " ").splitlines():
        is_headed = is_headed or f"in {unit.value}" in line
        is_sentence = line.rstrip().endswith(".") or " · " in line
        if not is_headed or is_sentence:
            found += bare_sentences(line, unit)
    return found


_TIMES_OF_DAY = ("Fasting", "Before lunch", "After lunch", "Bedtime")

OPTIONS = {
    "standard": ReportOptions(grid_days=None),
    "large": ReportOptions(print=Print.LARGE, grid_days=None),
    "appendix": ReportOptions(appendix=True),
}


@pytest.mark.parametrize("unit", list(Unit))
@pytest.mark.parametrize("options", OPTIONS.values(), ids=OPTIONS)
def test_paper(unit: Unit, options: ReportOptions) -> None:
    faults, seen = [], 0
    for number, page in enumerate(pages(unit, options), start=1):
        seen += sum(has_number(line, unit) for line in page.splitlines())
        faults += [f"page {number}: {line}" for line in bare_lines(page, unit)]
    assert seen > 40
    assert not faults, "\n".join(faults)


def test_control_without_the_headings_every_row_is_bare() -> None:
    for page in pages(Unit.MG_DL, OPTIONS["standard"]):
        assert bare_lines(page.replace(" in mg/dL", ""), Unit.MG_DL)


def test_control_a_sentence_that_drops_its_unit_is_found() -> None:
    with patch.object(
        front_words, "glucose_text", lambda glucose, **_: str(glucose.order_steps), create=True
    ):
        printed = list(pages(Unit.MG_DL, OPTIONS["standard"]))
    assert any(bare_lines(page, Unit.MG_DL) for page in printed)


@pytest.mark.parametrize("unit", list(Unit))
def test_summary(tmp_path: Path, unit: Unit) -> None:
    path = tmp_path / "marked.logbook"
    readings = list(marked_readings(unit, "UTC", LAST_DAY, 60))
    now = readings[-1].at.instant
    with Book.create(path, LogSettings(unit=unit, home_zone="UTC"), lambda: now) as book:
        book.take_in(readings, "invented.csv")
        book.add(*marked_targets(unit))
    out = run("summary", "--log", path).out
    assert sum(has_number(line, unit) for line in out.splitlines()) > 5
    before, _, times_of_day = out.partition("Time of day")
    heading, _, rows = times_of_day.partition("\n")
    assert bare_lines(before, unit) == []
    # The one exception: the middle value of a time of day. It goes when its heading names the unit.
    bare = bare_lines(rows, unit)
    assert bare
    assert all(line.startswith(_TIMES_OF_DAY) for line in bare)
    assert unit.value not in heading, "take the exception out"

    told = json.loads(run("summary", "--json", "--log", path).out)
    # One unit for every number in it, named first.
    assert next(iter(told.items())) == ("unit", unit.value)
    assert told["figures"]["median"] == ORDINARY[unit] / unit.steps_per_one
    assert {str(low["value"]) for low in told["lows"]} <= numbers_of(unit)
