"""What was written down, one by one, newest first, with what can be done about each."""

from __future__ import annotations

from collections.abc import Sequence
from uuid import UUID

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from logbook.book import Book
from logbook.domain.kit.kit_data import KitData
from logbook.domain.kit.suspects import suspect_readings
from logbook.domain.kit.vial_life import out_of_date
from logbook.domain.moments import Moment
from logbook.domain.readings import Reading
from logbook.domain.settings import LogSettings
from logbook.domain.states import State, state_of_reading
from logbook.ui.pages.look_back_entry_words import is_late
from logbook.ui.pages.look_back_looking import Listed, Looked
from logbook.ui.pages.look_back_rows import STACKED_FROM_PERCENT, ReadingRow, Row, ToldRow
from logbook.ui.parts.big_button import BigButton
from logbook.ui.parts.view_page import clear_layout
from logbook.ui.theme import GAP, Look
from logbook.wording.kit import out_of_date_reading
from logbook.wording.kit_control import suspect_reading
from logbook.wording.writers import written_by_text


class ReadingList(QWidget):
    """`show_rows` shows some of them; `wants` tells which button of which was pressed."""

    wants = Signal(str, object)

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self.rows: list[Row] = []
        self._column = QVBoxLayout()
        self._column.setSpacing(GAP)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GAP)
        column.addLayout(self._column)
        column.addStretch(1)

    def show_rows(
        self,
        looked: Looked,
        start: int,
        count: int,
        book: Book,
        now: Moment,
    ) -> None:
        """Show `count` of them from `start` on, each reading read whole from the Book."""
        clear_layout(self._column)
        wanted = looked.listed[start : start + count]
        kit = book.kit()
        self.rows = [self._row(looked, each, book, kit, now) for each in wanted]
        for row in self.rows:
            row.wants.connect(self.wants)
            self._column.addWidget(row)

    def stops(self) -> list[QWidget]:
        """The buttons, in the order in which the keyboard goes through them."""
        return [button for row in self.rows for button in row.findChildren(BigButton)]

    def _row(self, looked: Looked, listed: Listed, book: Book, kit: KitData, now: Moment) -> Row:
        if not isinstance(listed, int):
            return ToldRow(self._look, listed, now, looked.settings.day_starts_at)
        reading = book.reading(UUID(looked.series.ids[listed]))
        settings = looked.settings
        state = State.NOT_JUDGED
        if reading.counts:
            own = settings.very_high_above if reading.glucose.unit is settings.unit else None
            day = reading.at.day(settings.day_starts_at)
            state = state_of_reading(reading, day, looked.targets, own)
        return ReadingRow(
            self._look,
            reading,
            state,
            now,
            settings.day_starts_at,
            is_late=is_late(looked, listed),
            written_by=written_by_text(settings, reading.initials),
            kit_doubts=_kit_doubts(reading, kit, settings),
        )


def _kit_doubts(reading: Reading, kit: KitData, settings: LogSettings) -> list[str]:
    """Why the kit puts the number in question, as the report marks it too."""
    if not reading.counts:
        return []
    doubts = [out_of_date_reading(one.life) for one in out_of_date((reading,), kit, settings)]
    if suspect_readings((reading,), kit, settings):
        doubts.append(suspect_reading())
    return doubts


def rows_at(percent: int, wanted: Sequence[int]) -> int:
    """How many rows are shown at this text size: the first number at small, the second at large."""
    return wanted[0] if percent < STACKED_FROM_PERCENT else wanted[1]
