"""A unit is never torn at its slash, and what a text says stays what it was."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtGui import QFont, QFontMetrics, QTextLayout
from pytestqt.qtbot import QtBot

from logbook.ui.parts.texts import Words
from logbook.ui.parts.unbroken import plain, unbroken
from tests.ui.writing_window import writing_window


def lines_of(text: str, font: QFont, width: int) -> list[str]:
    """The lines in which Qt lays a text out."""
    layout, lines = QTextLayout(text, font), []
    layout.beginLayout()
    while (line := layout.createLine()).isValid():
        line.setLineWidth(width)
        lines.append(text[line.textStart() : line.textStart() + line.textLength()].strip())
    layout.endLayout()
    return lines


@pytest.mark.parametrize("unit", ["mg/dL", "mmol/L"])
def test_the_unit_goes_to_the_next_line_as_a_whole(qtbot: QtBot, tmp_path: Path, unit: str) -> None:
    with writing_window(tmp_path) as person:
        words = Words(person.window.desk.look, f"It was 171 {unit} then")
        qtbot.addWidget(words)
        text, font = words.text(), words.font()
        first = unit.partition("/")[0]
        width = QFontMetrics(font).horizontalAdvance(f"It was 171 {first}/") + 3
        assert lines_of(text, font, width)[0].endswith("/")  # the control: so Qt does it
        assert lines_of(unbroken(text), font, width) == ["It was 171", f"{unbroken(unit)} then"]
        assert text == f"It was 171 {unit} then"


def test_only_units_are_joined() -> None:
    assert unbroken("before and/or after, 3/4") == "before and/or after, 3/4"
    joined = unbroken("128 mg/dL")
    assert joined != "128 mg/dL"
    assert plain(joined) == "128 mg/dL"
