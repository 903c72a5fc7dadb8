"""A view of the page *Visit*: all visits that were, of which one is chosen."""

from __future__ import annotations

from PySide6.QtWidgets import QVBoxLayout

from logbook.book import Changed
from logbook.ui.pages.visit_after import KeepsVisit, past_visits
from logbook.ui.parts.paragraph import Paragraph
from logbook.ui.parts.subject_button import SubjectButton
from logbook.ui.parts.view_page import View, ViewPage, clear_layout
from logbook.ui.theme import GAP
from logbook.wording import _
from logbook.wording.dates import weekday_day_text
from logbook.wording.decided import decided_at_text


class EarlierVisitsView(View):
    """One row a visit, newest first, with what was written down about it."""

    back = "decided"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        self.column.addWidget(Paragraph(self.look, _("The newest comes first.")))
        self._list = QVBoxLayout()
        self._list.setSpacing(GAP)
        self.column.addLayout(self._list)
        self.column.addStretch(1)

    def title(self) -> str:
        return _("Which visit?")

    def refresh(self, changed: Changed | None) -> None:
        clear_layout(self._list)
        for visit in past_visits(self.desk):
            button = SubjectButton(
                self.look, weekday_day_text(visit.day, with_year=True), decided_at_text(visit)
            )
            button.setProperty("visit", visit.id)
            button.clicked.connect(self._choose)
            self._list.addWidget(button)

    def _choose(self) -> None:
        page = self.page
        assert isinstance(page, KeepsVisit)
        page.visited = self.sender().property("visit")
        page.turn_to("decided")
