"""The periods as tiles; only those that exist are offered, since none may do nothing."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QButtonGroup, QVBoxLayout, QWidget

from logbook.book import Book
from logbook.domain.picture_periods import Span, period_of
from logbook.ui.pages.look_back_looking import Looking
from logbook.ui.parts.big_button import BigButton
from logbook.ui.parts.tiles import Tile, TileLayout
from logbook.ui.theme import Look
from logbook.wording import _, mark

ANY_DATES = "any_dates"
_NAMES = {
    Span.TWO_WEEKS: mark("2 weeks"),
    Span.THIRTY_DAYS: mark("30 days"),
    Span.NINETY_DAYS: mark("90 days"),
    Span.SINCE_VISIT: mark("Since the last visit"),
    Span.SINCE_CHANGE: mark("Since the last change"),
}


class SpanTiles(QWidget):
    """`chosen` carries the value of a `Span`, or `ANY_DATES`."""

    chosen = Signal(str)

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self._offered: tuple[Span, ...] | None = None
        self._row: QWidget | None = None
        self.tiles: dict[str, BigButton] = {}
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)

    def offer(self, book: Book, today: date, looking: Looking) -> None:
        """Offer what there is, and show what is chosen."""
        appointments, targets, medicines = book.appointments(), book.targets(), book.medicines()
        offered = tuple(
            span
            for span in Span
            if period_of(span, today, appointments, targets, medicines) is not None
        )
        if offered != self._offered:
            self._offered = offered
            self._make(offered)
        chosen = ANY_DATES if looking.days is not None else looking.span.value
        for name, tile in self.tiles.items():
            tile.setChecked(name == chosen)

    def _make(self, offered: Sequence[Span]) -> None:
        if self._row is not None:
            self._column.removeWidget(self._row)
            self._row.hide()
            self._row.deleteLater()
        self._row = QWidget()
        layout = TileLayout(self._row, most=len(offered) + 1)
        group = QButtonGroup(self._row)
        group.buttonClicked.connect(self._tell)
        self.tiles = {}
        named = [(span.value, _(_NAMES[span])) for span in offered]
        for name, text in [*named, (ANY_DATES, _("Any dates"))]:
            tile = Tile(self._look, text)
            tile.setCheckable(True)
            tile.describe(_("Which days are shown"))
            tile.setProperty("spanName", name)
            self.tiles[name] = tile
            group.addButton(tile)
            layout.addWidget(tile)
        self._column.addWidget(self._row)

    def _tell(self, tile: BigButton) -> None:
        self.chosen.emit(str(tile.property("spanName")))
