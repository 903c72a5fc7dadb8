"""The form of one reading, in the order of the hands: get ready, the number, when and what for.

Three columns where they fit side by side, else two, else one: then the page scrolls.
"""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QFontMetrics
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QWidget

from logbook.ui.desk import Desk
from logbook.ui.entry.circumstances import Circumstances
from logbook.ui.entry.fingers import FingerColumn
from logbook.ui.parts.big_button import BigButton, ButtonKind
from logbook.ui.parts.keypad import Keypad
from logbook.ui.parts.texts import Words
from logbook.ui.theme import GAP

_GUTTER = 2 * GAP


class EntryForm(QWidget):
    """The parts of the form; the page fills them and listens to them.

    `way` is the one small thing that can be said about the plan, beside the title.
    """

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self.title = Words(desk.look, role="title")
        self.way = _Way(desk.look, "", ButtonKind.NOTICE)
        self.way.hide()
        self._head = QWidget()
        head = QHBoxLayout(self._head)
        head.setContentsMargins(0, 0, 0, 0)
        head.setSpacing(GAP)
        head.addWidget(self.title, 1)
        head.addWidget(self.way)
        self.fingers = FingerColumn(desk)
        self.keypad = Keypad(desk.look)
        self.circumstances = Circumstances(desk)
        self._columns = 0
        self._is_simple = False
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 4)
        self._grid.setHorizontalSpacing(_GUTTER)
        self._grid.setVerticalSpacing(GAP // 2)
        self._arrange(3)

    def offer_way(self, text: str, about: str) -> None:
        """Show the button beside the title; empty for none. The page gets no longer by it."""
        self.way.setText(text)
        self.way.describe(about)
        self.way.setVisible(bool(text))
        line = QFontMetrics(self.title.font()).height()
        more = max(0, self.way.sizeHint().height() - line) if text else 0
        self.fingers.hands.give_up(more)

    def set_simple(self, is_simple: bool) -> None:
        """Show the finger and the number alone, and the time only where it has to be told."""
        if is_simple != self._is_simple:
            self._is_simple, self._columns = is_simple, 0
        self.fingers.set_simple(is_simple)
        self.circumstances.set_simple(is_simple)

    def lie_in(self, width: int) -> None:
        """Use as many columns as fit side by side in a width."""
        columns = self._columns_at(width)
        self._arrange(columns)
        least = self.circumstances.wanted_width() if columns == 3 else 0
        self.circumstances.setMinimumWidth(least)

    def height_at(self, width: int) -> int:
        """How high the form is at a width, in as many columns as fit there."""
        columns, gap = self._columns_at(width), self._grid.verticalSpacing()
        foot = self._grid.contentsMargins().bottom()
        keypad = self.keypad.sizeHint().width()
        if columns == 3:
            tiles = self.circumstances.wanted_width()
            left = width - tiles - _GUTTER
            beside = max(
                _height(self.fingers, left - keypad - _GUTTER), _height(self.keypad, keypad)
            )
            title = _height(self._head, left)
            return foot + max(title + gap + beside, _height(self.circumstances, tiles))
        half = (width - _GUTTER) // 2 if columns == 2 else width
        fingers, number = _height(self.fingers, half), _height(self.keypad, half)
        first = max(fingers, number) if columns == 2 else fingers + gap + number
        title = _height(self._head, width)
        if self._is_simple and columns == 2:
            first, title = max(_height(self._head, half) + gap + fingers, number), -gap
        if self.circumstances.is_needed:
            first += gap + _height(self.circumstances, width)
        return foot + title + gap + first

    def _columns_at(self, room: int) -> int:
        fingers, keypad = (part.minimumSizeHint().width() for part in (self.fingers, self.keypad))
        if self._is_simple:
            return 2 if fingers + keypad + _GUTTER <= room else 1
        # Tiles on two lines each would make the column too long.
        tiles = self.circumstances.wanted_width()
        if fingers + keypad + tiles + 2 * _GUTTER <= room:
            return 3
        return 2 if fingers + keypad + _GUTTER <= room else 1

    def _arrange(self, columns: int) -> None:
        if columns == self._columns:
            return
        self._columns = columns
        grid, top = self._grid, Qt.AlignmentFlag(0)
        places: dict[QWidget, tuple[int, int, int, int]] = {
            3: {
                self._head: (0, 0, 1, 2),
                self.fingers: (1, 0, 1, 1),
                self.keypad: (1, 1, 1, 1),
                self.circumstances: (0, 2, 2, 1),
            },
            2: {
                self._head: (0, 0, 1, 2),
                self.fingers: (1, 0, 1, 1),
                self.keypad: (1, 1, 1, 1),
                self.circumstances: (2, 0, 1, 2),
            },
            1: {
                self._head: (0, 0, 1, 1),
                self.fingers: (1, 0, 1, 1),
                self.keypad: (2, 0, 1, 1),
                self.circumstances: (3, 0, 1, 1),
            },
        }[columns]
        if self._is_simple:
            # The time is asked for above all else; large text leaves no height to a title above
            # the keys.
            beside = columns == 2
            places = {
                self.circumstances: (0, 0, 1, columns),
                self._head: (1, 0, 1, 1),
                self.fingers: (2, 0, 1, 1),
                self.keypad: (1, 1, 2, 1) if beside else (3, 0, 1, 1),
            }
        for part in places:
            grid.removeWidget(part)
        for part, (row, column, rows, across) in places.items():
            grid.addWidget(part, row, column, rows, across, top)
        grid.setRowStretch(1, 1 if columns == 3 else 0)
        grid.setRowStretch(2, 1 if self._is_simple and columns == 2 else 0)
        grid.setColumnStretch(0, 1)
        grid.setColumnStretch(1, 1 if columns == 2 else 0)


class _Way(BigButton):
    """Its words stand on two lines, so that the title beside it keeps one."""

    def sizeHint(self) -> QSize:
        metrics, words = QFontMetrics(self.font()), self.text().split() or [""]
        halves = ((words[:place], words[place:]) for place in range(len(words)))
        wide = min(
            max(metrics.horizontalAdvance(" ".join(half)) for half in both) for both in halves
        )
        width = max(wide + self._beside_text() + 2, self._least_width())
        return QSize(width, self.heightForWidth(width))

    def minimumSizeHint(self) -> QSize:
        return self.sizeHint()


def _height(part: QWidget, width: int) -> int:
    layout = part.layout()
    return layout.totalHeightForWidth(width) if layout is not None else 0
