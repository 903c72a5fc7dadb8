"""A table with a small picture in its last cells: every value of the row as a dot on one line.

The line of low and the middle value are marked. What the picture shows is also told in the cells
beside it, so it is never the only place.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QRect, Qt
from PySide6.QtGui import QPainter, QPen
from PySide6.QtWidgets import QStyledItemDelegate, QStyleOptionViewItem, QWidget

from logbook.domain.day_boxes import Dot
from logbook.domain.glucose import Unit
from logbook.domain.levels import LOW_BELOW
from logbook.domain.picture_scale import ValueScale, value_scale
from logbook.ui.parts.table import ReadTable
from logbook.ui.theme import BODY, Look

_ROLE = int(Qt.ItemDataRole.UserRole) + 1
_MOST_HIGH = 4


@dataclass(frozen=True, slots=True)
class Spread:
    """The dots of one row; `middle` is its middle value in steps, None when it has none."""

    dots: tuple[Dot, ...]
    middle: float | None


class SpreadTable(ReadTable):
    """`show_spreads` shows rows as `show_rows` does, a picture below the last words of each."""

    def __init__(self, look: Look, name: str, parent: QWidget | None = None) -> None:
        self.spreads: list[Spread] = []
        self._unit = Unit.MG_DL
        self._scale = value_scale((), Unit.MG_DL)
        super().__init__(look, name, parent)
        self._painter = _SpreadPainter(look, self)
        self.setItemDelegate(self._painter)

    def show_spreads(
        self,
        heads: Sequence[str],
        rows: Sequence[Sequence[str]],
        spreads: Sequence[Spread],
        unit: Unit,
    ) -> None:
        """All pictures have the scale of `unit` in common, so that rows can be compared."""
        self.spreads, self._unit = list(spreads), unit
        self._scale = value_scale([dot.steps for one in spreads for dot in one.dots], unit)
        self._painter.use(self._scale, unit)
        self.show_rows(heads, rows)

    @property
    def last_column(self) -> int:
        """The column that has the pictures, when columns stand side by side."""
        return len(self._heads) - 1

    def lay_out_row(self, row: int, *, is_stacked: bool) -> None:
        item = self.item(row, 0 if is_stacked else self.last_column)
        if item is not None and row < len(self.spreads):
            item.setData(_ROLE, self.spreads[row])
            # The picture stands below the words.
            item.setTextAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop)

    def least_width_of(self, column: int) -> int:
        return self._look.theme.pixels(BODY) * 7 if column == self.last_column else 0

    def room_below(self, column: int) -> int:
        return round(self._look.theme.pixels(BODY) * 1.25) if column == self.last_column else 0


class _SpreadPainter(QStyledItemDelegate):
    """Draws the cell as ever, and the dots into it."""

    def __init__(self, look: Look, parent: SpreadTable) -> None:
        super().__init__(parent)
        self._look, self._table = look, parent
        self._scale: ValueScale = value_scale((), Unit.MG_DL)
        self._unit = Unit.MG_DL

    def use(self, scale: ValueScale, unit: Unit) -> None:
        """One scale for all rows, so that they can be compared."""
        self._scale, self._unit = scale, unit

    def paint(
        self,
        painter: QPainter,
        option: QStyleOptionViewItem,
        index: QModelIndex | QPersistentModelIndex,
    ) -> None:
        spread: Spread | None = index.data(_ROLE)
        if spread is None:
            super().paint(painter, option, index)
            return
        super().paint(painter, option, index)
        below = self._table.room_below(self._table.last_column)
        cell: QRect = option.rect
        room = QRect(cell.left() + 10, cell.bottom() - below, cell.width() - 20, below - 5)
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        self._draw(painter, room, spread)
        painter.restore()

    def _draw(self, painter: QPainter, room: QRect, spread: Spread) -> None:
        foot = room.bottom() - 2
        painter.setPen(QPen(self._look.colour("edge"), 1))
        painter.drawLine(room.left(), foot, room.right(), foot)
        low = self._x(LOW_BELOW[self._unit], room)
        painter.setPen(QPen(self._look.colour("below"), 2))
        painter.drawLine(round(low), room.top(), round(low), foot)
        radius = max(2.5, min(4.5, room.height() / 10))
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(self._look.colour("edge"))
        heights: dict[int, int] = {}
        for dot in spread.dots:
            x = self._x(self._scale.place(dot.steps), room)
            column = round(x / (2 * radius))
            for _one in range(min(dot.count, _MOST_HIGH)):
                level = heights.get(column, 0)
                if level >= _MOST_HIGH:
                    break
                heights[column] = level + 1
                y = foot - radius - 1 - level * 2 * radius
                left = column * 2 * radius - radius
                painter.drawEllipse(
                    round(left), round(y - radius), round(2 * radius) - 1, round(2 * radius) - 1
                )
        if spread.middle is not None:
            x = round(self._x(spread.middle, room))
            painter.setPen(QPen(self._look.colour("ink"), 4))
            painter.drawLine(x, room.top(), x, foot)

    def _x(self, steps: float, room: QRect) -> float:
        scale = self._scale
        share = (steps - scale.least) / (scale.most - scale.least)
        return room.left() + share * room.width()
