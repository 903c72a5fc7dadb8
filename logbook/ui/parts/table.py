"""A table to read: heads above columns, or, where they do not fit side by side, under one another.

It shows what it is given and no more than that: nothing to sort, drag, edit or scroll. With the
keyboard the arrows go from cell to cell, so that a screen reader can say each with its head.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QEvent, QObject, QRect, QSize, Qt
from PySide6.QtGui import QFontMetrics, QPalette, QResizeEvent, QWheelEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHeaderView,
    QSizePolicy,
    QTableWidget,
    QTableWidgetItem,
    QWidget,
)

from logbook.ui.theme import BODY, GAP, Look
from logbook.wording import _

_PADDING = 10
# What Qt itself keeps free around the words of a cell, on top of that.
_BESIDE_WORDS = 2 * _PADDING + 12
_WRAP = int(Qt.TextFlag.TextWordWrap)


@dataclass(frozen=True, slots=True)
class _Plan:
    is_stacked: bool
    widths: list[int]
    head_height: int
    row_heights: list[int]


class ReadTable(QTableWidget):
    """`show_rows` gives it heads and rows of text; its height is that of its rows."""

    def __init__(self, look: Look, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self._heads: tuple[str, ...] = ()
        self._rows: list[tuple[str, ...]] = []
        self._is_stacked = False
        self.setAccessibleName(name)
        self.setAccessibleDescription(_("Table. The arrow keys go from cell to cell."))
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setSelectionMode(QAbstractItemView.SelectionMode.NoSelection)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setAutoScroll(False)
        self.setTabKeyNavigation(False)
        self.setTextElideMode(Qt.TextElideMode.ElideNone)
        self.setWordWrap(True)
        self.setShowGrid(False)
        self.setFrameShape(QTableWidget.Shape.NoFrame)
        self.setCornerButtonEnabled(False)
        policy = QSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)
        self.verticalHeader().hide()
        head = self.horizontalHeader()
        for header in (head, self.verticalHeader()):
            header.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        head.setSectionsClickable(False)
        head.setHighlightSections(False)
        head.setDefaultAlignment(
            Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignBottom | Qt.TextFlag.TextWordWrap
        )
        self.viewport().installEventFilter(self)
        look.changed.connect(self.restyle)
        self.restyle()

    @property
    def is_stacked(self) -> bool:
        """Whether the columns did not fit side by side."""
        return self._is_stacked

    def show_rows(self, heads: Sequence[str], rows: Sequence[Sequence[str]]) -> None:
        """Show these; every row has as many cells as there are heads."""
        self._heads = tuple(heads)
        self._rows = [tuple(row) for row in rows]
        self._lay_out()

    def restyle(self) -> None:
        """Take faces and colours of the present theme."""
        font = self._look.font(BODY, figures=True)
        self.setFont(font)
        bold = self._look.font(BODY, bold=True, figures=True)
        self.horizontalHeader().setFont(bold)
        colours = self._look.theme.colours
        self.setStyleSheet(
            f"QTableView {{ background: {colours.sheet}; color: {colours.ink}; border: none;"
            f" alternate-background-color: {colours.page}; }}"
            f" QTableView::item {{ padding: 0 {_PADDING}px; color: {colours.ink};"
            f" border: none; border-bottom: 1px solid {colours.edge}; }}"
            f" QTableView::item:focus {{ border: 3px solid {colours.focus}; }}"
            f" QHeaderView {{ background: {colours.page}; }}"
            f" QHeaderView::section {{ background: {colours.page}; color: {colours.ink};"
            f" border: none; padding: 4px {_PADDING}px; }}"
        )
        palette = self.palette()
        palette.setColor(QPalette.ColorRole.Base, self._look.colour("sheet"))
        self.setPalette(palette)
        self.setAlternatingRowColors(True)
        self._lay_out()

    # --- laying out ---------------------------------------------------------------------------

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if event.size().width() != event.oldSize().width():
            self._lay_out()

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        plan = self._plan(width)
        return plan.head_height + sum(plan.row_heights) + 2

    def minimumSizeHint(self) -> QSize:
        return QSize(1, 1)

    def sizeHint(self) -> QSize:
        return QSize(400, self.heightForWidth(max(1, self.width())))

    def _lay_out(self) -> None:
        if not self._heads:
            return
        plan = self._plan(self.width())
        self._is_stacked = plan.is_stacked
        heads, rows = self._heads, self._rows
        if plan.is_stacked:
            heads, rows = ("",), [(self._stacked_text(row),) for row in self._rows]
        self._fill(heads, rows, plan)
        self.updateGeometry()

    def _plan(self, width: int) -> _Plan:
        """How wide columns and how high rows are in a table of `width` pixels."""
        if not self._heads:
            return _Plan(False, [], 0, [])
        least = self._column_widths()
        metrics = QFontMetrics(self.font())
        if sum(least) > width:
            texts = [self._stacked_text(row) for row in self._rows]
            below = self.room_below(len(self._heads) - 1)
            heights = [self._text_height(metrics, text, width) + below for text in texts]
            return _Plan(True, [width], 0, heights)
        widths = self._widened(least, width)
        heights = [
            max(
                self._text_height(metrics, text, wide) + self.room_below(column)
                for column, (text, wide) in enumerate(zip(row, widths, strict=True))
            )
            for row in self._rows
        ]
        bold = QFontMetrics(self.horizontalHeader().font())
        # A head has nothing around its words but the padding.
        head_height = max(
            self._text_height(bold, head, wide + _BESIDE_WORDS - 2 * _PADDING - 10)
            for head, wide in zip(self._heads, widths, strict=True)
        )
        return _Plan(False, widths, head_height + 2, heights)

    def _fill(self, heads: Sequence[str], rows: Sequence[Sequence[str]], plan: _Plan) -> None:
        self.clear()
        self.setColumnCount(len(heads))
        self.setRowCount(len(rows))
        self.setHorizontalHeaderLabels(list(heads))
        self.horizontalHeader().setVisible(not plan.is_stacked)
        self.horizontalHeader().setFixedHeight(max(1, plan.head_height))
        for column, width in enumerate(plan.widths):
            self.setColumnWidth(column, width)
        for number, row in enumerate(rows):
            for column, text in enumerate(row):
                cell = QTableWidgetItem(text)
                cell.setFlags(Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable)
                if heads[column]:
                    cell.setData(
                        Qt.ItemDataRole.AccessibleTextRole,
                        _("{head}: {value}").format(
                            head=heads[column].replace("\n", " "), value=text
                        ),
                    )
                self.setItem(number, column, cell)
            self.setRowHeight(number, plan.row_heights[number])
            self.lay_out_row(number, is_stacked=plan.is_stacked)

    def lay_out_row(self, row: int, *, is_stacked: bool) -> None:
        """A row has its cells; a subclass that draws more in them adds it here."""

    def least_width_of(self, column: int) -> int:
        """How wide a column is at least, whatever its words need."""
        return 0

    def room_below(self, column: int) -> int:
        """Room kept free below the words of a column, or, of the last one, below a whole row."""
        return 0

    def _column_widths(self) -> list[int]:
        """The least width of each column: its longest word in the head, its longest cell."""
        bold, plain = QFontMetrics(self.horizontalHeader().font()), QFontMetrics(self.font())
        widths = []
        for column, head in enumerate(self._heads):
            words = [bold.horizontalAdvance(word) for word in head.split() or [""]]
            cells = [plain.horizontalAdvance(self._longest(row[column])) for row in self._rows]
            least = self.least_width_of(column)
            widths.append(max(least, max([*words, *cells]) + _BESIDE_WORDS))
        return widths

    def _widened(self, widths: Sequence[int], room: int) -> list[int]:
        """Spare room goes first to heads that would need more lines, the rest to all alike."""
        bold = QFontMetrics(self.horizontalHeader().font())
        wanted = [
            max(width, bold.horizontalAdvance(self._longest(head)) + _BESIDE_WORDS)
            for width, head in zip(widths, self._heads, strict=True)
        ]
        spare = room - sum(widths)
        more = sum(wanted) - sum(widths)
        share = min(1.0, spare / more) if more else 0.0
        wide = [w + int((want - w) * share) for w, want in zip(widths, wanted, strict=True)]
        rest = max(0, room - sum(wide)) // len(wide)
        return [width + rest for width in wide]

    @staticmethod
    def _longest(text: str) -> str:
        return max(text.split("\n"), key=len, default="")

    def _stacked_text(self, row: Sequence[str]) -> str:
        told = [row[0]]
        told += [
            _("{head}: {value}").format(head=head.replace("\n", " "), value=value)
            for head, value in zip(self._heads[1:], row[1:], strict=True)
            if value
        ]
        return "\n".join(told)

    @staticmethod
    def _text_height(metrics: QFontMetrics, text: str, width: int) -> int:
        room = max(1, width - _BESIDE_WORDS + 4)
        box = metrics.boundingRect(QRect(0, 0, room, 100_000), _WRAP, text)
        return box.height() + GAP - 2

    # --- nothing but reading ------------------------------------------------------------------

    def wheelEvent(self, event: QWheelEvent) -> None:
        event.ignore()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        # A press or a drag on a cell does nothing: there is nothing to choose.
        return watched is self.viewport() and event.type() in (
            QEvent.Type.MouseButtonPress,
            QEvent.Type.MouseMove,
            QEvent.Type.MouseButtonDblClick,
            QEvent.Type.MouseButtonRelease,
        )
