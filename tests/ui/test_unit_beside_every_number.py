"""No glucose number in the window without its unit: what is shown, and what is read out."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from unittest.mock import patch

import pytest
from PySide6.QtWidgets import (
    QAbstractButton,
    QApplication,
    QLabel,
    QLineEdit,
    QPlainTextEdit,
    QTableWidget,
    QWidget,
)
from pytestqt.qtbot import QtBot

from logbook.book import Book
from logbook.domain.glucose import Unit, steps_to_value
from logbook.domain.settings import LogSettings
from logbook.ui.pages import look_back_words
from logbook.ui.pages.look_back import LookBack
from logbook.ui.parts.view_page import ViewPage
from logbook.wording.figures import span_text
from tests.ui.looking_window import TODAY, Looker, looking_window
from tests.ui.plan_window import open_window
from tests.ui.test_visit_and_plan_geometry import walk as walk_visit_and_plan
from tests.ui.writing_window import ZONE, Writer, settle, writing_window
from tests.unit_scan import (
    LOW,
    ORDINARY,
    VERY_HIGH,
    bare_sentences,
    has_number,
    marked_readings,
    marked_targets,
)


def fill(book: Book) -> None:
    unit = book.settings.unit
    book.take_in(list(marked_readings(unit, ZONE, TODAY, 40)), "invented.csv")
    book.add(*marked_targets(unit))


def texts_of(window: QWidget) -> Iterator[tuple[QWidget, str]]:
    """What each widget on screen shows, and what of it is read out in one go."""
    for widget in window.findChildren(QWidget):
        if not widget.isVisible():
            continue
        if isinstance(widget, (QLabel, QAbstractButton)):
            yield widget, widget.text()
        if isinstance(widget, (QLineEdit, QPlainTextEdit)):
            typed = widget.text() if isinstance(widget, QLineEdit) else widget.toPlainText()
            yield widget, f"{typed} {widget.accessibleDescription()}"
        if isinstance(widget, QTableWidget):
            yield from ((widget, text) for text in _cells_with_headings(widget))
        yield widget, f"{widget.accessibleName()} {widget.accessibleDescription()}"


def _cells_with_headings(table: QTableWidget) -> Iterator[str]:
    for row in range(table.rowCount()):
        for column in range(table.columnCount()):
            item, heading = table.item(row, column), table.horizontalHeaderItem(column)
            if item is not None:
                yield f"{heading.text() if heading else ''} {item.text()}"


def faults_of(window: QWidget, unit: Unit) -> tuple[list[str], int]:
    """Numbers without a unit, and how many texts had a number at all."""
    faults, seen = [], 0
    for widget, text in texts_of(window):
        seen += has_number(text, unit)
        faults += [f"{type(widget).__name__}: {bare}" for bare in bare_sentences(text, unit)]
    return faults, seen


def check(steps: Iterator[str], window: QWidget, unit: Unit, *, at_least: int) -> None:
    """Scan after each step."""
    faults, seen = [], 0
    for step in steps:
        settle()
        bare, numbers = faults_of(window, unit)
        faults += [f"{step}: {fault}" for fault in bare]
        seen += numbers
    assert not faults, "\n".join(sorted(set(faults)))
    assert seen >= at_least


@pytest.mark.parametrize("unit", list(Unit))
def test_write_down(qtbot: QtBot, tmp_path: Path, unit: Unit) -> None:
    settings = LogSettings(unit=unit, country="US", home_zone=ZONE)
    with writing_window(tmp_path, settings=settings, unit=unit, prepare=fill) as person:
        check(_walk_write_down(person), person.window, unit, at_least=15)


def _walk_write_down(person: Writer) -> Iterator[str]:
    page, unit = person.page, person.book.settings.unit
    for steps in (ORDINARY[unit], VERY_HIGH[unit], VERY_HIGH[unit], LOW[unit]):
        page._begin()
        for character in str(steps_to_value(steps, unit)):
            page.filling.type(character)
        yield f"typed {steps}"
        page.saver.save()
        if page.step is page.question_step:
            yield f"question about {steps}"
            page.saver._take_answer("save")
        yield f"saved {steps}"
        if page.step is page.result_step and steps == VERY_HIGH[unit]:
            page.outcome._test_again()
            for character in str(steps_to_value(ORDINARY[unit], unit)):
                page.filling.type(character)
            page.saver.save()
            yield "which of two is believed"
            page.outcome.believing._take("both")
            yield "believed"
    person.book.undo()
    yield "undone"


@pytest.mark.parametrize("unit", list(Unit))
def test_look_back_and_fingers(qtbot: QtBot, tmp_path: Path, unit: Unit) -> None:
    settings = LogSettings(unit=unit, country="US", home_zone=ZONE)
    with looking_window(tmp_path, prepare=fill, settings=settings) as looker:
        check(_walk_looking(looker), looker.window, unit, at_least=40)


def _walk_looking(looker: Looker) -> Iterator[str]:
    for name in ("look_back", "fingers"):
        looker.window.show_page(name)
        page = looker.window.page
        assert isinstance(page, ViewPage)
        if isinstance(page, LookBack):
            page.looking.subject = looker.book.readings(newest_first=True, limit=10)[8].id
            page.looking.show_all()
        for view in page.makers:
            if view.startswith("import_"):
                continue  # these show a file that was picked
            page.turn_to(view)
            QApplication.processEvents()
            yield f"{name} {view}"
            for way in getattr(page.view, "ways", ()):
                page.view.turn_to_way(way)  # type: ignore[attr-defined]
                yield f"{name} {view}, {way}"


@pytest.mark.parametrize("unit", list(Unit))
def test_visit_and_my_plan(qtbot: QtBot, tmp_path: Path, unit: Unit) -> None:
    settings = LogSettings(unit=unit, country="US", home_zone=ZONE, very_high_above=None)
    with open_window(qtbot, tmp_path, settings=settings) as opened:
        fill(opened.book)
        check(walk_visit_and_plan(opened), opened.window, unit, at_least=7)


def test_control_a_number_without_its_unit_is_found(qtbot: QtBot, tmp_path: Path) -> None:
    settings = LogSettings(unit=Unit.MG_DL, country="US", home_zone=ZONE)
    with (
        patch.object(look_back_words, "span_text", lambda figures, **_: span_text(figures)),
        looking_window(tmp_path, prepare=fill, settings=settings) as looker,
    ):
        faults, _ = faults_of(looker.window, Unit.MG_DL)
        assert any("61 to 317" in fault for fault in faults)


@pytest.mark.parametrize(
    ("text", "is_bare"),
    [
        ("173 mg/dL.", False),
        ("It was 173. The unit is mg/dL.", True),
        ("61 to 173 mg/dL", False),
        ("173 readings mg/dL\n173", True),
        ("1:73 PM, 1730, 17.3", False),
        ("Undo: 173 at 12:04 PM", True),
    ],
)
def test_what_counts_as_bare(text: str, is_bare: bool) -> None:
    assert bool(list(bare_sentences(text, Unit.MG_DL))) == is_bare
