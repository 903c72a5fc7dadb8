"""Broken files are refused with line and reason and nothing is half-written; so many each run."""

from dataclasses import replace
from pathlib import Path

import pytest

from logbook.book import Book
from logbook.exchange.diary_file import FileRead, read_diary
from tests.endurance.broken_files import LAYOUT, NOW, faults_found, take_in


def test_eighty_broken_files_are_refused_in_words() -> None:
    assert faults_found(take_in, 80, seed=7) == []


@pytest.mark.endurance
@pytest.mark.slow
def test_five_thousand_broken_files_are_refused_in_words() -> None:
    assert faults_found(take_in, 5_000, seed=1) == []


def _line_by_line(path: Path, book: Book) -> FileRead:
    """Takes readings in while more may follow: what fails half way stays half done."""
    found = read_diary(path, LAYOUT, "UTC", NOW)
    for reading in found.readings:
        book.add(reading)
    return found


def _without_telling(path: Path, book: Book) -> FileRead:
    """Drops the lines that were refused."""
    found = take_in(path, book)
    return FileRead(found.lines, found.readings, found.skipped, ())


def _with_the_next_reason(path: Path, book: Book) -> FileRead:
    """Tells the line before the one that is broken."""
    found = take_in(path, book)
    refused = tuple(replace(line, number=line.number - 1) for line in found.refused)
    return replace(found, refused=refused)


@pytest.mark.parametrize("worse", [_line_by_line, _without_telling, _with_the_next_reason])
def test_an_import_that_does_it_wrong_is_caught(worse: object) -> None:
    """The control: importers with a fault, each of which must show."""
    assert faults_found(worse, 30, seed=7)  # type: ignore[arg-type]
