"""The number of a reading that is corrected: the keypad, and what is typed into it."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QBoxLayout, QVBoxLayout, QWidget

from logbook.domain.glucose import Glucose, Kind
from logbook.ui.desk import Desk
from logbook.ui.draft import Draft, Typed
from logbook.ui.parts.keypad import Keypad
from logbook.ui.theme import GAP


class NumberPart(QWidget):
    """Begins with what was written; the first figure typed begins a new number."""

    edited = Signal()

    def __init__(self, desk: Desk, was: Glucose, *, is_stacked: bool) -> None:
        super().__init__()
        self._desk, self._was = desk, was
        self._is_begun = False
        self._draft = Draft(kind=was.kind, text=was.text if was.kind is Kind.NUMBER else "")
        self.keypad = Keypad(desk.look)
        self.keypad.set_unit(was.unit)
        self.keypad.typed.connect(self._type)
        self.keypad.taken_back.connect(self._take_back)
        self.keypad.cleared.connect(self._clear)
        self.keypad.lo.clicked.connect(self._choose_lo)
        self.keypad.hi.clicked.connect(self._choose_hi)
        directions = QBoxLayout.Direction
        row = QBoxLayout(directions.TopToBottom if is_stacked else directions.LeftToRight, self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(2 * GAP)
        row.addWidget(self.keypad, 3)
        # The words of the meter stand beside the keys here: the page has no height to spare.
        letters = QVBoxLayout()
        letters.setSpacing(2 * GAP)
        letters.addWidget(self.keypad.lo)
        letters.addWidget(self.keypad.hi)
        letters.addStretch(1)
        row.addLayout(letters, 2)
        self._show()

    def glucose(self) -> Glucose:
        """The value as typed. Raises what `Glucose.parse` raises."""
        glucose = self._draft.glucose(self._was.unit)
        # The same value keeps the letters in which it was written.
        return self._was if glucose == self._was else glucose

    def typed(self, event: QKeyEvent) -> bool:
        """A key that no field wanted; True when it belongs to the number."""
        text = event.text()
        if len(text) == 1 and text in "0123456789.,":
            if self._desk.look.presses.admits_key(text, event.timestamp()):
                self._type("." if text == "," else text)
            return True
        if event.key() == Qt.Key.Key_Backspace:
            self._take_back()
            return True
        return False

    def _type(self, character: str) -> None:
        draft = self._draft if self._is_begun else Draft()
        if draft.type(character, self._was.unit, self._desk.clock()) is Typed.TAKEN:
            self._draft = draft
            self._changed()

    def _take_back(self) -> None:
        self._draft.take_back()
        self._changed()

    def _clear(self) -> None:
        self._draft.clear()
        self._changed()

    def _choose_lo(self) -> None:
        self._draft.set_letters(Kind.READS_LOW, self._desk.clock())
        self._changed()

    def _choose_hi(self) -> None:
        self._draft.set_letters(Kind.READS_HIGH, self._desk.clock())
        self._changed()

    def _changed(self) -> None:
        self._is_begun = True
        self._show()
        self.edited.emit()

    def _show(self) -> None:
        letters = {Kind.READS_LOW: "LO", Kind.READS_HIGH: "HI"}
        self.keypad.show_number(letters.get(self._draft.kind, self._draft.text))
