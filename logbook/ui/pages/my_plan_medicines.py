"""A view of *My plan*: medicines as the person writes them; nothing is read out of them.

What they can do is asked in `my_plan_ticks`.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from uuid import UUID, uuid4

from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from logbook.book import Changed
from logbook.domain.visits import Medicine
from logbook.ui.parts.big_button import BigButton
from logbook.ui.parts.columns import Columns
from logbook.ui.parts.day_field import DayField
from logbook.ui.parts.form_rows import TextField
from logbook.ui.parts.paragraph import Form, Paragraph
from logbook.ui.parts.view_page import View, ViewPage, clear_layout
from logbook.ui.theme import GAP
from logbook.wording import _
from logbook.wording.dates import day_text
from logbook.wording.typed_days import Toward


class MedicinesView(View):
    """What is taken now, each with a button to end it, and below it the row for a new one."""

    back = "home"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        today = self.desk.today()
        self._list = QVBoxLayout()
        self._list.setSpacing(GAP)
        self.column.addLayout(self._list)
        rows = Form(self.look)
        self.text: TextField = rows.add_text(
            _("New medicine or dose"),
            help_text=_(
                "Write it as it stands on the packet, with the amount and when you take it."
            ),
        )
        self.day = DayField(
            self.look,
            _("From which day?"),
            today,
            value=self.desk.changes_from,
            toward=Toward.PAST,
        )
        rows.add_widget(self.day)
        rows.add_words(_("Can they cause lows, or change what a number means? Say it here:"))
        self.column.addWidget(rows)
        self.known = BigButton(self.look, _("What the program must know")).let_wrap()
        self.known.clicked.connect(self._go_to_known)
        self.note = BigButton(self.look, _("Late, missed or another amount")).let_wrap()
        self.note.clicked.connect(self._go_to_note)
        ways = Columns(self.look, most=2, least_width=14)
        ways.add(self.known)
        ways.add(self.note)
        self.column.addWidget(ways)
        self.column.addStretch(1)

    def title(self) -> str:
        return _("Which medicines do you take?")

    def main_text(self) -> str:
        return _("Add medicine")

    @property
    def is_changed(self) -> bool:
        return bool(self.text.text().strip())

    def refresh(self, changed: Changed | None) -> None:
        today = self.desk.today()
        clear_layout(self._list)
        for medicine in self.desk.book.medicines():
            if medicine.holds_until is None or medicine.holds_until >= today:
                self._list.addWidget(self._row(medicine))

    def do_main(self) -> None:
        text = self.text.text().strip()
        problems: list[tuple[TextField | DayField, str]] = []
        if not text:
            problems.append((self.text, _("The medicine is missing. Write its name and amount.")))
        if problem := self.day.problem():
            problems.append((self.day, problem))
        if not self.show_problems((self.text, self.day), problems):
            return
        day = self.day.day()
        assert day is not None
        if self.desk.write(self.desk.book.add, Medicine(uuid4(), text, day)) is not None:
            self.text.clear()
            self.desk.say(
                _("Added: {medicine}, from {day}.").format(medicine=text, day=day_text(day))
            )

    def _row(self, medicine: Medicine) -> QWidget:
        row = QWidget()
        line = QHBoxLayout(row)
        line.setContentsMargins(0, 0, 0, 0)
        line.setSpacing(2 * GAP)
        button = BigButton(self.look, _("I stopped it"))
        button.describe(medicine.text)
        button.setProperty("medicine", str(medicine.id))
        button.clicked.connect(self._stop)
        line.addWidget(button)
        text = _("{medicine}, from {day}").format(
            medicine=medicine.text, day=day_text(medicine.holds_from)
        )
        line.addWidget(Paragraph(self.look, text), 1)
        return row

    def _stop(self) -> None:
        """The day before was the last one; the report still tells when it was taken."""
        wanted = UUID(str(self.sender().property("medicine")))
        for medicine in self.desk.book.medicines():
            if medicine.id == wanted:
                last = max(medicine.holds_from, self.desk.changes_from - timedelta(days=1))
                stopped = replace(medicine, holds_until=last)
                if self.desk.write(self.desk.book.replace, stopped) is not None:
                    self.desk.say(_("Stopped: {medicine}.").format(medicine=medicine.text))
                    self.setFocus()
                return

    def _go_to_note(self) -> None:
        self.page.turn_to("medicine_note")

    def _go_to_known(self) -> None:
        self.page.turn_to("know")
