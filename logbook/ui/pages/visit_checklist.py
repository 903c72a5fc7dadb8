"""A view of the page *Visit*: what there is to do before the next appointment."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from logbook.book import Changed
from logbook.domain.kit.meters import own_meters
from logbook.domain.moments import Period
from logbook.domain.plan.calendar_days import profile_period
from logbook.domain.plan.checklist import (
    ChecklistItem,
    ChecklistLine,
    KnownForVisit,
    appointment_checklist,
    has_passed_control,
    to_ask_for,
)
from logbook.domain.visits import Appointment
from logbook.ui.desk import Desk
from logbook.ui.pages.visit_paper import next_visit
from logbook.ui.parts.big_button import BigButton
from logbook.ui.parts.card import Card
from logbook.ui.parts.done_sign import DoneSign
from logbook.ui.parts.paragraph import Paragraph
from logbook.ui.parts.view_page import View, ViewPage, clear_layout
from logbook.ui.theme import GAP
from logbook.wording import _, mark
from logbook.wording.kit_terms import supply_kind_text
from logbook.wording.numbers import count_of_text
from logbook.wording.reminders import checklist_text


def checklist_lines(desk: Desk, appointment: Appointment) -> tuple[ChecklistLine, ...]:
    """The list for an appointment, from the log as it is now."""
    book, now = desk.book, desk.now()
    settings, kit = book.settings, book.kit()
    facts = book.plan_facts(Period(desk.today(), desk.today()))
    days = profile_period(facts.plans, appointment)
    supplies = [
        line.exact_type or supply_kind_text(line.kind)
        for line in to_ask_for(appointment, kit, settings, now)
    ]
    known = KnownForVisit(
        questions=book.questions(),
        control_test_passed=has_passed_control(kit, settings, now),
        supplies=tuple(dict.fromkeys(supplies)),
        report_printed=desk.preferences.printed_for == str(appointment.id),
        meters=tuple(meter.name for meter in own_meters(kit.meters, desk.today()) if meter.name),
    )
    series = book.series(days or Period(appointment.day, appointment.day))
    return appointment_checklist(appointment, facts, series, settings, known)


class ChecklistView(View):
    """The lines, what is done with a tick; a button where there is something to do."""

    back = "home"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        self._list = QVBoxLayout()
        self._list.setSpacing(GAP)
        self.column.addLayout(self._list)
        self.column.addStretch(1)

    def title(self) -> str:
        return _("What is there to do before the visit?")

    def refresh(self, changed: Changed | None) -> None:
        clear_layout(self._list)
        appointment = next_visit(self.desk.book, self.desk.today())
        if appointment is None:
            self._list.addWidget(Paragraph(self.look, _("No appointment is written down.")))
            return
        for line in checklist_lines(self.desk, appointment):
            self._list.addWidget(self._row(line))

    def _row(self, line: ChecklistLine) -> QWidget:
        text = checklist_text(line)
        row = Card(self.look, "")
        row.setAccessibleName(text)
        beside = QHBoxLayout()
        beside.setSpacing(2 * GAP)
        beside.addWidget(DoneSign(self.look, is_done=line.is_done))
        words = Paragraph(self.look, text)
        words.setAccessibleName(spoken_text(line))
        beside.addWidget(words, 100)
        beside.addStretch(1)  # else words of one line would stand in the middle
        where = _WHERE.get(line.item)
        if where is not None and not line.is_done:
            name, place = where
            button = BigButton(self.look, _(name))
            button.describe(text)
            button.setProperty("where", place)
            button.clicked.connect(self._go)
            beside.addWidget(button)
        row.column.addLayout(beside)
        return row

    def _go(self) -> None:
        where = str(self.sender().property("where"))
        if where in self.page.makers:
            self.page.turn_to(where)
        else:
            self.desk.go_to(where)


_WHERE = {
    ChecklistItem.PROFILE_DAYS: (mark("Write down"), "write_down"),
    ChecklistItem.CONTROL_TEST: (mark("Go to Kit"), "kit"),
    ChecklistItem.QUESTIONS: (mark("Questions"), "questions"),
    ChecklistItem.REPORT: (mark("Print"), "print"),
}


def checklist_state(lines: Sequence[ChecklistLine]) -> str:
    """How far it is: "1 of 3 done"."""
    to_do = [line for line in lines if line.is_done is not None]
    done = sum(bool(line.is_done) for line in to_do)
    return _("{count} done").format(count=count_of_text(done, len(to_do)))


def spoken_text(line: ChecklistLine) -> str:
    """A line as a screen reader says it, with what the sign before it shows."""
    text = checklist_text(line)
    if line.is_done is None:
        return text
    return (_("Done: {what}") if line.is_done else _("To do: {what}")).format(what=text)
