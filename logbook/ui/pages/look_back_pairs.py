"""A view of *Look back*: checks before and after meals, and from bedtime to morning."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QVBoxLayout, QWidget

from logbook.domain.slots import Slot
from logbook.ui.pages.look_back_looking import Looked, Looking
from logbook.ui.pages.look_back_pair_groups import PairGroup, groups_of
from logbook.ui.pages.look_back_ways import SaidLines, WaysView
from logbook.ui.parts.sentence import Sentence
from logbook.ui.parts.table import ReadTable
from logbook.ui.parts.view_page import ViewPage
from logbook.ui.theme import GAP, Look
from logbook.wording import _
from logbook.wording.dates import short_day_text, short_weekday_text
from logbook.wording.numbers import (
    NOTHING,
    figure_text,
    number_text,
    steps_text,
    unit_text,
)
from logbook.wording.pairs import (
    change_text,
    changes_sentence,
    how_pairs_are_made,
    least_to_most_text,
    low_between_text,
    meal_text,
    pairs_text,
)

if TYPE_CHECKING:
    from logbook.ui.parts.chart_pairs import DrawnGroup, PairsChart

# So many lines of one group can be told apart.
MOST_DRAWN = 40


class PairsView(WaysView):
    """Each meal and the nights, in a picture, in a table, in words, and pair by pair."""

    name = "pairs"
    says_days = True
    row_counts = (8, 3)

    def __init__(self, page: ViewPage, looking: Looking) -> None:
        super().__init__(page, looking)
        self.groups: list[PairGroup] = []
        self.picture = PairsPicture(self.look)
        self.table = TablePart(self.look, _("Checks before and after as a table"))
        self.words_part = SaidLines(self.look)
        self.each = TablePart(self.look, _("Each pair"))
        words = QWidget()
        column = QVBoxLayout(words)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.words_part)
        column.addStretch(1)
        self.add_way("picture", _("Picture"), self.picture)
        self.add_way("table", _("As a table"), self.table)
        self.add_way("words", _("In words"), words)
        self.add_way("each", _("Each pair"), self.each)
        self.lay_out_ways()

    def title(self) -> str:
        return _("What happens at meals and overnight?")

    def read(self) -> Looked:
        looked = super().read()
        self.groups = groups_of(looked)
        return looked

    def empty_text(self, way: str) -> str:
        if self.groups:
            return ""
        return "\n".join((_("There are no pairs in these days yet."), *how_pairs_are_made()))

    def rows_of(self, way: str) -> int:
        return sum(len(group.pairs) for group in self.groups) if way == "each" else 0

    def fill(self, way: str) -> None:
        looked = self.looked
        assert looked is not None
        if way == "picture":
            self.picture.show_groups(self.groups, looked)
        elif way == "table":
            self._fill_table(looked)
        elif way == "words":
            self.words_part.say([*pairs_words(self.groups, looked), *how_pairs_are_made()])
        else:
            self._fill_each(looked)

    def _fill_table(self, looked: Looked) -> None:
        unit = looked.settings.unit
        name = unit_text(unit)
        self.table.show_rows(
            (
                _("Between"),
                _("Pairs"),
                _("Middle value before\n{unit}").format(unit=name),
                _("Middle value after\n{unit}").format(unit=name),
                _("Middle change\n{unit}").format(unit=name),
                _("Least to most\n{unit}").format(unit=name),
            ),
            [
                (
                    _between_text(group.slot),
                    number_text(group.changes.count),
                    figure_text(group.first.median, unit, with_unit=False),
                    figure_text(group.second.median, unit, with_unit=False),
                    change_text(group.changes.median, unit),
                    least_to_most_text(group.changes, unit),
                )
                for group in self.groups
            ],
            low_between_text(_nights_with_low(looked)),
        )

    def _fill_each(self, looked: Looked) -> None:
        series, unit = looked.series, looked.settings.unit
        pairs = [(pair, group) for group in self.groups for pair in group.pairs]
        pairs.sort(key=lambda one: series.instants[one[0].second], reverse=True)
        minutes = {pair.after: pair.minutes_after for pair in looked.meals}
        name = unit_text(unit)

        def value(index: int) -> str:
            own = series.units[index]
            return steps_text(series.steps[index], own, with_unit=own is not unit)

        self.each.show_rows(
            (
                _("Day"),
                _("Between"),
                _("Before\n{unit}").format(unit=name),
                _("After\n{unit}").format(unit=name),
                _("Change\n{unit}").format(unit=name),
                _("Since the first bite"),
            ),
            [
                (
                    _("{weekday}, {day}").format(
                        weekday=short_weekday_text(pair.day), day=short_day_text(pair.day)
                    ),
                    group.name,
                    value(pair.first),
                    value(pair.second),
                    change_text(pair.change, unit),
                    _("{n} min").format(n=number_text(minutes[pair.second]))
                    if pair.second in minutes and group.slot is not None
                    else NOTHING,
                )
                for pair, group in pairs[self.start : self.start + self.rows_shown]
            ],
        )


def _between_text(slot: Slot | None) -> str:
    if slot is None:
        return _("Bedtime and fasting\n(before breakfast)")
    return _("Before and after {meal}").format(meal=meal_text(slot).lower())


def _nights_with_low(looked: Looked) -> int:
    return sum(pair.has_low_between for pair in looked.nights)


def pairs_words(groups: Sequence[PairGroup], looked: Looked) -> list[str]:
    """The picture in words."""
    unit = looked.settings.unit
    lines = [changes_sentence(group.name, group.changes, unit) for group in groups]
    low = low_between_text(_nights_with_low(looked))
    return [*lines, low] if low else lines


class TablePart(QWidget):
    """A table with a sentence below it."""

    def __init__(self, look: Look, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.table = ReadTable(look, name)
        self.note = Sentence(look)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GAP)
        column.addWidget(self.table)
        column.addWidget(self.note)
        column.addStretch(1)

    def show_rows(
        self, heads: Sequence[str], rows: Sequence[Sequence[str]], note: str = ""
    ) -> None:
        """Show these, and what has to be said about them."""
        self.table.show_rows(heads, rows)
        self.note.say(note)


class PairsPicture(QWidget):
    """`show_groups` draws them and says what the lines mean."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(GAP // 2)
        self.meaning = Sentence(look)
        self.chart: PairsChart | None = None
        self._column.addWidget(self.meaning)

    def show_groups(self, groups: Sequence[PairGroup], looked: Looked) -> None:
        """Show these pairs."""
        from logbook.ui.parts.chart_pairs import PairsChart

        if self.chart is None:
            self.chart = PairsChart(self._look)
            self._column.insertWidget(0, self.chart, 1)
        self.chart.show_groups([_drawn(group, looked) for group in groups], looked.settings.unit)
        self.chart.say(" ".join(pairs_words(groups, looked)))
        told = [
            _("Each line is a pair: the check before at its left, the check after at its right."),
            _("The thick line leads from middle value to middle value."),
        ]
        most = max(len(group.pairs) for group in groups)
        if most > MOST_DRAWN:
            told.append(
                _("Of each, the latest {pairs} are drawn.").format(pairs=pairs_text(MOST_DRAWN))
            )
        self.meaning.say(" ".join(told))


def _drawn(group: PairGroup, looked: Looked) -> DrawnGroup:
    from logbook.ui.parts.chart_pairs import DrawnGroup, DrawnPair

    unit = looked.settings.unit
    is_enough = group.first.is_enough
    first, second = group.first.median, group.second.median
    middle = None
    if is_enough and first is not None and second is not None:
        middle = (first * unit.steps_per_one, second * unit.steps_per_one)
    is_night = group.slot is None
    return DrawnGroup(
        name=group.name,
        before=_("bedtime") if is_night else _("before"),
        after=_("morning") if is_night else _("after"),
        pairs=[
            DrawnPair(
                looked.place_of(pair.first),
                looked.place_of(pair.second),
                looked.state_at[pair.first],
                looked.state_at[pair.second],
            )
            for pair in group.pairs[-MOST_DRAWN:]
        ],
        middle=middle,
    )
