"""Figures by time of day, each with how many checks it was made from."""

from __future__ import annotations

from PySide6.QtWidgets import QVBoxLayout, QWidget

from logbook.book import Book
from logbook.domain.figures import Figures
from logbook.domain.glucose import HI_STEPS, LO_STEPS, Unit
from logbook.domain.picture import slots_of
from logbook.domain.summary import SlotSummary, Summary, summarise
from logbook.ui.pages.look_back_looking import Looked
from logbook.ui.parts.sentence import Sentence
from logbook.ui.parts.table import ReadTable
from logbook.ui.theme import GAP, Look
from logbook.wording import _
from logbook.wording.numbers import (
    NOTHING,
    count_of_text,
    figure_text,
    lows_text,
    number_text,
    range_text,
)
from logbook.wording.terms import slot_text

# From fewer checks a middle value says little. Judgement without a source.
ENOUGH_CHECKS = 5


class TimesTable(QWidget):
    """One row a time of day: checks, middle value, lowest to highest, in target, lows."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.table = ReadTable(look, _("Figures by time of day"))
        self.notes = Sentence(look)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GAP)
        column.addWidget(self.table)
        column.addWidget(self.notes)
        column.addStretch(1)

    def show_looked(self, looked: Looked, book: Book) -> None:
        """Show the figures of these days."""
        summary = summarise(
            looked.series,
            looked.period,
            looked.settings,
            looked.targets,
            book.happenings(looked.period),
            book.answers(),
        )
        wanted = None if looked.kind is None else slots_of(looked.kind)
        slots = [each for each in summary.slots if wanted is None or each.slot in wanted]
        self.table.show_rows(
            (
                _("Time of day"),
                _("Checks"),
                _("Middle value\n{unit}").format(unit=summary.unit.value),
                _("Lowest to highest\n{unit}").format(unit=summary.unit.value),
                _("In target"),
                _("Low"),
            ),
            [_row(each, summary.unit) for each in slots],
        )
        self.notes.say(_notes(summary))


def _row(of: SlotSummary, unit: Unit) -> tuple[str, ...]:
    return (
        slot_text(of.slot),
        number_text(of.count),
        middle_text(of.figures, unit),
        span_text(of.figures, unit),
        in_target_text(of.in_target, of.judged),
        number_text(of.low),
    )


def middle_text(figures: Figures, unit: Unit) -> str:
    """The middle value, or that there are too few checks for one."""
    if figures.count < ENOUGH_CHECKS:
        return _("too few to tell")
    return figure_text(figures.median, unit, with_unit=False)


def span_text(figures: Figures, unit: Unit) -> str:
    """Lowest to highest, LO and HI included."""
    ends = []
    if figures.reads_low:
        ends.append(LO_STEPS)
    ends += [
        round(value * unit.steps_per_one)
        for value in (figures.least, figures.greatest)
        if value is not None
    ]
    if figures.reads_high:
        ends.append(HI_STEPS)
    return range_text(ends[0], ends[-1], unit, with_unit=False) if ends else NOTHING


def _notes(summary: Summary) -> str:
    lows = _("In these days: {lows}.").format(lows=lows_text(len(summary.lows)))
    unmeasured = sum(1 for low in summary.lows if not low.is_measured)
    told = [lows]
    if unmeasured:
        told.append(_("{n} of them without a number.").format(n=number_text(unmeasured)))
    told.append(
        _("A middle value is told from {n} checks on.").format(n=number_text(ENOUGH_CHECKS))
    )
    return " ".join(told)


def in_target_text(in_target: int, judged: int) -> str:
    """ "7 of 12", or that there is no target."""
    return count_of_text(in_target, judged) if judged else _("no target")
