"""The bar at the bottom: Undo and Put back left, the page's main action right, messages between.

A message stays until the next action and is read out by screen readers. A long one stands above
the buttons, or where text is large at the top of the page: no button ever gives way to it.
"""

from __future__ import annotations

from PySide6.QtCore import QEvent, QRect, QSize, Qt, Signal
from PySide6.QtGui import (
    QAccessible,
    QAccessibleAnnouncementEvent,
    QFont,
    QFontMetrics,
    QPainter,
    QPaintEvent,
    QPen,
    QResizeEvent,
)
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from logbook.ui.parts.big_button import BigButton, ButtonKind
from logbook.ui.parts.texts import Words
from logbook.ui.parts.unbroken import unbroken
from logbook.ui.theme import BODY, GAP, Look

_MOST_LINES = 3
# With a message above its buttons the bar takes no more of the window than this.
_MOST_OF_WINDOW = 0.4
# Side by side at a very large text size, Undo and Put back are written this much smaller.
_SMALLER = (1.0, 0.85, 0.7, 0.6, 0.5)


class BottomBar(QWidget):
    """`undo` and `put_back` are buttons whose text names what they do; hidden without one.

    `for_page` carries a message that has no room here, or nothing again.
    """

    for_page = Signal(str)

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self.undo = _Offer(look)
        self.put_back = _Offer(look)
        self.message = Words(look, role="body")
        self.message.setAlignment(Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft)
        self.message.setMaximumWidth(16_777_215)
        self.message_above = Words(look, role="body")
        self.message_above.setMaximumWidth(16_777_215)
        self._actions = _Actions()
        self._actions.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Preferred)
        self._too_long = ""
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
        self._actions.add(actions)

    def show_actions(self, actions: QWidget) -> None:
        """Show this page's actions."""
        self._actions.show_only(actions)
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
        """Share the room between Undo, message and main action; nothing is cut or left out."""
        text = self.message.text()
        offered = [
            button
            for button, name in ((self.undo, self._undo_text), (self.put_back, self._put_back_text))
            if name
        ]
        for button in (self.undo, self.put_back):
            button.setVisible(button in offered)
        self._offers.setVisible(bool(offered))
        beside = self.width() - 4 * GAP - self._actions_width()
        is_compact, left = False, 0
        for is_compact in (False, True):
            widths = [one.wanted_size(is_compact=is_compact).width() for one in offered]
            left = beside - sum(width + 2 * GAP for width in widths)
            if left >= 0 and (not text or self._lines(text, left) <= _MOST_LINES):
                break
        # Large text leaves no room side by side: then Undo has a row of its own.
        is_stacked, whole = left < 0, self.width() - 4 * GAP
        main = self._actions.sizeHint().height() if self._actions.shown else 0
        highest = _MOST_OF_WINDOW * self.window().height()
        share, offers = 1.0, 0
        for share in _SMALLER if is_stacked else ():
            sizes = [button.wanted_size(is_compact=True, share=share) for button in offered]
            offers = max((size.height() for size in sizes), default=0) + GAP
            width = sum(size.width() + 2 * GAP for size in sizes) - 2 * GAP
            if width <= whole and offers + main + 2 * GAP <= highest:
                break
        if is_stacked and share == 1.0:
            # On a row of its own one line is enough, where it fits.
            one_line = [button.wanted_size(is_compact=False).width() for button in offered]
            is_compact = sum(width + 2 * GAP for width in one_line) - 2 * GAP > whole
        for button in offered:
            button.show_as(is_compact=is_compact, share=share)
        self._stack(is_stacked=is_stacked)
        # The column would ask how high they are in its whole width, where one line is enough.
        self._offers.setMinimumHeight(max(0, offers - GAP))
        line = QFontMetrics(self.message.font()).height()
        in_row = self._lines(text, beside if is_stacked else left)
        # Under a row of Undo the message must not press that row together.
        row = max(main, round(in_row * line))
        fits = in_row <= _MOST_LINES and (not is_stacked or offers + row + 3 * GAP <= highest)
        lines = round(self._lines(text, whole) * line)
        fits_above = lines + offers + main + 3 * GAP <= highest
        self.message.setVisible(bool(text) and fits)
        self.message_above.setVisible(bool(text) and not fits and fits_above)
        too_long = "" if fits or fits_above else text
        if too_long != self._too_long:
            self._too_long = too_long
            self.for_page.emit(too_long)

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
        shown = self._actions.shown
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
        box = metrics.boundingRect(QRect(0, 0, width, 10_000), _WRAP, unbroken(text))
        if box.width() > width:
            return _MOST_LINES + 1
        return round(box.height() / metrics.height(), 1)


