"""Views of *Look back* in which something is chosen: the days, and the times of day."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QBoxLayout, QWidget

from logbook.domain.moments import Period
from logbook.domain.targets import TargetKind
from logbook.ui.pages.look_back_looking import Looking
from logbook.ui.parts.big_button import BigButton, ButtonKind
from logbook.ui.parts.columns import Columns
from logbook.ui.parts.day_field import DayField
from logbook.ui.parts.view_page import View, ViewPage
from logbook.ui.theme import GAP
from logbook.wording import _
from logbook.wording.dates import day_text
from logbook.wording.terms import target_kind_text
from logbook.wording.typed_days import Toward

_STACKED_FROM_PERCENT = 150


class DaysView(View):
    """Any first and last day, or the whole log."""

    back = "main"

    def __init__(self, page: ViewPage, looking: Looking) -> None:
        super().__init__(page)
        self.looking = looking
        today = self.desk.today()
        shown = looking.period(self.desk.book, today)
        self.first = DayField(
            self.look, _("From which day?"), today, value=shown.first, toward=Toward.PAST
        )
        self.last = DayField(
            self.look, _("Up to which day?"), today, value=shown.last, toward=Toward.PAST
        )
        is_stacked = self.look.theme.percent >= _STACKED_FROM_PERCENT
        fields = QBoxLayout(
            QBoxLayout.Direction.TopToBottom if is_stacked else QBoxLayout.Direction.LeftToRight
        )
        fields.setSpacing(3 * GAP)
        for field in (self.first, self.last):
            fields.addWidget(field, 1, Qt.AlignmentFlag.AlignTop)
        self.column.addLayout(fields)
        span = self.desk.book.span()
        self.whole: BigButton | None = None
        if span is not None:
            self._span = Period(min(span[0], today), max(span[1], today))
            self.whole = BigButton(
                self.look,
                _("The whole log, from {day}").format(day=day_text(span[0])),
                ButtonKind.TALL,
            )
            self.whole.clicked.connect(self._show_whole)
            self.column.addWidget(self.whole, 0, Qt.AlignmentFlag.AlignLeft)
        self.column.addStretch(1)

    def title(self) -> str:
        return _("Which days do you want to see?")

    def main_text(self) -> str:
        return _("Show these days")

    def first_field(self) -> QWidget:
        return self.first

    def do_main(self) -> None:
        problems = [(f, text) for f in (self.first, self.last) if (text := f.problem())]
        if not self.show_problems((self.first, self.last), problems):
            return
        first, last = self.first.day(), self.last.day()
        assert first is not None
        assert last is not None
        # Given the wrong way round, it is still clear which days are meant.
        self._show(Period(min(first, last), max(first, last)))

    def _show_whole(self) -> None:
        self._show(self._span)

    def _show(self, days: Period) -> None:
        self.looking.show_all()
        self.looking.days = days
        self.page.turn_to("main")


class KindView(View):
    """All times of day, or those of one target."""

    back = "time"

    def __init__(self, page: ViewPage, looking: Looking) -> None:
        super().__init__(page)
        self.looking = looking
        self.tiles: dict[TargetKind | None, BigButton] = {}
        tiles = Columns(self.look, most=2, least_width=12)
        for kind in (None, *TargetKind):
            text = _("All times of day") if kind is None else target_kind_text(kind)
            button = BigButton(self.look, text, ButtonKind.TILE)
            button.setCheckable(True)
            button.setChecked(kind is looking.kind)
            button.setMinimumHeight(self.look.theme.key)
            button.clicked.connect(self._choose)
            self.tiles[kind] = button
            tiles.add(button)
        self.column.addWidget(tiles)
        self.column.addStretch(1)

    def title(self) -> str:
        return _("Which times of day do you want to see?")

    def first_field(self) -> QWidget:
        return self.tiles[self.looking.kind]

    def _choose(self) -> None:
        sender = self.sender()
        kind = next((kind for kind, button in self.tiles.items() if button is sender), None)
        self.looking.kind, self.looking.start = kind, 0
        self.page.turn_to("time")
