"""Asking for the way of Tab ties no widget to another one that may be deleted before it."""

from __future__ import annotations

import shiboken6
from PySide6.QtWidgets import QPushButton, QVBoxLayout, QWidget
from pytestqt.qtbot import QtBot

from logbook.ui.parts.even_grid import EvenGrid
from logbook.ui.parts.tab_order import follow, last_inside, way_from


def button_and_grid(qtbot: QtBot) -> tuple[QWidget, QPushButton, QPushButton, QWidget]:
    """A place, a button, and behind it another one in a grid, and the box with the grid."""
    place, box = QWidget(), QWidget()
    qtbot.addWidget(place)
    column = QVBoxLayout(place)
    first, second = QPushButton("first"), QPushButton("second")
    column.addWidget(first)
    grid = EvenGrid(2)
    box.setLayout(grid)
    grid.addWidget(second)
    column.addWidget(box)
    return place, first, second, box


def holder_of(widget: QWidget) -> str:
    """The wrapper with which this one goes, as PySide's own description names it."""
    (line,) = [one for one in shiboken6.dump(widget).splitlines() if one.startswith("parent.")]
    return line.partition("<")[2].partition(">")[0]


def test_the_way_is_that_of_tab(qtbot: QtBot) -> None:
    place, first, second, _box = button_and_grid(qtbot)
    assert [one for one in way_from(place) if one in (first, second)] == [first, second]
    assert last_inside(place) is second


def test_asking_ties_no_widget_to_another(qtbot: QtBot) -> None:
    place, _first, second, box = button_and_grid(qtbot)
    before = holder_of(box)
    assert before.startswith("PySide6.QtWidgets.QWidget ")
    assert last_inside(place) is second
    follow(place, [second])
    assert list(way_from(box))
    assert holder_of(box) == before


def test_asking_qt_directly_ties_the_two(qtbot: QtBot) -> None:
    """The control: the day this fails, PySide is mended and `tab_order` can be simpler."""
    _place, first, _second, box = button_and_grid(qtbot)
    assert first.nextInFocusChain() is box
    assert holder_of(box).startswith("PySide6.QtWidgets.QPushButton ")
