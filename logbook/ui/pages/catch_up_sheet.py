"""How a paper sheet is copied: check by check, or down a column, day after day."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from logbook.domain.moments import Moment
from logbook.domain.plan.plans import CheckPlan
from logbook.domain.sheet_column import ColumnClock, NextRow, SheetColumn, column_clock
from logbook.domain.slots import Slot
from logbook.domain.usual_times import UsualTimes
from logbook.ui.parts.big_button import ButtonKind
from logbook.ui.parts.form_rows import Choice
from logbook.ui.theme import Look
from logbook.wording import _
from logbook.wording.catch_up import next_row_text


class SheetOrder(QWidget):
    """The choice of the next row, and the column that is being copied. Emits `changed`."""

    changed = Signal()

    def __init__(self, look: Look) -> None:
        super().__init__()
        self.column: SheetColumn | None = None
        self._plans: tuple[CheckPlan, ...] = ()
        self._usual: UsualTimes | None = None
        self.next_row = Choice(
            look,
            _("What is the next row?"),
            [(way, next_row_text(way)) for way in NextRow],
            columns=3,
            kind=ButtonKind.CHIP,
            shows_label=False,
        )
        self.next_row.choose(NextRow.CHECK_BEFORE)
        self.next_row.chosen.connect(self._take_way)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.next_row)

    def know(self, plans: Iterable[CheckPlan], usual: UsualTimes) -> None:
        """Where the usual times of a column come from."""
        self._plans, self._usual = tuple(plans), usual

    @property
    def way(self) -> NextRow:
        """What the next row is."""
        way: NextRow = self.next_row.value
        return way

    @property
    def is_by_column(self) -> bool:
        """Whether the rows go down a column, chosen or not."""
        return self.way is not NextRow.CHECK_BEFORE

    @property
    def lacks_column(self) -> bool:
        """Whether it is still to be said which column it is."""
        return self.is_by_column and self.column is None

    def take_column(self, slot: Slot) -> None:
        """The person said which column they copy."""
        if self.column is None:
            self.column = SheetColumn(slot, self.way)
        else:
            self.column = self.column.another(slot)

    def take_row(self, day: date) -> None:
        """The row of `day` was taken, or had no number."""
        if self.column is not None:
            self.column = self.column.past(day)

    def clock_on(self, day: date) -> ColumnClock:
        """About when the check of this column was made on a day."""
        assert self.column is not None
        assert self._usual is not None
        return column_clock(self.column.slot, day, self._plans, self._usual)

    def next_day(self, now: Moment) -> date:
        """The day of the next row of the column."""
        assert self.column is not None
        clock = self.clock_on(now.wall.date())
        return self.column.day_offered(clock.at, now.wall)

    def begin_anew(self) -> None:
        """Another source: no column is being copied."""
        self.column = None
        self.next_row.choose(NextRow.CHECK_BEFORE)

    def _take_way(self, way: NextRow) -> None:
        if self.column is not None:
            is_same = way is not NextRow.CHECK_BEFORE
            self.column = SheetColumn(self.column.slot, way) if is_same else None
        self.changed.emit()
