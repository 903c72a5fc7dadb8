"""Two hands drawn as plain outlines: palms up, as you look at your own, thumbs pointing outwards.

`HandsPicture` only shows; `HandsChooser` has a pad of at least 76 pixels on each fingertip. What a
pad means (`hand_drawing`) is always said in words beside it.
"""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QKeyEvent,
    QPainter,
    QPaintEvent,
    QResizeEvent,
)
from PySide6.QtWidgets import QSizePolicy, QWidget

from logbook.domain.sites import FINGERS, Hand, Place
from logbook.hand_shape import HAND_HEIGHT
from logbook.ui.parts.big_button import BigButton, ButtonKind
from logbook.ui.parts.hand_drawing import (
    HandOutline,
    Pad,
    PadLook,
    draw_hand,
    draw_pad,
)
from logbook.ui.theme import KEY, SMALL, Look
from logbook.wording import _
from logbook.wording.sites import finger_text, hand_text

Finger = tuple[Hand, Place]


# The tips of two neighbours are this far apart along the wider axis, at least.
_TIP_STEP = 0.205
_GAP_BETWEEN = 0.10
# Up to here the small picture grows with its column.
_LARGEST_SHOWN = 200


class _Hands(QWidget):
    """Both hands drawn; what is on the fingertips is for the two kinds below."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.look = look
        self.pads: dict[Finger, Pad] = {}
        self._given_up = 0
        look.changed.connect(self.restyle)

    def show_pads(self, pads: Mapping[Finger, Pad]) -> None:
        """Show these pads; fingers that are missing are shown as not in use."""
        self.pads = {
            (hand, finger): pads.get((hand, finger), Pad(PadLook.UNUSED))
            for hand in (Hand.LEFT, Hand.RIGHT)
            for finger in FINGERS
        }
        self.update()

    def restyle(self) -> None:
        """Take size and colours of the present theme."""
        self.updateGeometry()
        self.update()

    def outlines(self) -> dict[Hand, HandOutline]:
        """The two hands as large as the widget lets them be."""
        names = self._name_height()
        side = min(self.width() / (2 + _GAP_BETWEEN), (self.height() - names) / HAND_HEIGHT)
        left = (self.width() - side * (2 + _GAP_BETWEEN)) / 2
        return {
            Hand.LEFT: HandOutline(Hand.LEFT, left, 0.02 * side, side),
            Hand.RIGHT: HandOutline(
                Hand.RIGHT, left + side * (1 + _GAP_BETWEEN), 0.02 * side, side
            ),
        }

    def draw_hands(self, painter: QPainter) -> dict[Hand, HandOutline]:
        """Draw both, with their names under them."""
        outlines = self.outlines()
        painter.setFont(self.look.font(SMALL))
        for hand, outline in outlines.items():
            draw_hand(painter, self.look, outline)
            painter.setPen(self.look.colour("quiet_ink"))
            foot = outline.at(0.5, HAND_HEIGHT - 0.03)
            # The names keep to the outer edges, so that "palms up" has room between them.
            outer = Qt.AlignmentFlag.AlignLeft if hand is Hand.LEFT else Qt.AlignmentFlag.AlignRight
            edges = sorted((outline.at(0.02, 0).x(), outline.at(0.98, 0).x()))
            if self._given_up:  # the hands are too narrow for three words under them
                edges = [0.0, float(self.width())]
            box = QRectF(edges[0], foot.y(), edges[1] - edges[0], self._name_height())
            painter.drawText(box, outer | Qt.AlignmentFlag.AlignTop, hand_text(hand))
        box = QRectF(0, foot.y(), self.width(), self._name_height())
        middle = Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignTop
        painter.drawText(box, middle, _("Palms up"))
        return outlines

    def _name_height(self) -> int:
        return round(self.look.theme.pixels(SMALL) * 1.35)


class HandsPicture(_Hands):
    """The hands small: it only shows the advice, which stands in words beside it."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(look, parent)
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Preferred)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        largest = min(_LARGEST_SHOWN * self.look.theme.percent / 100, 1.8 * _LARGEST_SHOWN)
        side = min(width / (2 + _GAP_BETWEEN), largest)
        return round(side * HAND_HEIGHT) + self._name_height() - self._given_up

    def give_up(self, height: int) -> None:
        """Be lower by so many pixels, where something above needs them."""
        if height != self._given_up:
            self._given_up = height
            self.updateGeometry()

    def sizeHint(self) -> QSize:
        return QSize(290, self.heightForWidth(290))

    def minimumSizeHint(self) -> QSize:
        return QSize(250, self.heightForWidth(250))

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        outlines = self.draw_hands(painter)
        side = abs(outlines[Hand.LEFT].at(1, 0).x() - outlines[Hand.LEFT].at(0, 0).x())
        radius = side * 0.098
        for (hand, finger), pad in self.pads.items():
            tip = outlines[hand].tip(finger)
            reach = radius * (1.15 if pad.look is PadLook.NEXT else 1)
            box = QRectF(tip.x() - reach, tip.y() - reach, 2 * reach, 2 * reach)
            draw_pad(painter, self.look, box, pad, SMALL)
        painter.end()


