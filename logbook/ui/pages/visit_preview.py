"""A view of the page *Visit*: the report's pages as they will come out of the printer."""

from __future__ import annotations

from PySide6.QtCore import Qt

from logbook.book import Changed
from logbook.ui.pages.visit_choices import paper_of
from logbook.ui.pages.visit_paper import ReportPaper, State
from logbook.ui.parts.paper_preview import PaperPreview
from logbook.ui.parts.paragraph import Paragraph
from logbook.ui.parts.view_page import View, ViewPage
from logbook.wording import _


class PreviewView(View):
    """Made when it comes up, and again when the log or a choice changed."""

    back = "home"
    printing = "print"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        self.paper = self.find_paper(page)
        self._told = Paragraph(self.look)
        self.preview = PaperPreview(self.look)
        self.preview.turned.connect(page.update_head)
        self.column.addWidget(self._told, 0, Qt.AlignmentFlag.AlignTop)
        self.column.addWidget(self.preview, 1)
        self.paper.changed.connect(self._show)

    def find_paper(self, page: ViewPage) -> ReportPaper:
        """What is shown."""
        return paper_of(page)

    def title(self) -> str:
        place = self.preview.place
        return _("This is your report: {page}").format(page=place) if place else _("Your report")

    def main_text(self) -> str:
        return _("Print")

    def do_main(self) -> None:
        self.page.turn_to(self.printing)

    def refresh(self, changed: Changed | None) -> None:
        self.paper.want()
        self._show()

    def _show(self) -> None:
        state = self.paper.state
        if state is State.NOT_MADE and self.isVisible():
            self.paper.want()
            return
        is_made = state is State.MADE
        self._told.say(
            {
                State.MAKING: self.paper.making_text,
                State.FAILED: self.paper.problem,
            }.get(state, "")
        )
        self.preview.setVisible(is_made)
        self.preview.show_paper(self.paper.file if is_made else None)
