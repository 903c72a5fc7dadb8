"""What *Figures* shows of the plan: how many of its checks were made, by time of day and by week.

Counts, no score: what was not done is left to the person and their provider.
"""

from __future__ import annotations

from PySide6.QtWidgets import QVBoxLayout, QWidget

from logbook.domain.plan.done import PlanDone
from logbook.ui.pages.look_back_rows import STACKED_FROM_PERCENT
from logbook.ui.pages.look_back_words import slot_in_two_lines
from logbook.ui.parts.sentence import Sentence
from logbook.ui.parts.table_pair import TablePair
from logbook.ui.theme import GAP, Look
from logbook.wording import _, ngettext
from logbook.wording.dates import week_text
from logbook.wording.numbers import count_of_text, number_text
from logbook.wording.plan import plan_done_sentence, plan_gap_sentences

# As many weeks as stand on one screen: a quarter of a year.
_MOST_WEEKS = 13


class PlanPart(QWidget):
    """Done of planned, in two tables side by side."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.told = Sentence(look)
        self._tables = TablePair(
            look,
            _("Planned checks done, by time of day"),
            _("Planned checks done, by week"),
            stacked_from=STACKED_FROM_PERCENT,
        )
        self.slots, self.weeks = self._tables.first, self._tables.second
        self.notes = Sentence(look)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GAP)
        column.addWidget(self.told)
        column.addWidget(self._tables)
        column.addWidget(self.notes)
        column.addStretch(1)

    def show_done(self, done: PlanDone) -> None:
        """Show what was done in these days, the latest week first."""
        self.told.say(plan_done_sentence(done))
        self.slots.show_rows(
            (_("Time of day"), _("Done")),
            [
                (slot_in_two_lines(one.slot), count_of_text(one.share.part, one.share.of))
                for one in done.by_slot
            ],
        )
        weeks = done.by_week[-_MOST_WEEKS:][::-1]
        self.weeks.show_rows(
            (_("Week"), _("Done")),
            [(week_text(one.period), count_of_text(one.share.part, one.share.of)) for one in weeks],
        )
        told = plan_gap_sentences(done)
        if len(weeks) < len(done.by_week):
            told.append(
                ngettext(
                    "The last week is shown.", "The last {n} weeks are shown.", len(weeks)
                ).format(n=number_text(len(weeks)))
            )
        self.notes.say(" ".join(told))