class FingerPad(BigButton):
    """One fingertip to press."""

    def __init__(self, look: Look, finger: Finger, parent: QWidget) -> None:
        super().__init__(look, "", ButtonKind.TILE, parent=parent)
        self.finger = finger
        self.pad = Pad(PadLook.UNUSED)
        self.setAccessibleName(finger_text(*finger))

    def show_pad(self, pad: Pad) -> None:
        """Show this on the fingertip and say it to a screen reader."""
        self.pad = pad
        self.describe(pad.words)
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        box = QRectF(self.rect()).adjusted(1, 1, -1, -1)
        draw_pad(painter, self.look, box, self.pad, SMALL + 4)
        painter.end()


class HandsChooser(_Hands):
    """The hands large; a pressed fingertip is told by `finger_chosen` (hand, place)."""

    finger_chosen = Signal(object)

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(look, parent)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        # In the order in which they are seen: from the left thumb to the right one.
        order: list[Finger] = [(Hand.LEFT, finger) for finger in FINGERS]
        order += [(Hand.RIGHT, finger) for finger in reversed(FINGERS)]
        self.buttons = {finger: FingerPad(look, finger, self) for finger in order}
        for button in self.buttons.values():
            button.clicked.connect(self._tell)

    def show_pads(self, pads: Mapping[Finger, Pad]) -> None:
        super().show_pads(pads)
        for finger, button in self.buttons.items():
            button.show_pad(self.pads[finger])

    def sizeHint(self) -> QSize:
        side = (self._pad_side() + 8) / _TIP_STEP
        return QSize(
            round(side * (2 + _GAP_BETWEEN)), round(side * HAND_HEIGHT * 0.97) + self._name_height()
        )

    def minimumSizeHint(self) -> QSize:
        return self.sizeHint()

    def outlines(self) -> dict[Hand, HandOutline]:
        side = (self._pad_side() + 8) / _TIP_STEP
        left = (self.width() - side * (2 + _GAP_BETWEEN)) / 2
        return {
            Hand.LEFT: HandOutline(Hand.LEFT, left, 0, side),
            Hand.RIGHT: HandOutline(Hand.RIGHT, left + side * (1 + _GAP_BETWEEN), 0, side),
        }

    def restyle(self) -> None:
        super().restyle()
        self._place()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._place()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        step = {Qt.Key.Key_Left: -1, Qt.Key.Key_Right: 1}.get(Qt.Key(event.key()))
        buttons = list(self.buttons.values())
        focused = next((b for b in buttons if b.hasFocus()), None)
        if step is None or focused is None:
            super().keyPressEvent(event)
            return
        index = (buttons.index(focused) + step) % len(buttons)
        buttons[index].setFocus(Qt.FocusReason.TabFocusReason)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        self.draw_hands(painter)
        painter.end()

    def _pad_side(self) -> int:
        return max(KEY, round(self.look.theme.pixels(SMALL) * 1.4))

    def _place(self) -> None:
        outlines, side = self.outlines(), self._pad_side()
        for (hand, finger), button in self.buttons.items():
            tip = outlines[hand].tip(finger)
            top = max(0, round(tip.y() - side / 2))
            button.setGeometry(round(tip.x() - side / 2), top, side, side)

    def _tell(self) -> None:
        button = self.sender()
        if isinstance(button, FingerPad):
            self.finger_chosen.emit(button.finger)
