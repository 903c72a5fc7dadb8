"""The readings over time: the picture, what its shapes mean with how many, and its table."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtWidgets import QVBoxLayout, QWidget

from logbook.domain.moments import Period
from logbook.domain.picture import Stretch, spells_in
from logbook.domain.states import State
from logbook.ui.pages.look_back_looking import Looked
from logbook.ui.pages.look_back_words import (
    band_sentence,
    change_label,
    change_sentences,
    changes_by_day,
    counts_sentence,
    left_out_sentence,
    picture_words,
    shared_sentence,
    state_counts,
)
from logbook.ui.parts.chart_picture import Change, Picture, Shade
from logbook.ui.parts.flow import Flow
from logbook.ui.parts.sentence import Sentence
from logbook.ui.parts.state_paths import StateCount
from logbook.ui.parts.table import ReadTable
from logbook.ui.parts.view_page import clear_layout
from logbook.ui.theme import GAP, Look
from logbook.wording import _
from logbook.wording.dates import month_text, period_text, short_day_text, short_weekday_text
from logbook.wording.numbers import number_text, range_text
from logbook.wording.terms import spell_text

if TYPE_CHECKING:
    from logbook.ui.parts.chart_readings import ReadingsChart


class PicturePart(QWidget):
    """`show_looked` draws the readings and says the same in words."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(GAP // 2)
        self.counts = Sentence(look)
        self.legend = QWidget()
        self._flow = Flow(self.legend, GAP)
        self.meaning = Sentence(look)
        self.chart: ReadingsChart | None = None
        self._looked: Looked | None = None
        self._column.addWidget(self.counts)
        self._column.addWidget(self.legend)
        self._column.addWidget(self.meaning)

    def show_looked(self, looked: Looked) -> None:
        """Show these readings."""
        from logbook.ui.parts.chart_readings import ReadingsChart

        if self.chart is None:
            # Made when it is wanted first: what draws it takes long to load.
            self.chart = ReadingsChart(self._look)
            self.chart.drawn.connect(self._say_meaning)
            self._column.insertWidget(1, self.chart, 1)
        self._looked = looked
        picture = Picture(
            looked.period,
            looked.settings.day_starts_at,
            looked.settings.unit,
            looked.marks,
            looked.band,
            [Change(day, change_label(points)) for day, points in changes_by_day(looked).items()],
            [
                Shade(part, spell_text(spell.kind))
                for spell, part in spells_in(looked.spells, looked.period)
            ],
        )
        self.chart.show_picture(picture)
        self.chart.say(picture_words(looked))
        self.counts.say(counts_sentence(looked))
        clear_layout(self._flow)
        for state, text in state_counts(looked):
            self._flow.addWidget(StateCount(self._look, state, text))
        self._say_meaning()

    def _say_meaning(self) -> None:
        looked, chart = self._looked, self.chart
        if looked is None or chart is None:
            return
        sentences = (
            band_sentence(looked),
            shared_sentence(chart.most_in_one),
            left_out_sentence(looked),
        )
        self.meaning.say(" ".join(filter(None, sentences)))


class StretchTable(QWidget):
    """The same as a table, some rows at a time, newest first; what changed is told below it."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.table = ReadTable(look, _("The readings over time as a table"))
        self.changes = Sentence(look)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GAP)
        for part in (self.table, self.changes):
            column.addWidget(part)
        column.addStretch(1)

    def show_rows(self, looked: Looked, start: int, count: int) -> None:
        """Show `count` rows from `start` on."""
        rows = looked.stretches[start : start + count]
        unit = looked.settings.unit
        self.table.show_rows(
            (
                _("Days"),
                _("Readings"),
                _("Lowest to highest\n{unit}").format(unit=unit.value),
                _("Low"),
                _("Below target"),
                _("In target"),
                _("Above target"),
            ),
            [_row(stretch, looked) for stretch in rows],
        )
        days = Period(rows[-1].period.first, rows[0].period.last)
        self.changes.say("\n".join(change_sentences(looked, days)))


def _row(stretch: Stretch, looked: Looked) -> tuple[str, ...]:
    counts = stretch.counts
    assert stretch.lowest is not None
    assert stretch.highest is not None
    return (
        stretch_name(stretch),
        number_text(stretch.count),
        range_text(stretch.lowest, stretch.highest, looked.settings.unit, with_unit=False),
        _with_very(counts[State.LOW], counts[State.VERY_LOW]),
        number_text(counts[State.BELOW_TARGET]),
        number_text(counts[State.IN_TARGET]),
        _with_very(counts[State.ABOVE_TARGET], counts[State.VERY_HIGH]),
    )


def _with_very(count: int, very: int) -> str:
    total = number_text(count + very)
    if not very:
        return total
    return _("{total} ({very} very)").format(total=total, very=number_text(very))


def stretch_name(stretch: Stretch) -> str:
    """The days of a row: one day with its weekday, some days, a month, a year."""
    period = stretch.period
    if period.days == 1:
        return _("{weekday}, {day}").format(
            weekday=short_weekday_text(period.first), day=short_day_text(period.first)
        )
    if period.days <= 7:
        return _("{first} to {last}").format(
            first=short_day_text(period.first), last=short_day_text(period.last)
        )
    if (period.first.year, period.first.month) == (period.last.year, period.last.month):
        return month_text(period.first)
    if period.first.year == period.last.year:
        return str(period.first.year)
    return period_text(period)
