"""The one button of the window: large, drawn by us, with the guard against shaking hands.

A press counts when it begins and ends on the button, is not held over two seconds, and is no bounce
of the last one (`press_guard`). The wheel, the right button, auto-repeat and Enter do nothing here;
only a main action takes Enter. A chosen one carries a tick, not only a colour.
"""

from __future__ import annotations

from enum import Enum

from PySide6.QtCore import QEvent, QRect, QRectF, QSize, Qt
from PySide6.QtGui import (
    QFont,
    QFontMetrics,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
)
from PySide6.QtWidgets import QPushButton, QSizePolicy, QWidget

from logbook.ui.parts.marks import Sign, draw_tick
from logbook.ui.parts.press_guard import is_long
from logbook.ui.parts.unbroken import unbroken
from logbook.ui.theme import BODY, CONTROL, DIGIT, GAP, RADIUS, SMALL, Look

_PADDING = 12
_WRAPPED = int(Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap)
_WRAPPED_LEFT = int(
    Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter | Qt.TextFlag.TextWordWrap
)


class ButtonKind(Enum):
    """What a button is for; it decides colour, size and face."""

    MAIN = "main"  # the one thing to do: Save
    OTHER = "other"  # anything else that does something
    TALL = "tall"  # the same, at least 76 high: Undo, LO, HI
    TILE = "tile"  # something to choose
    CHIP = "chip"  # something to choose, in a small face
    NOTICE = "notice"  # something that waits, named in a small bold face
    DIGIT = "digit"  # a key of the number
    LISTED = "listed"  # a page in the list at the left


_COLOURS = {
    ButtonKind.MAIN: ("main_back", "main_ink"),
    ButtonKind.OTHER: ("other_back", "other_ink"),
    ButtonKind.TALL: ("other_back", "other_ink"),
    ButtonKind.TILE: ("sheet", "ink"),
    ButtonKind.CHIP: ("sheet", "ink"),
    ButtonKind.NOTICE: ("other_back", "other_ink"),
    ButtonKind.DIGIT: ("sheet", "ink"),
    ButtonKind.LISTED: ("list_back", "list_ink"),
}
_PADDINGS = {
    ButtonKind.CHIP: 6,
    ButtonKind.NOTICE: 6,
    ButtonKind.TILE: 8,
    ButtonKind.DIGIT: 8,
    ButtonKind.LISTED: 8,
}
_KEY_SIZED = frozenset({ButtonKind.MAIN, ButtonKind.TALL, ButtonKind.DIGIT})


