"""Rows of a form, built in one place so that every field has all it needs.

A row is a label above its field, the label being the field's buddy, a sentence of help, the unit,
and room for what is wrong. A screen reader gets the label as name, help and unit as description.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QButtonGroup,
    QGridLayout,
    QLineEdit,
    QPlainTextEdit,
    QVBoxLayout,
    QWidget,
)

from logbook.ui.parts.big_button import BigButton, ButtonKind
from logbook.ui.parts.even_grid import EvenGrid
from logbook.ui.parts.texts import Words
from logbook.ui.theme import BODY, CONTROL, GAP, Look


class Choice(QWidget):
    """Some things of which one is chosen, or any number (`several`): tiles with a tick.

    Emits `chosen` with the value (or the tuple of values) after the person changed it.
    """

    chosen = Signal(object)

    def __init__(
        self,
        look: Look,
        label: str,
        options: Sequence[tuple[Any, str]],
        *,
        columns: int = 2,
        several: bool = False,
        kind: ButtonKind = ButtonKind.TILE,
        shows_label: bool = True,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._several = several
        self.setAccessibleName(label)
        self.label = Words(look, label, "heading", self)
        self.label.setVisible(shows_label and bool(label))
        self.tiles = EvenGrid(columns, may_wrap=kind is ButtonKind.CHIP)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        if shows_label and label:
            column.addWidget(self.label)
        column.addLayout(self.tiles)
        # Arrows move within a group and Tab passes over it, which suits only one choice.
        self._group = None if several else QButtonGroup(self)
        self.buttons: dict[Any, BigButton] = {}
        for value, text in options:
            button = BigButton(look, text, kind)
            button.setCheckable(True)
            button.describe(label)
            self.buttons[value] = button
            if self._group is not None:
                self._group.addButton(button)
            self.tiles.addWidget(button)
            button.clicked.connect(self._tell)

    @property
    def value(self) -> Any:
        """The value that is chosen, None without one (a tuple when several can be)."""
        values = tuple(value for value, button in self.buttons.items() if button.isChecked())
        if self._several:
            return values
        return values[0] if values else None

    def choose(self, value: Any) -> None:
        """Show this as chosen (a tuple when several can be); None for nothing. Emits nothing."""
        wanted = (value or ()) if self._several else (value,)
        # An exclusive group keeps its last button checked unless it is let go for a moment.
        if self._group is not None:
            self._group.setExclusive(False)
        for each, button in self.buttons.items():
            button.setChecked(each in wanted)
        if self._group is not None:
            self._group.setExclusive(True)

    def _tell(self) -> None:
        self.chosen.emit(self.value)


class TextField(QLineEdit):
    """One line to type into. `row` is the whole row, `show_problem` says in it what is wrong."""

    def __init__(self, look: Look, label: str, *, help_text: str = "", unit: str = "") -> None:
        super().__init__()
        self._look = look
        self.row = QWidget()
        self._label = Words(look, label, "heading")
        self._label.setBuddy(self)
        self._problem = Words(look)
        self._problem.hide()
        self.setAccessibleName(label)
        self.setAccessibleDescription(" ".join(filter(None, (help_text, unit))))
        column = QVBoxLayout(self.row)
        column.setContentsMargins(4, 0, 4, 4)
        column.setSpacing(4)
        column.addWidget(self._label)
        if help_text:
            column.addWidget(Words(look, help_text))
        line = QGridLayout()
        line.setSpacing(GAP)
        line.addWidget(self, 0, 0)
        if unit:
            line.addWidget(Words(look, unit), 0, 1)
        line.setColumnStretch(0, 100)
        line.setColumnStretch(2, 1)
        column.addLayout(line)
        column.addWidget(self._problem)
        look.changed.connect(self.restyle)
        self.restyle()

    def restyle(self) -> None:
        """Take the face and size of the present theme."""
        self.setFont(self._look.font(BODY, figures=True))
        self.setMinimumHeight(max(CONTROL, self._look.theme.pixels(BODY) + 24))
        self.setMaximumWidth(self._look.theme.pixels(BODY) * 24)

    def show_problem(self, text: str) -> None:
        """What is wrong and how to mend it, beside the field; what was typed stays."""
        self._problem.say(text)


class NoteField(QPlainTextEdit):
    """A few lines to type into; Tab leaves it."""

    def __init__(self, look: Look, label: str, *, help_text: str = "", lines: int = 3) -> None:
        super().__init__()
        self._look, self._lines = look, lines
        self.row = QWidget()
        self._label = Words(look, label, "heading")
        self._label.setBuddy(self)
        self.setAccessibleName(label)
        self.setAccessibleDescription(help_text)
        self.setTabChangesFocus(True)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAsNeeded)
        column = QVBoxLayout(self.row)
        column.setContentsMargins(4, 0, 4, 4)
        column.setSpacing(4)
        column.addWidget(self._label)
        if help_text:
            column.addWidget(Words(look, help_text))
        column.addWidget(self)
        look.changed.connect(self.restyle)
        self.restyle()

    def restyle(self) -> None:
        """Take the face and size of the present theme."""
        self.setFont(self._look.font(BODY, figures=True))
        self.setFixedHeight(self._look.theme.pixels(BODY) * 3 * self._lines // 2 + 24)
        self.setMaximumWidth(self._look.theme.pixels(BODY) * 33)


class FormRows(QWidget):
    """A column of rows; each `add_...` returns the field, ready to read."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(2 * GAP)

    def add_text(
        self, label: str, value: str = "", *, help_text: str = "", unit: str = ""
    ) -> TextField:
        """One line to type into."""
        field = TextField(self._look, label, help_text=help_text, unit=unit)
        field.setText(value)
        self._column.addWidget(field.row)
        return field

    def add_note(
        self, label: str, value: str = "", *, help_text: str = "", lines: int = 3
    ) -> NoteField:
        """A few lines to type into."""
        field = NoteField(self._look, label, help_text=help_text, lines=lines)
        field.setPlainText(value)
        self._column.addWidget(field.row)
        return field

    def add_choice(
        self,
        label: str,
        options: Sequence[tuple[Any, str]],
        chosen: Any = None,
        *,
        columns: int = 2,
        several: bool = False,
    ) -> Choice:
        """Tiles of which one, or several, are chosen."""
        choice = Choice(self._look, label, options, columns=columns, several=several)
        choice.choose(chosen)
        self._column.addWidget(choice)
        return choice

    def add_words(self, text: str, role: str = "body") -> Words:
        """A sentence between the rows."""
        words = Words(self._look, text, role)
        self._column.addWidget(words)
        return words

    def add_widget(self, widget: QWidget) -> None:
        """Anything else, as a row of its own."""
        self._column.addWidget(widget)
