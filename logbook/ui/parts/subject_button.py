"""A button that leads to one subject and says below its name how things stand there now."""

from __future__ import annotations

from PySide6.QtCore import QRect, QRectF, QSize, Qt
from PySide6.QtGui import QFont, QFontMetrics, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from logbook.ui.parts.big_button import BigButton, ButtonKind
from logbook.ui.parts.unbroken import unbroken
from logbook.ui.theme import BODY, GAP, RADIUS, Look

_PADDING = 12
_WRAPPED = int(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop | Qt.TextFlag.TextWordWrap)


class SubjectButton(BigButton):
    """Its name in bold, below it `state` in plain letters; a screen reader gets both."""

    def __init__(
        self, look: Look, name: str, state: str = "", parent: QWidget | None = None
    ) -> None:
        self._name, self._state = name, state
        super().__init__(look, "", ButtonKind.OTHER, parent=parent)
        policy = self.sizePolicy()
        policy.setHorizontalPolicy(QSizePolicy.Policy.Expanding)
        policy.setVerticalPolicy(QSizePolicy.Policy.MinimumExpanding)
        self.setSizePolicy(policy)
        self.say(state)

    def say(self, state: str) -> None:
        """How things stand now."""
        self._state = state
        self.setText(f"{self._name}\n{state}" if state else self._name)
        self.setAccessibleName(self._name)
        self.describe(state)
        self.updateGeometry()

    def heightForWidth(self, width: int) -> int:
        name, state = self._boxes(max(1, width - 2 * _PADDING))
        height = name.height() + (state.height() + 2 if self._state else 0) + 2 * GAP
        return max(self.least_height(), height)

    def sizeHint(self) -> QSize:
        # Its column decides how wide it is; it wraps.
        width = self.minimumSizeHint().width()
        return QSize(width, self.heightForWidth(max(width, self.width())))

    def minimumSizeHint(self) -> QSize:
        bold, plain = QFontMetrics(self._bold()), QFontMetrics(self.font())
        words = [bold.horizontalAdvance(word) for word in self._name.split()]
        words += [plain.horizontalAdvance(word) for word in self._state.split()]
        width = max(words, default=0) + 2 * _PADDING + 2
        return QSize(max(width, self.least_height()), self.least_height())

    def text_box(self) -> QRect:
        return self.rect().adjusted(_PADDING, 2, -_PADDING, -2)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        edge = self.look.theme.colours.edge_width
        width = edge + 2 if self.isDown() else edge
        role = "other_ink" if self.isDown() else "edge"
        painter.setPen(QPen(self.look.colour(role), width))
        painter.setBrush(self.look.colour("other_back"))
        box = QRectF(self.rect()).adjusted(edge / 2, edge / 2, -edge / 2, -edge / 2)
        painter.drawRoundedRect(box, RADIUS, RADIUS)
        painter.setPen(self.look.colour("other_ink"))
        room = self.rect().adjusted(_PADDING, GAP, -_PADDING, -GAP)
        name, _state = self._boxes(room.width())
        painter.setFont(self._bold())
        painter.drawText(room, _WRAPPED, unbroken(self._name))
        painter.setFont(self.font())
        painter.drawText(room.adjusted(0, name.height() + 2, 0, 0), _WRAPPED, unbroken(self._state))
        painter.end()

    def _bold(self) -> QFont:
        return self.look.font(BODY, bold=True, figures=True)

    def _boxes(self, room: int) -> tuple[QRect, QRect]:
        limits = QRect(0, 0, room, 10_000)
        name = QFontMetrics(self._bold()).boundingRect(limits, _WRAPPED, unbroken(self._name))
        state = QFontMetrics(self.font()).boundingRect(limits, _WRAPPED, unbroken(self._state))
        return name, state
