"""The page *Visit*: the next appointment, the questions for it, and the report to take along.

This file holds the page and its first view. Appointments are in `visit_appointment`, the list
before one in `visit_checklist`, what was decided in `visit_after`, questions in `visit_questions`,
the choices in `visit_choices`, the pages on screen in `visit_preview`, printer
and file in `visit_out`; the report itself is made by `visit_paper`, own sheets by `visit_sheets`.
"""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtWidgets import QVBoxLayout, QWidget

from logbook.book import Changed
from logbook.domain.visits import Appointment
from logbook.report.options import Paper, Print
from logbook.ui.desk import Desk
from logbook.ui.pages.visit_after import DecidedView, KeepsVisit
from logbook.ui.pages.visit_appointment import AppointmentView
from logbook.ui.pages.visit_checklist import ChecklistView, checklist_lines, checklist_state
from logbook.ui.pages.visit_choices import ChoicesView, DatesView
from logbook.ui.pages.visit_earlier import EarlierVisitsView
from logbook.ui.pages.visit_out import PrintView
from logbook.ui.pages.visit_paper import ReportPaper, last_visit, next_visit
from logbook.ui.pages.visit_password import (
    LockedReport,
    PasswordSaveView,
    PasswordView,
    ReportSaveView,
)
from logbook.ui.pages.visit_preview import PreviewView
from logbook.ui.pages.visit_questions import QuestionsView
from logbook.ui.pages.visit_sheets import (
    SheetPaper,
    SheetPreviewView,
    SheetPrintView,
    SheetSaveView,
    SheetsView,
)
from logbook.ui.parts.big_button import BigButton
from logbook.ui.parts.card import Card
from logbook.ui.parts.columns import Columns
from logbook.ui.parts.marks import draw_sheet
from logbook.ui.parts.paragraph import Paragraph
from logbook.ui.parts.subject_button import SubjectButton
from logbook.ui.parts.view_page import View, ViewPage
from logbook.ui.theme import GAP
from logbook.wording import _, ngettext
from logbook.wording.dates import (
    clock_text,
    day_text,
    period_text,
    relative_day_text,
    weekday_day_text,
)
from logbook.wording.decided import shortened
from logbook.wording.numbers import number_text

_QUESTIONS_SHOWN = 3


class Visit(KeepsVisit):
    """Everything for the next appointment. `paper` is the report in the making, `sheet` a sheet."""

    name = "visit"
    sign = staticmethod(draw_sheet)

    @staticmethod
    def label() -> str:
        return _("Visit")

    def __init__(self, desk: Desk) -> None:
        self.paper, self.sheet = ReportPaper(desk), SheetPaper(desk)
        self.locked = LockedReport(desk, self.paper)
        super().__init__(desk)
        for paper in (self.paper, self.sheet, self.locked):
            paper.setParent(self)

    def view_makers(self) -> dict[str, Callable[[ViewPage], View]]:
        return {
            "home": HomeView,
            "appointment": AppointmentView,
            "checklist": ChecklistView,
            "decided": DecidedView,
            "decided_earlier": EarlierVisitsView,
            "questions": QuestionsView,
            "choices": ChoicesView,
            "dates": DatesView,
            "preview": PreviewView,
            "print": PrintView,
            "save": ReportSaveView,
            "password": PasswordView,
            "password_save": PasswordSaveView,
            "sheets": SheetsView,
            "sheet_preview": SheetPreviewView,
            "sheet_print": SheetPrintView,
            "sheet_save": SheetSaveView,
        }

    def refresh(self, changed: Changed | None) -> None:
        for paper in (self.paper, self.sheet, self.locked):
            paper.spoil()
        super().refresh(changed)


