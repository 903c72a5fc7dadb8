"""The bar at the bottom: Undo and Put back left, the page's main action right, messages between.

A message stays until the next action and is read out by screen readers. When it needs the room,
Undo gives way to it until then.
"""

from __future__ import annotations

from PySide6.QtCore import QEvent, QRect, Qt
from PySide6.QtGui import (
    QAccessible,
    QAccessibleAnnouncementEvent,
    QFontMetrics,
    QPainter,
    QPaintEvent,
    QPen,
    QResizeEvent,
)
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QStackedWidget, QVBoxLayout, QWidget

from logbook.ui.parts.big_button import BigButton, ButtonKind
from logbook.ui.parts.texts import Words
from logbook.ui.theme import GAP, Look

_MOST_LINES = 3


class BottomBar(QWidget):
    """`undo` and `put_back` are buttons whose text names what they do; hidden without one."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self.undo = BigButton(look, "", ButtonKind.TALL)
        self.put_back = BigButton(look, "", ButtonKind.TALL)
        self.message = Words(look, role="body")
        self.message.setAlignment(Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft)
        self.message.setMaximumWidth(16_777_215)
        self.message_above = Words(look, role="body")
        self.message_above.setMaximumWidth(16_777_215)
        self._actions = QStackedWidget()
        self._actions.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Preferred)
        self._undo_text = ""
        self._put_back_text = ""
        self._offers = QWidget()
        offers = QHBoxLayout(self._offers)
        offers.setContentsMargins(0, 0, 0, 0)
        offers.setSpacing(2 * GAP)
        offers.addWidget(self.put_back)
        offers.addWidget(self.undo)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(2 * GAP, GAP, 2 * GAP, GAP)
        self._column.setSpacing(GAP)
        self._column.addWidget(self.message_above)
        self._row = QHBoxLayout()
        self._row.setSpacing(2 * GAP)
        self._row.addWidget(self._offers)
        self._row.addWidget(self.message, 1_000)
        self._row.addStretch(1)
        self._row.addWidget(self._actions)
        self._column.addLayout(self._row)
        self._is_stacked = False
        look.changed.connect(self.settle)
        self.settle()

    def add_actions(self, actions: QWidget) -> None:
        """Take a page's actions in."""
        self._actions.addWidget(actions)

    def show_actions(self, actions: QWidget) -> None:
        """Show this page's actions."""
        for index in range(self._actions.count()):
            other = self._actions.widget(index)
            fits = QSizePolicy.Policy.Preferred if other is actions else QSizePolicy.Policy.Ignored
            if other is not None:
                other.setSizePolicy(fits, fits)
        self._actions.setCurrentWidget(actions)
        self.settle()

    def offer(self, undo: str, put_back: str) -> None:
        """Name what can be taken back and put back; empty for nothing."""
        self._undo_text, self._put_back_text = undo, put_back
        self.undo.setText(undo)
        self.put_back.setText(put_back)
        self.settle()

    def say(self, text: str) -> None:
        """Show a message until the next action and have it read out; empty takes it away."""
        self.message.setText(text)
        self.message_above.setText(text)
        self.message.setAccessibleName(text)
        self.settle()
        if text:
            QAccessible.updateAccessibility(QAccessibleAnnouncementEvent(self, text))

    @property
    def text(self) -> str:
        """The message that is shown."""
        return self.message.text()

    def settle(self) -> None:
        """Share the room between Undo, message and main action; nothing is ever cut."""
        text = self.message.text()
        offered = [
            button
            for button, name in ((self.undo, self._undo_text), (self.put_back, self._put_back_text))
            if name
        ]
        beside = self.width() - 4 * GAP - self._actions_width()
        with_offers = beside - sum(button.sizeHint().width() + 2 * GAP for button in offered)
        # Large text leaves no room side by side: then Undo has a row of its own.
        self._stack(is_stacked=with_offers < 0)
        if self._is_stacked:
            with_offers = beside
        fits_with_offers = not text or self._lines(text, with_offers) <= _MOST_LINES
        fits_beside = fits_with_offers or self._lines(text, beside) <= _MOST_LINES
        shows_offers = fits_with_offers or not fits_beside
        self.undo.setVisible(bool(self._undo_text) and shows_offers)
        self.put_back.setVisible(bool(self._put_back_text) and shows_offers)
        self._offers.setVisible(bool(offered) and shows_offers)
        self.message.setVisible(bool(text) and fits_beside)
        self.message_above.setVisible(bool(text) and not fits_beside)

    def _stack(self, *, is_stacked: bool) -> None:
        if is_stacked == self._is_stacked:
            return
        self._is_stacked = is_stacked
        if is_stacked:
            self._row.removeWidget(self._offers)
            self._column.insertWidget(1, self._offers, 0, Qt.AlignmentFlag.AlignLeft)
        else:
            self._column.removeWidget(self._offers)
            self._row.insertWidget(0, self._offers)

    def _actions_width(self) -> int:
        shown = self._actions.currentWidget()
        return shown.sizeHint().width() + 2 * GAP if shown is not None else 0

    def event(self, event: QEvent) -> bool:
        if event.type() is QEvent.Type.LayoutRequest:
            self.settle()  # the main action says something longer now, say
        return super().event(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.settle()

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.fillRect(self.rect(), self._look.colour("page"))
        painter.setPen(QPen(self._look.colour("edge"), 1))
        painter.drawLine(2 * GAP, 0, self.width() - 2 * GAP, 0)
        painter.end()

    def _lines(self, text: str, width: int) -> float:
        if width <= 0:
            return _MOST_LINES + 1
        metrics = QFontMetrics(self.message.font())
        box = metrics.boundingRect(QRect(0, 0, width, 10_000), _WRAP, text)
        if box.width() > width:
            return _MOST_LINES + 1
        return round(box.height() / metrics.height(), 1)


_WRAP = int(Qt.TextFlag.TextWordWrap | Qt.AlignmentFlag.AlignLeft)
