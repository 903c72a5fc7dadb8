"""The sign before a line of a list: a tick in a box, an empty box, or a dot for neither."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from logbook.ui.parts.marks import draw_tick
from logbook.ui.theme import BODY, Look


class DoneSign(QWidget):
    """`is_done` is None for what can't be done, only thought of."""

    def __init__(self, look: Look, *, is_done: bool | None, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look, self._is_done = look, is_done
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        look.changed.connect(self.updateGeometry)

    def sizeHint(self) -> QSize:
        side = round(self._look.theme.pixels(BODY) * 1.1)
        return QSize(side, side)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        ink = self._look.colour("ink")
        line = max(2.0, self.width() / 12)
        box = QRectF(self.rect()).adjusted(line, line, -line, -line)
        if self._is_done is None:
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(ink)
            side = box.width() / 4
            painter.drawEllipse(box.center(), side / 2, side / 2)
        else:
            painter.setPen(QPen(ink, line))
            painter.drawRoundedRect(box, 3, 3)
            if self._is_done:
                draw_tick(painter, box.adjusted(line, line, -line, -line), ink)
        painter.end()
