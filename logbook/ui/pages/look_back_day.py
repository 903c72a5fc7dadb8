"""A view of *Look back*: all readings of the days on one day of 24 hours, and the middle half."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtWidgets import QVBoxLayout, QWidget

from logbook.domain.day_boxes import SlotBox
from logbook.domain.day_picture import marks_over_day, target_bands
from logbook.domain.figures import LEAST_FOR_SPREAD
from logbook.ui.pages.look_back_looking import Looked, Looking
from logbook.ui.pages.look_back_ways import SaidLines, WaysView
from logbook.ui.pages.look_back_words import (
    counts_sentence,
    middle_in_two_lines,
    shared_sentence,
    slot_in_two_lines,
    state_counts,
)
from logbook.ui.parts.flow import Flow
from logbook.ui.parts.sentence import Sentence
from logbook.ui.parts.state_paths import StateCount
from logbook.ui.parts.table import ReadTable
from logbook.ui.parts.view_page import ViewPage, clear_layout
from logbook.ui.theme import GAP, Look
from logbook.wording import _
from logbook.wording.dates import clock_text
from logbook.wording.figures import figures_sentence, middle_half_text, span_text
from logbook.wording.numbers import number_text, unit_text
from logbook.wording.targets import target_text
from logbook.wording.terms import slot_text

if TYPE_CHECKING:
    from logbook.ui.parts.chart_day import DayChart


class DayView(WaysView):
    """A box for each time of day, in a picture, in a table and in words."""

    name = "day"

    def __init__(self, page: ViewPage, looking: Looking) -> None:
        super().__init__(page, looking)
        self.picture = DayPicturePart(self.look)
        self.table = ReadTable(self.look, _("The readings over the day as a table"))
        self.words_part = SaidLines(self.look)
        self.add_way("picture", _("Picture"), self.picture)
        self.add_way("table", _("As a table"), _with_room(self.table))
        self.add_way("words", _("In words"), _with_room(self.words_part))
        self.lay_out_ways()

    def title(self) -> str:
        return _("How does an ordinary day go?")

    def empty_text(self, way: str) -> str:
        assert self.looked is not None
        return "" if self.looked.boxes else _("There are no readings in these days.")

    def fill(self, way: str) -> None:
        looked = self.looked
        assert looked is not None
        if way == "picture":
            self.picture.show_looked(looked)
        elif way == "table":
            self._fill_table(looked)
        else:
            self.words_part.say(day_words(looked))

    def _fill_table(self, looked: Looked) -> None:
        unit = unit_text(looked.settings.unit)
        self.table.show_rows(
            (
                _("Time of day"),
                _("Checks"),
                _("Middle value\n{unit}").format(unit=unit),
                _("Middle half\n{unit}").format(unit=unit),
                _("Lowest to highest\n{unit}").format(unit=unit),
                _("Target\n{unit}").format(unit=unit),
            ),
            [_row(box, looked) for box in looked.boxes],
        )


def _with_room(part: QWidget) -> QWidget:
    """`part` at the top of a widget that takes the rest of the page."""
    holder = QWidget()
    column = QVBoxLayout(holder)
    column.setContentsMargins(0, 0, 0, 0)
    column.addWidget(part)
    column.addStretch(1)
    return holder


def _row(box: SlotBox, looked: Looked) -> tuple[str, ...]:
    target = looked.targets.for_slot(box.slot, looked.period.last)
    return (
        _("{slot}\nusually at {time}").format(
            slot=slot_in_two_lines(box.slot), time=clock_text(looked.clock_of(box.minute))
        ),
        number_text(box.figures.count),
        middle_in_two_lines(box.figures),
        middle_half_text(box.figures),
        span_text(box.figures),
        target_text(target, looked.settings.unit, with_unit=False),
    )


def day_words(looked: Looked) -> list[str]:
    """The picture in words."""
    lines = [counts_sentence(looked)]
    lines += [figures_sentence(slot_text(box.slot), box.figures) for box in looked.boxes]
    return lines


def box_sentence() -> str:
    """What a box means."""
    return _(
        "A box holds the middle half, its thick line is the middle value; from {n} checks on."
    ).format(n=number_text(LEAST_FOR_SPREAD))


class DayPicturePart(QWidget):
    """`show_looked` draws the day and says what the shapes mean."""

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
        self.chart: DayChart | None = None
        for part in (self.counts, self.legend, self.meaning):
            self._column.addWidget(part)

    def show_looked(self, looked: Looked) -> None:
        """Show these readings."""
        from logbook.ui.parts.chart_day import DayChart, DayDrawing

        if self.chart is None:
            # Made when it is wanted first: what draws it takes long to load.
            self.chart = DayChart(self._look)
            self.chart.drawn.connect(self._say_meaning)
            self._column.insertWidget(1, self.chart, 1)
        settings = looked.settings
        self.chart.show_day(
            DayDrawing(
                settings.day_starts_at,
                settings.unit,
                marks_over_day(looked.marks, looked.period, settings.day_starts_at),
                looked.boxes,
                target_bands(
                    {box.slot: box.minute for box in looked.boxes},
                    looked.targets,
                    looked.period.last,
                    settings.unit,
                    settings.very_high_above,
                ),
            )
        )
        self.chart.say(" ".join(day_words(looked)))
        self.counts.say(counts_sentence(looked))
        clear_layout(self._flow)
        for state, text in state_counts(looked):
            self._flow.addWidget(StateCount(self._look, state, text))
        self._say_meaning()

    def _say_meaning(self) -> None:
        if self.chart is not None:
            sentences = (box_sentence(), shared_sentence(self.chart.most_in_one))
            self.meaning.say(" ".join(filter(None, sentences)))
