"""A view of *Look back*: what repeats, in words, each with a button that shows its readings.

What counts as a finding, and in which order, is the domain's (`domain.findings`). Findings over
weeks are those of the last finished week, so that they do not come and go from day to day.
"""

from __future__ import annotations

from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout

from logbook.book import Changed
from logbook.domain.findings.finding import Finding
from logbook.domain.findings.review import days_needed, find_findings
from logbook.domain.low_facts import who_looked
from logbook.domain.lows import find_lows
from logbook.domain.moments import Period
from logbook.ui.pages.look_back_beside import a1c_lines, average_lines
from logbook.ui.pages.look_back_looking import Looking, Shows
from logbook.ui.parts.big_button import BigButton
from logbook.ui.parts.card import Card
from logbook.ui.parts.paragraph import Paragraph
from logbook.ui.parts.view_page import View, ViewPage, clear_layout
from logbook.ui.theme import GAP
from logbook.wording import _
from logbook.wording.dates import period_text
from logbook.wording.findings import finding_sentences, finding_title
from logbook.wording.lows import no_lows_text


class RepeatsView(View):
    """A card for each finding, in the order in which a provider would go through them."""

    back = "main"

    def __init__(self, page: ViewPage, looking: Looking) -> None:
        super().__init__(page)
        self.looking = looking
        self.findings: tuple[Finding, ...] = ()
        self._cards = QVBoxLayout()
        self._cards.setSpacing(GAP)
        self.column.addLayout(self._cards)
        self.column.addStretch(1)

    def title(self) -> str:
        return _("What repeats?")

    def refresh(self, changed: Changed | None) -> None:
        clear_layout(self._cards)
        book = self.desk.book
        period = self.looking.period(book, self.desk.today())
        self.findings = self._find(period)
        self._cards.addWidget(Paragraph(self.look, period_text(period, with_days=True)))
        if not self.findings:
            words = _("Nothing repeats so far, or there are too few readings to tell.")
            self._cards.addWidget(Paragraph(self.look, words))
        for place, finding in enumerate(self.findings):
            self._cards.addWidget(self._card(finding, place))
        self._cards.addWidget(Paragraph(self.look, self._who_looked(period)))
        self._add_beside(_("Laboratory A1C"), a1c_lines(book), "a1c")
        self._add_beside(_("Is the log complete?"), average_lines(book), "average")

    def _add_beside(self, heading: str, lines: list[str], view: str) -> None:
        """What stands beside the log, and the way to write down another."""
        card = Card(self.look, heading)
        for line in lines[:2]:
            card.column.addWidget(Paragraph(self.look, line))
        button = BigButton(
            self.look, _("Laboratory value") if view == "a1c" else _("The meter's average")
        )
        button.describe(heading)
        button.setProperty("view", view)
        button.clicked.connect(self._go)
        row = QHBoxLayout()
        row.addWidget(button)
        row.addStretch(1)
        card.column.addLayout(row)
        self._cards.addWidget(card)

    def _go(self) -> None:
        self.page.turn_to(str(self.sender().property("view")))

    def _find(self, period: Period) -> tuple[Finding, ...]:
        book = self.desk.book
        reach = days_needed(period, as_report=False)
        return find_findings(
            book.series(reach),
            period,
            book.settings,
            book.targets(),
            book.happenings(reach),
            book.answers(),
            book.ticks(),
            meal_starts=book.meal_starts(reach),
            spells=book.spells(),
            differences={
                str(reading.id): reading.differences
                for reading in book.with_circumstances(reach)
                if reading.differences
            },
            as_report=False,
        )

    def _who_looked(self, period: Period) -> str:
        """No lows are good news only if someone looked."""
        book, settings = self.desk.book, self.desk.book.settings
        series, happenings = book.series(period), book.happenings(period)
        lows = find_lows(series, settings, happenings, book.answers(), period)
        if lows:
            return ""
        looked = who_looked(series, period, settings, lows)
        return no_lows_text(period, looked)

    def _card(self, finding: Finding, place: int) -> Card:
        card = Card(self.look, finding_title(finding))
        card.column.addWidget(Paragraph(self.look, " ".join(finding_sentences(finding))))
        button = BigButton(self.look, _("Show these readings"))
        button.describe(finding_title(finding))
        button.setProperty("place", place)
        button.clicked.connect(self._show)
        row = QHBoxLayout()
        row.addWidget(button)
        row.addStretch(1)
        card.column.addLayout(row)
        return card

    def _show(self) -> None:
        """Exactly the readings, and what happened, that the finding rests on."""
        finding = self.findings[int(self.sender().property("place"))]
        looking = self.looking
        looking.days = Period(finding.first, finding.last)
        looking.only = frozenset((*finding.reading_ids, *map(str, finding.happening_ids)))
        looking.shows, looking.kind, looking.start = Shows.LIST, None, 0
        message = _("Only these: {what}.").format(what=finding_title(finding))
        self.page.turn_to("main", message=message)