class HomeView(View):
    """What there is for the visit, on three sheets."""

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        assert isinstance(page, Visit)
        self.paper = page.paper
        self._appointment = Paragraph(self.look)
        self._after = Paragraph(self.look)
        self._questions = Paragraph(self.look)
        self._report = Paragraph(self.look)
        self.column.setSpacing(GAP)
        cards = Columns(self.look, most=2, least_width=18, gap=2 * GAP)
        left = QWidget()
        beside = QVBoxLayout(left)
        beside.setContentsMargins(0, 0, 0, 0)
        beside.setSpacing(2 * GAP)
        beside.addWidget(self._appointment_card())
        self._checklist = SubjectButton(self.look, _("Before the visit"))
        self._checklist.clicked.connect(self._to_checklist)
        beside.addWidget(self._checklist)
        beside.addStretch(1)
        cards.add(left)
        right = QWidget()
        stacked = QVBoxLayout(right)
        stacked.setContentsMargins(0, 0, 0, 0)
        stacked.setSpacing(2 * GAP)
        stacked.addWidget(self._report_card())
        stacked.addWidget(self._questions_card())
        self._sheets = SubjectButton(
            self.look,
            _("Sheets for yourself"),
            _("My plan, wallet card, fridge sheet, blank sheets"),
        )
        self._sheets.clicked.connect(self._to_sheets)
        stacked.addWidget(self._sheets)
        stacked.addStretch(1)
        cards.add(right)
        self.column.addWidget(cards)
        self.column.addStretch(1)

    def title(self) -> str:
        return _("What do you need for your visit?")

    def main_text(self) -> str:
        return _("See the report")

    def do_main(self) -> None:
        self.page.turn_to("preview")

    def refresh(self, changed: Changed | None) -> None:
        self._show_appointment()
        self._show_questions()
        self._show_report()

    # --- sheets -------------------------------------------------------------------------------

    def _appointment_card(self) -> Card:
        card = Card(self.look, _("Next appointment"))
        card.column.addWidget(self._appointment)
        self._change = BigButton(self.look, "")
        self._change.clicked.connect(self._to_appointment)
        card.column.addWidget(self._change)
        card.column.addWidget(self._after)
        self._decide = BigButton(self.look, _("Write down what was decided"))
        self._decide.clicked.connect(self._to_decided)
        card.column.addWidget(self._decide)
        card.column.addStretch(1)
        return card

    def _questions_card(self) -> Card:
        card = Card(self.look, _("Your questions"))
        card.column.addWidget(self._questions)
        button = BigButton(self.look, _("Write or see questions"))
        button.clicked.connect(self._to_questions)
        card.column.addWidget(button)
        card.column.addStretch(1)
        return card

    def _report_card(self) -> Card:
        card = Card(self.look, _("The report for your provider"))
        card.column.addWidget(self._report)
        ways = Columns(self.look, most=2, least_width=8)
        for text, slot in (
            (_("Print"), self._to_print),
            (_("Save as PDF"), self._to_save),
        ):
            button = BigButton(self.look, text)
            button.describe(_("The report for your provider"))
            button.clicked.connect(slot)
            ways.add(button)
        card.column.addWidget(ways)
        choose = BigButton(self.look, _("Choose days and paper"))
        choose.clicked.connect(self._to_choices)
        card.column.addWidget(choose)
        card.column.addStretch(1)
        return card

    # --- what they say ------------------------------------------------------------------------

    def _show_appointment(self) -> None:
        today = self.desk.today()
        coming = next_visit(self.desk.book, today)
        self._checklist.setVisible(coming is not None)
        if coming is not None:
            self._checklist.say(checklist_state(checklist_lines(self.desk, coming)))
        past = last_visit(self.desk.book, today)
        if coming is None:
            self._appointment.say(_("No appointment is written down."))
            self._change.setText(_("Write it down"))
        else:
            self._appointment.say(appointment_text(coming, self.desk))
            self._change.setText(_("Change the appointment"))
        visited = past if coming is None or coming.day > today else coming
        self._decide.setVisible(visited is not None)
        if visited is None:
            self._after.say("")
        elif visited.decided:
            self._after.say(
                _("Decided on {day}: {text}").format(
                    day=day_text(visited.day), text=shortened(visited.decided)
                )
            )
        else:
            self._after.say(_("Last visit: {day}.").format(day=day_text(visited.day)))

    def _show_questions(self) -> None:
        questions = self.desk.book.questions()
        if not questions:
            self._questions.say(
                _("No questions yet. Write one whenever it comes to mind; the report carries it.")
            )
            return
        lines = [f"• {shortened(question.text)}" for question in questions[:_QUESTIONS_SHOWN]]
        more = len(questions) - _QUESTIONS_SHOWN
        if more > 0:
            lines.append(ngettext("and {n} more", "and {n} more", more).format(n=number_text(more)))
        self._questions.say("\n".join(lines))

    def _show_report(self) -> None:
        options = self.paper.options
        paper = _("letter paper") if options.paper is Paper.LETTER else _("A4 paper")
        kind = _("standard print") if options.print is Print.STANDARD else _("large print")
        self._report.say(
            _("{period}. On {paper}, in {kind}.").format(
                period=period_text(self.paper.period, with_days=True), paper=paper, kind=kind
            )
        )

    def _to_appointment(self) -> None:
        self.page.turn_to("appointment")

    def _to_checklist(self) -> None:
        self.page.turn_to("checklist")

    def _to_sheets(self) -> None:
        self.page.turn_to("sheets")

    def _to_decided(self) -> None:
        self.page.turn_to("decided")

    def _to_questions(self) -> None:
        self.page.turn_to("questions")

    def _to_print(self) -> None:
        self.page.turn_to("print")

    def _to_save(self) -> None:
        self.page.turn_to("save")

    def _to_choices(self) -> None:
        self.page.turn_to("choices")


def appointment_text(appointment: Appointment, desk: Desk) -> str:
    """Day, distance, time, with whom and where, as far as they are written down."""
    day = appointment.day
    lines = [
        _("{weekday_and_day}, {distance}").format(
            weekday_and_day=weekday_day_text(day, with_year=True),
            distance=relative_day_text(day, desk.today()),
        )
        if (day - desk.today()).days <= 30
        else weekday_day_text(day, with_year=True)
    ]
    if appointment.at is not None:
        lines.append(_("at {time}").format(time=clock_text(appointment.at)))
    if appointment.with_whom:
        lines.append(_("with {name}").format(name=appointment.with_whom))
    if appointment.place:
        lines.append(appointment.place)
    return "\n".join(lines)
