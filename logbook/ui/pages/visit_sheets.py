"""Views of the page *Visit*: sheets for the person, to look at, to print and to save."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject

from logbook.domain.plan.calendar_days import plan_on
from logbook.report.options import ReportOptions
from logbook.ui.desk import Desk
from logbook.ui.pages.visit_out import PrintView, SaveView
from logbook.ui.pages.visit_paper import ReportPaper, next_visit
from logbook.ui.pages.visit_preview import PreviewView
from logbook.ui.parts.big_button import BigButton
from logbook.ui.parts.columns import Columns
from logbook.ui.parts.subject_button import SubjectButton
from logbook.ui.parts.view_page import View, ViewPage
from logbook.ui.theme import GAP
from logbook.ui.work import Course
from logbook.wording import _
from logbook.wording.dates import day_text
from logbook.wording.own_sheets import OwnSheet, sheet_about, sheet_name

if TYPE_CHECKING:
    from logbook.report.own_facts import OwnFacts
    from logbook.ui.pages.visit import Visit


def sheet_of(page: ViewPage) -> SheetPaper:
    """The sheet that is chosen on the page *Visit*."""
    visit: Visit = page  # type: ignore[assignment]
    return visit.sheet


class SheetPaper(ReportPaper):
    """One of the person's own sheets, made like the report; `which` is the one that is chosen."""

    def __init__(self, desk: Desk, parent: QObject | None = None) -> None:
        super().__init__(desk, parent)
        self.which = OwnSheet.PLAN

    @property
    def name(self) -> str:
        return _("{sheet} {day}").format(
            sheet=sheet_name(self.which), day=day_text(self._desk.today())
        )

    @property
    def making_text(self) -> str:
        return _("Making the sheet ...")

    def note_given_out(self) -> None:
        """Nothing waits for it."""

    def take(self, sheet: OwnSheet) -> None:
        """Choose another sheet."""
        if sheet is not self.which:
            self.which = sheet
            self.spoil()

    def job(self) -> Callable[[Course], bytes]:
        return partial(_make, self.which, own_facts(self._desk), self.options)


def own_facts(desk: Desk) -> OwnFacts:
    """What the sheets are made from, as the log is now."""
    from logbook.report.own_facts import OwnFacts

    book, today = desk.book, desk.today()
    return OwnFacts(
        settings=book.settings,
        made_at=desk.now(),
        medicines=tuple(book.medicines()),
        contacts=tuple(book.contacts()),
        targets=book.targets(),
        ticks=book.ticks(),
        plan=plan_on(book.plans(), today),
        low_supplies=tuple(book.kit().low_supplies),
        appointment=next_visit(book, today),
    )


class SheetsView(View):
    """Every sheet with what it is for; pressing one shows it."""

    back = "home"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        self.column.setSpacing(GAP)
        sheets = Columns(self.look, most=2, least_width=16)
        for sheet in OwnSheet:
            button = SubjectButton(self.look, sheet_name(sheet), sheet_about(sheet))
            button.setProperty("sheet", sheet.value)
            button.clicked.connect(self._show)
            sheets.add(button)
        self.column.addWidget(sheets)
        self.column.addStretch(1)

    def title(self) -> str:
        return _("Which sheet do you want?")

    def _show(self) -> None:
        sheet_of(self.page).take(OwnSheet(str(self.sender().property("sheet"))))
        self.page.turn_to("sheet_preview")


class SheetPreviewView(PreviewView):
    """The sheet as it will come out of the printer."""

    back = "sheets"
    printing = "sheet_print"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        self.save = BigButton(self.look, _("Save as PDF"))
        self.save.clicked.connect(self._to_save)
        self.column.addWidget(self.save)

    def find_paper(self, page: ViewPage) -> ReportPaper:
        return sheet_of(page)

    def title(self) -> str:
        return sheet_name(sheet_of(self.page).which)

    def _to_save(self) -> None:
        self.page.turn_to("sheet_save")


class SheetPrintView(PrintView):
    """The sheet to a printer."""

    back = "sheets"
    saving = "sheet_save"

    def find_paper(self, page: ViewPage) -> ReportPaper:
        return sheet_of(page)

    def title(self) -> str:
        return _("Print: {sheet}").format(sheet=sheet_name(sheet_of(self.page).which))


class SheetSaveView(SaveView):
    """The sheet to a file."""

    back = "sheets"

    def find_paper(self, page: ViewPage) -> ReportPaper:
        return sheet_of(page)

    def title(self) -> str:
        return _("Where should the sheet be saved?")


def _make(sheet: OwnSheet, facts: OwnFacts, options: ReportOptions, _course: Course) -> bytes:
    from logbook.report.own_sheets import own_sheet

    return own_sheet(sheet, facts, options)
