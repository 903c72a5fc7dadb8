"""A page's body that may be longer than the window: two big buttons move it."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QEvent, QObject, Qt, QTimer, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QScrollArea, QVBoxLayout, QWidget

from logbook.ui.parts.big_button import BigButton, ButtonKind
from logbook.ui.parts.marks import draw_down, draw_up
from logbook.ui.theme import GAP, Look
from logbook.wording import _

# A little of what was seen stays in sight, so that the place is not lost.
_PART_MOVED = 0.8


class ScrollPage(QWidget):
    """`content` in full width, with Up and Down at the right when it is higher than the room.

    `room_told` carries the width that the content has, for one that lies in columns.
    """

    room_told = Signal(int)

    def __init__(self, look: Look, content: QWidget, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.content = content
        # A page whose body lies in columns tells the height itself; None leaves it to the layout.
        self.form_height: Callable[[int], int | None] | None = None
        content.setObjectName("scrolled")
        self.area = QScrollArea(self)
        self.area.setWidgetResizable(True)
        self.area.setWidget(content)
        self.area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.area.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.up = BigButton(look, "", ButtonKind.TALL, sign=draw_up)
        self.up.setAccessibleName(_("Up"))
        self.up.describe(_("Shows the part of the page above"))
        self.down = BigButton(look, "", ButtonKind.TALL, sign=draw_down)
        self.down.setAccessibleName(_("Down"))
        self.down.describe(_("Shows the part of the page below"))
        self._keys = QWidget(self)
        keys = QVBoxLayout(self._keys)
        keys.setContentsMargins(GAP, GAP, 0, GAP)
        keys.setSpacing(GAP)
        keys.addWidget(self.up)
        keys.addStretch(1)
        keys.addWidget(self.down)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(0)
        row.addWidget(self.area, 1)
        row.addWidget(self._keys)
        self._keys.hide()
        self._settle = QTimer(self)
        self._settle.setSingleShot(True)
        self._settle.timeout.connect(self.settle)
        self.up.clicked.connect(self._move_up)
        self.down.clicked.connect(self._move_down)
        content.installEventFilter(self)
        look.changed.connect(self._settle_later)

    def height_at(self, width: int) -> int:
        """How high the content is at a width."""
        told = self.form_height(width) if self.form_height is not None else None
        if told is not None:
            return told
        if self.content.hasHeightForWidth():
            return self.content.heightForWidth(width)
        return self.content.minimumSizeHint().height()

    def to_top(self) -> None:
        """Show the beginning."""
        self.area.verticalScrollBar().setValue(0)

    def show_part(self, part: QWidget) -> None:
        """Move so far that `part` is in sight."""
        self.area.ensureWidgetVisible(part, 0, GAP)

    def settle(self) -> None:
        """Show Up and Down when they are needed, and only then."""
        wraps = self.content.hasHeightForWidth()
        # Qt's own least height is that of the narrowest layout, in which every word wraps.
        self.content.setMinimumHeight(1 if wraps else 0)
        # Always asked for the full width: else Up and Down could come and go by turns.
        is_needed = self.height_at(self.width()) > self.height()
        if is_needed != self._keys.isVisibleTo(self):
            self._keys.setVisible(is_needed)
        keys = self._keys.sizeHint().width() if is_needed else 0
        self.room_told.emit(self.width() - keys)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.settle()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() is QEvent.Type.LayoutRequest:
            self._settle.start(0)
        return False

    def _settle_later(self) -> None:
        # Every part asks for its new size first.
        QTimer.singleShot(0, self, self.settle)

    def _move_up(self) -> None:
        self._move(-1)

    def _move_down(self) -> None:
        self._move(1)

    def _move(self, direction: int) -> None:
        bar = self.area.verticalScrollBar()
        bar.setValue(bar.value() + direction * int(self.area.viewport().height() * _PART_MOVED))