class _Actions(QWidget):
    """Each page's actions, of which only those in sight take room.

    A stack of Qt's own is as high as the highest of all its pages would be in its width.
    """

    def __init__(self) -> None:
        super().__init__()
        self.shown: QWidget | None = None
        self._row = QHBoxLayout(self)
        self._row.setContentsMargins(0, 0, 0, 0)
        self._row.setSpacing(0)

    def add(self, actions: QWidget) -> None:
        """Take a page's actions in; the first are in sight."""
        self._row.addWidget(actions)
        self.show_only(self.shown or actions)

    def show_only(self, actions: QWidget) -> None:
        """Bring these in sight."""
        self.shown = actions
        for index in range(self._row.count()):
            item = self._row.itemAt(index)
            other = None if item is None else item.widget()
            if other is not None:
                other.setVisible(other is actions)


class _Offer(BigButton):
    """A button whose words may stand on two lines, to leave room to others."""

    _is_compact = False
    _share = 1.0

    def __init__(self, look: Look) -> None:
        super().__init__(look, "", ButtonKind.TALL)
        # Its own size is the whole of what it needs. Asked for its height at the width of the whole
        # bar, it would tell that of one line and then be given the width of two.
        policy = QSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        policy.setHeightForWidth(False)
        self.setSizePolicy(policy)

    def hasHeightForWidth(self) -> bool:
        return False

    def show_as(self, *, is_compact: bool, share: float) -> None:
        """Take as little width as two lines need, or one line; in this share of the usual face."""
        if (is_compact, share) != (self._is_compact, self._share):
            self._is_compact, self._share = is_compact, share
            self.restyle()

    def sizeHint(self) -> QSize:
        return self.wanted_size(is_compact=self._is_compact, share=self._share)

    def minimumSizeHint(self) -> QSize:
        return self.sizeHint()

    def wanted_size(self, *, is_compact: bool, share: float = 1.0) -> QSize:
        """How large it would be on one line or on two."""
        metrics = QFontMetrics(self._face_of(share))
        beside = self._beside_text() + 2
        wide = max(self._least_width(), metrics.horizontalAdvance(self.text()) + beside)
        if is_compact:
            words = self.text().split() or [""]
            narrow = max(metrics.horizontalAdvance(word) for word in words) + beside
            while narrow < wide:
                middle = (narrow + wide) // 2
                if self._height_at(metrics, middle) <= 2 * metrics.height():
                    wide = middle
                else:
                    narrow = middle + 1
        return QSize(wide, max(self.least_height(), self._height_at(metrics, wide) + GAP))

    def _height_at(self, metrics: QFontMetrics, width: int) -> int:
        room = max(1, width - self._beside_text())
        text = unbroken(self.text())
        return metrics.boundingRect(0, 0, room, 10_000, _WRAP, text).height()

    def _face(self) -> QFont:
        return self._face_of(self._share)

    def _face_of(self, share: float) -> QFont:
        return self.look.font(BODY * share, figures=True)


_WRAP = int(Qt.TextFlag.TextWordWrap | Qt.AlignmentFlag.AlignLeft)
