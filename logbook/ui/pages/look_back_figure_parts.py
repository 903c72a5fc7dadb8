"""What *Figures* shows of one stretch of days: by time of day, and all readings together."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtWidgets import QVBoxLayout, QWidget

from logbook.domain.figures import LEAST_FOR_SPREAD, Share
from logbook.domain.summary import SlotSummary, Summary
from logbook.ui.pages.look_back_looking import Looked
from logbook.ui.pages.look_back_rows import STACKED_FROM_PERCENT
from logbook.ui.pages.look_back_words import middle_in_two_lines, slot_in_two_lines
from logbook.ui.parts.sentence import Sentence
from logbook.ui.parts.spread import Spread, SpreadTable
from logbook.ui.parts.table_pair import TablePair
from logbook.ui.theme import GAP, Look
from logbook.wording import _
from logbook.wording.figures import (
    band_limits,
    middle_half_text,
    share_text,
    share_with_interval_text,
    span_text,
    spread_sentence,
)
from logbook.wording.numbers import count_of_text, number_text, unit_text


class SlotsPart(QWidget):
    """A row for each time of day, with a small picture of its values."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.table = SpreadTable(look, _("Figures by time of day"))
        self.notes = Sentence(look)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GAP)
        column.addWidget(self.table)
        column.addWidget(self.notes)
        column.addStretch(1)

    def show_looked(self, looked: Looked) -> None:
        """Show the figures of these days."""
        summary = looked.summary
        name, scale = unit_text(summary.unit), summary.unit.steps_per_one
        dots = {box.slot: box.dots for box in looked.boxes}
        self.table.show_spreads(
            (
                _("Time of day"),
                _("Checks"),
                _("Middle value\n{unit}").format(unit=name),
                _("Middle half\n{unit}").format(unit=name),
                _("In target"),
                _("Low"),
                _("Lowest to highest\n{unit}").format(unit=name),
            ),
            [_slot_row(each) for each in summary.slots],
            [
                Spread(
                    dots[each.slot],
                    each.figures.median * scale
                    if each.figures.is_enough and each.figures.median is not None
                    else None,
                )
                for each in summary.slots
            ],
            summary.unit,
        )
        told = [
            _("Each dot is a value. Thin line: the limit of low. Thick line: the middle value."),
        ]
        if any(not each.figures.is_enough for each in summary.slots):
            told.append(
                _("A middle value is told from {n} checks on.").format(
                    n=number_text(LEAST_FOR_SPREAD)
                )
            )
        self.notes.say(" ".join(told))


def _slot_row(of: SlotSummary) -> tuple[str, ...]:
    return (
        slot_in_two_lines(of.slot),
        number_text(of.count),
        middle_in_two_lines(of.figures),
        middle_half_text(of.figures),
        count_of_text(of.in_target, of.judged) if of.judged else _("no target"),
        number_text(of.low),
        span_text(of.figures),
    )


class AllPart(QWidget):
    """All readings together: spread, bands, and what lies where against the targets."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.spread = Sentence(look)
        self._tables = TablePair(
            look,
            _("Readings in target, below and above it"),
            _("Readings between fixed limits"),
            stacked_from=STACKED_FROM_PERCENT,
        )
        self.targets, self.bands = self._tables.first, self._tables.second
        self.notes = Sentence(look)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GAP)
        column.addWidget(self.spread)
        column.addWidget(self._tables)
        column.addWidget(self.notes)
        column.addStretch(1)

    def show_looked(self, looked: Looked) -> None:
        """Show the figures of these days."""
        summary = looked.summary
        self.spread.say(spread_sentence(summary.figures))
        self._show_targets(summary)
        bands = summary.bands
        self.bands.show_rows(
            (
                _("Limits in {unit}").format(unit=unit_text(summary.unit)),
                _("Readings and share"),
            ),
            [
                (limit, share_text(share))
                for limit, share in zip(band_limits(summary.unit), bands.shares, strict=True)
            ],
        )
        told = [_("Shares are of readings, not of hours of the day.")]
        if summary.against_target.in_target_share.is_enough:
            told.append(_("In brackets: how far the share could be from this by chance alone."))
        self.notes.say(" ".join(told))

    def _show_targets(self, summary: Summary) -> None:
        counts = summary.against_target
        self.targets.setVisible(bool(counts.judged))
        rows: Sequence[tuple[str, Share]] = (
            (_("Below"), counts.below_share),
            (_("In target"), counts.in_target_share),
            (_("Above"), counts.above_share),
        )
        self.targets.show_rows(
            (_("Target of the day"), _("Checks and share")),
            [(name, share_with_interval_text(share)) for name, share in rows],
        )