class BigButton(QPushButton):
    """A button of the window. `describe` tells a screen reader what the text does not say."""

    def __init__(
        self,
        look: Look,
        text: str,
        kind: ButtonKind = ButtonKind.OTHER,
        *,
        sign: Sign | None = None,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(text, parent)
        self.look = look
        self.kind = kind
        self._sign = sign
        self._pressed_at: int | None = None
        self._wraps = False
        self.setAutoDefault(False)
        policy = QSizePolicy(QSizePolicy.Policy.Minimum, QSizePolicy.Policy.Minimum)
        if kind in (ButtonKind.TILE, ButtonKind.CHIP, ButtonKind.DIGIT, ButtonKind.LISTED):
            policy.setHorizontalPolicy(QSizePolicy.Policy.Expanding)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)
        if kind is ButtonKind.DIGIT:
            # A click must not take the focus away from where the typing goes.
            self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        look.changed.connect(self.restyle)
        self.restyle()

    def describe(self, description: str) -> BigButton:
        """Say more to a screen reader; returns the button."""
        self.setAccessibleDescription(description)
        return self

    def let_wrap(self) -> BigButton:
        """Take any width from the longest word on; returns the button."""
        self._wraps = True
        policy = self.sizePolicy()
        policy.setHorizontalPolicy(QSizePolicy.Policy.Expanding)
        self.setSizePolicy(policy)
        return self

    def restyle(self) -> None:
        """Take the face, size and colours of the present theme."""
        self.setFont(self._face())
        self.updateGeometry()
        self.update()

    def setText(self, text: str) -> None:
        if text != self.text():
            super().setText(text)
            self.updateGeometry()

    # --- size ---------------------------------------------------------------------------------

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        room = max(1, width - self._beside_text())
        text = unbroken(self.text())
        box = QFontMetrics(self.font()).boundingRect(0, 0, room, 10_000, _WRAPPED, text)
        return max(self.least_height(), box.height() + GAP)

    def sizeHint(self) -> QSize:
        metrics = QFontMetrics(self.font())
        lines = self.text().split("\n")
        width = max(metrics.horizontalAdvance(line) for line in lines) + self._beside_text() + 2
        width = max(width, self._least_width())
        if self._wraps:
            width = self.minimumSizeHint().width()
        return QSize(width, self.heightForWidth(width))

    def minimumSizeHint(self) -> QSize:
        metrics = QFontMetrics(self.font())
        words = self.text().split() or [""]
        width = max(metrics.horizontalAdvance(word) for word in words) + self._beside_text() + 2
        width = max(width, self._least_width())
        # Layouts ask `heightForWidth` for the height that the words need.
        return QSize(width, self.least_height())

    def least_height(self) -> int:
        """The least height of this kind of button, in pixels."""
        return self.look.theme.key if self.kind in _KEY_SIZED else CONTROL

    def text_box(self) -> QRect:
        """Where the text is drawn; a test asks whether it fits."""
        # An unchecked tile keeps room for its tick, but its words stand in the middle.
        has_sign = self._sign is not None or self.isChecked()
        left = self._padding() + (self._sign_width() if has_sign else 0)
        return self.rect().adjusted(left, 2, -self._padding(), -2)

    # --- pressing -----------------------------------------------------------------------------

    def mousePressEvent(self, event: QMouseEvent) -> None:
        self._pressed_at = None
        self.look.is_by_keys = False
        if event.button() is not Qt.MouseButton.LeftButton or not self._admits(event.timestamp()):
            event.accept()
            return
        self._pressed_at = event.timestamp()
        super().mousePressEvent(event)

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        self.mousePressEvent(event)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        if self.kind is ButtonKind.DIGIT:
            self.look.presses.key_released(self.text(), event.timestamp())
        pressed_at, self._pressed_at = self._pressed_at, None
        if pressed_at is None or event.button() is not Qt.MouseButton.LeftButton:
            event.accept()
        elif is_long(pressed_at, event.timestamp()):
            self.setDown(False)
            event.accept()
            self.look.held_too_long.emit()
        else:
            super().mouseReleaseEvent(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        self.look.is_by_keys = True
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            if self.kind is not ButtonKind.MAIN:
                event.ignore()  # the page decides where Enter leads
            elif not event.isAutoRepeat() and self.look.presses.admits(event.timestamp()):
                self.click()
            return
        if event.key() != Qt.Key.Key_Space or (
            not event.isAutoRepeat() and self._admits(event.timestamp())
        ):
            super().keyPressEvent(event)

    def _admits(self, milliseconds: int) -> bool:
        presses = self.look.presses
        if self.kind is ButtonKind.DIGIT:
            return presses.admits_key(self.text(), milliseconds)
        return presses.admits(milliseconds)

    # --- drawing ------------------------------------------------------------------------------

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        back, ink = self._colours()
        edge = self.look.theme.colours.edge_width
        box = QRectF(self.rect()).adjusted(edge / 2, edge / 2, -edge / 2, -edge / 2)
        has_edge = self.kind not in (ButtonKind.MAIN, ButtonKind.LISTED) or self.isDown()
        width = edge + 2 if self.isDown() else edge
        role = ink if self.isDown() else "edge"
        painter.setPen(QPen(self.look.colour(role), width) if has_edge else Qt.PenStyle.NoPen)
        painter.setBrush(self.look.colour(back))
        painter.drawRoundedRect(box, RADIUS, RADIUS)
        painter.setPen(self.look.colour(ink))
        painter.setFont(self.font())
        left = self.kind is ButtonKind.LISTED
        wraps = _WRAPPED_LEFT if left else _WRAPPED
        painter.drawText(self.text_box(), wraps, unbroken(self.text()))
        self._draw_sign(painter, ink)
        painter.end()

    def _draw_sign(self, painter: QPainter, ink: str) -> None:
        side = self._sign_side()
        top = (self.height() - side) / 2
        box = QRectF(self._padding(), top, side, side)
        if self._sign is not None:
            if not self.text():
                box.moveCenter(QRectF(self.rect()).center())
            self._sign(painter, box, self.look.colour(ink))
        elif self.isChecked() and self.isCheckable():
            draw_tick(painter, box, self.look.colour(ink))

    def _colours(self) -> tuple[str, str]:
        if self.isCheckable() and self.isChecked():
            return "chosen_back", "chosen_ink"
        return _COLOURS[self.kind]

    def _face(self) -> QFont:
        match self.kind:
            case ButtonKind.MAIN:
                return self.look.font(BODY + 2, bold=True, figures=True)
            case ButtonKind.DIGIT:
                is_figure = len(self.text()) == 1
                return self.look.font(DIGIT if is_figure else BODY, bold=is_figure, figures=True)
            case ButtonKind.CHIP:
                return self.look.font(SMALL + 1, figures=True)
            case ButtonKind.NOTICE:
                return self.look.font(SMALL + 1, bold=True, figures=True)
            case _:
                return self.look.font(BODY, figures=True)

    def _sign_side(self) -> int:
        points = SMALL if self.kind in (ButtonKind.CHIP, ButtonKind.NOTICE) else BODY
        return round(self.look.theme.pixels(points) * 0.8)

    def _sign_width(self) -> int:
        has_sign = (self._sign is not None and bool(self.text())) or (
            self._sign is None and self.isCheckable()
        )
        gap = GAP if self.kind is ButtonKind.LISTED else self._padding() // 2
        return self._sign_side() + gap if has_sign else 0

    def _padding(self) -> int:
        return _PADDINGS.get(self.kind, _PADDING)

    def _beside_text(self) -> int:
        return 2 * self._padding() + self._sign_width()

    def _least_width(self) -> int:
        return self.look.theme.key if self.kind in _KEY_SIZED else CONTROL
