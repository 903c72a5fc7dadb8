"""A view of *Look back*: each low with what followed it, or who looked when none was seen."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import time

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QVBoxLayout, QWidget

from logbook.domain.low_episodes import LowEpisode, low_episodes
from logbook.domain.low_facts import who_looked
from logbook.domain.lows import Low
from logbook.ui.pages.look_back_looking import Looking
from logbook.ui.pages.look_back_ways import SaidLines, WaysView
from logbook.ui.pages.look_back_words import slot_in_two_lines
from logbook.ui.parts.big_button import BigButton, ButtonKind
from logbook.ui.parts.table import ReadTable
from logbook.ui.parts.view_page import ViewPage
from logbook.ui.theme import GAP
from logbook.wording import _
from logbook.wording.dates import period_text
from logbook.wording.lows import (
    followed_sentences,
    lowest_text,
    minutes_until_text,
    no_lows_text,
    noted_text,
    when_text,
)
from logbook.wording.numbers import NOTHING


class LowsView(WaysView):
    """What followed the lows in words, and the lows as a table, latest first."""

    name = "lows"
    row_counts = (6, 2)

    def __init__(self, page: ViewPage, looking: Looking) -> None:
        super().__init__(page, looking)
        self.followed = SaidLines(self.look)
        self.table = ReadTable(self.look, _("Each low"))
        self.show_button = BigButton(self.look, _("Show these readings"), ButtonKind.OTHER)
        self.show_button.describe(_("Lists the readings of these lows"))
        self.show_button.clicked.connect(self._show_readings)
        part = QWidget()
        column = QVBoxLayout(part)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GAP)
        column.addWidget(self.followed)
        column.addWidget(self.table)
        column.addWidget(self.show_button, 0, Qt.AlignmentFlag.AlignLeft)
        column.addStretch(1)
        self.add_way("lows", _("Lows"), part)
        self.lay_out_ways()
        self.ways_row.hide()  # there is one way alone

    def title(self) -> str:
        return _("Were there lows?")

    def empty_text(self, way: str) -> str:
        looked = self.looked
        assert looked is not None
        if looked.summary.lows:
            return ""
        if not looked.summary.readings.count:
            return _("There are no readings in these days.")
        return no_lows_text(
            looked.period, who_looked(looked.series, looked.period, looked.settings, ())
        )

    def rows_of(self, way: str) -> int:
        assert self.looked is not None
        return len(self.looked.summary.lows)

    def fill(self, way: str) -> None:
        looked = self.looked
        assert looked is not None
        lows = looked.summary.lows
        self.followed.say([period_text(looked.period, with_days=True), _join(lows)])
        shown = list(reversed(lows))[self.start : self.start + self.rows_shown]
        noted = self.desk.book.with_circumstances(looked.period)
        feelings = {str(reading.id): reading.feelings for reading in noted}
        episodes = low_episodes(shown, feelings).episodes
        self.table.show_rows(
            (
                _("When"),
                _("Lowest"),
                _("Time of day"),
                _("Checked again"),
                _("Over"),
                _("Noted"),
            ),
            [_row(episode, looked.settings.day_starts_at) for episode in reversed(episodes)],
        )

    def _show_readings(self) -> None:
        assert self.looked is not None
        lows = self.looked.summary.lows
        ids = {one for low in lows for one in (*low.reading_ids, *map(str, low.happening_ids))}
        days = self.looked.period
        self.looking.show_only(frozenset(ids), days, asked_by=self.name, title=_("These lows"))
        self.page.turn_to("time")


def _join(lows: Sequence[Low]) -> str:
    return " ".join(followed_sentences(low_episodes(lows)))


def _row(episode: LowEpisode, day_starts_at: time) -> tuple[str, ...]:
    low = episode.low
    again = over = NOTHING
    if low.is_measured:
        again = minutes_until_text(low.rechecked_after_minutes)
        over = minutes_until_text(low.back_above_69_after_minutes)
    return (
        when_text(low, day_starts_at),
        lowest_text(low),
        NOTHING if low.slot is None else slot_in_two_lines(low.slot),
        again,
        over,
        noted_text(episode).replace(", ", ",\n") or NOTHING,
    )
