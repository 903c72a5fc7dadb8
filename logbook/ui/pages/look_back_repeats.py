"""A view of *Look back*: what repeats, in words, each with a button that shows its readings."""

from __future__ import annotations

from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout

from logbook.book import Changed
from logbook.domain.errors import LogbookError
from logbook.domain.findings.finding import Finding
from logbook.domain.low_facts import who_looked
from logbook.domain.moments import Period
from logbook.ui.pages.look_back_finder import Finder
from logbook.ui.pages.look_back_looking import Looked, Looking
from logbook.ui.parts.big_button import BigButton
from logbook.ui.parts.card import Card
from logbook.ui.parts.paragraph import Paragraph
from logbook.ui.parts.view_page import View, ViewPage, clear_layout
from logbook.ui.theme import GAP
from logbook.wording import _
from logbook.wording.dates import period_text
from logbook.wording.findings import finding_sentences, finding_title
from logbook.wording.lows import no_lows_text

_MY_PLAN = "my_plan"


class RepeatsView(View):
    """A card for each finding, in the order in which a provider would go through them."""

    back = "main"

    def __init__(self, page: ViewPage, looking: Looking, finder: Finder) -> None:
        super().__init__(page)
        self.looking, self._finder = looking, finder
        self.findings: tuple[Finding, ...] = ()
        self._looked: Looked | None = None
        self._cards = QVBoxLayout()
        self._cards.setSpacing(GAP)
        self.column.addLayout(self._cards)
        self.limits = BigButton(self.look, _("When does something repeat?")).let_wrap()
        self.limits.describe(_("The limits from which on it is told here"))
        self.limits.clicked.connect(self._to_limits)
        self.limits.setVisible(_MY_PLAN in self.desk.page_names)
        row = QHBoxLayout()
        row.addWidget(self.limits)
        row.addStretch(1)
        self.column.addLayout(row)
        self.column.addStretch(1)
        finder.found.connect(self._show_found)

    def title(self) -> str:
        return _("What repeats?")

    def refresh(self, changed: Changed | None) -> None:
        self.looking.show_all()
        try:
            self._looked = self.looking.look(self.desk.book, self.desk.today())
            self._finder.look_for(self._looked)
        except LogbookError as error:
            self.desk.told(error)
            return
        self._show()

    def _show_found(self) -> None:
        if self._looked is not None and self.page.view is self:
            self._show()
            self.page.update_head()

    def _show(self) -> None:
        looked = self._looked
        assert looked is not None
        clear_layout(self._cards)
        found = self._finder.known(looked.period)
        self.findings = found or ()
        lines = [period_text(looked.period, with_days=True)]
        if found is None:
            lines.append(_("What repeats is still being looked for."))
        elif not found:
            lines.append(_("Nothing repeats so far, or there are too few readings to tell."))
        if not looked.summary.lows and looked.summary.readings.count:
            looks = who_looked(looked.series, looked.period, looked.settings, ())
            lines.append(no_lows_text(looked.period, looks))
        for line in lines:
            self._cards.addWidget(Paragraph(self.look, line))
        for place, finding in enumerate(self.findings):
            self._cards.addWidget(self._card(finding, place))

    def _card(self, finding: Finding, place: int) -> Card:
        card = Card(self.look, finding_title(finding))
        card.column.addWidget(Paragraph(self.look, " ".join(finding_sentences(finding))))
        button = BigButton(self.look, _("Show these readings"))
        button.describe(finding_title(finding))
        button.setProperty("place", place)
        button.clicked.connect(self._show_readings)
        row = QHBoxLayout()
        row.addWidget(button)
        row.addStretch(1)
        card.column.addLayout(row)
        return card

    def _to_limits(self) -> None:
        self.desk.go_to(f"{_MY_PLAN}/limits")

    def _show_readings(self) -> None:
        """Exactly the readings, and what happened, that the finding rests on."""
        finding = self.findings[int(self.sender().property("place"))]
        ids = frozenset((*finding.reading_ids, *map(str, finding.happening_ids)))
        days, title = Period(finding.first, finding.last), finding_title(finding)
        self.looking.show_only(ids, days, asked_by="repeats", title=title)
        self.page.turn_to("time", message=_("Only these: {what}.").format(what=title))
