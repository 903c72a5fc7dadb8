"""A view of *My plan*: medicine that was not taken as planned; silence means "as planned".

The program reads no name and no amount: it keeps the words and shows them beside the readings.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from typing import Any
from uuid import UUID, uuid4

from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from logbook.book import Changed
from logbook.domain.medicine_notes import MedicineNote, NotAsPlanned
from logbook.domain.moments import Moment, Period, wall_told
from logbook.domain.ticks import About
from logbook.ui.parts.big_button import BigButton
from logbook.ui.parts.day_field import DayField, TimeField
from logbook.ui.parts.edited_view import EditedView
from logbook.ui.parts.form_rows import Choice, TextField
from logbook.ui.parts.paragraph import Form, Paragraph
from logbook.ui.parts.view_page import ViewPage, clear_layout
from logbook.ui.theme import GAP
from logbook.wording import _
from logbook.wording.dates import clock_text, moment_text
from logbook.wording.medicine_notes import not_as_planned_text
from logbook.wording.typed_days import Toward

_SHOWN_DAYS = 14
_SHOWN = 4


class MedicineNoteView(EditedView):
    """What was different and when; below it the notes of the last days."""

    back = "medicines"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        now, today = self.desk.now(), self.desk.today()
        takes_insulin = self.desk.book.ticks().may_hold(About.INSULIN, today)
        kinds = [
            kind for kind in NotAsPlanned if kind is not NotAsPlanned.UNITS_TAKEN or takes_insulin
        ]
        rows = Form(self.look)
        self.kind: Choice = rows.add_choice(
            _("What was different?"), [(kind, not_as_planned_text(kind)) for kind in kinds]
        )
        self.text: TextField = rows.add_text(
            _("In your own words (can be left out)"),
            help_text=_("Which medicine, and how much or how late. Nothing is reckoned with it."),
        )
        self.time = TimeField(self.look, _("At what time?"), now.wall.time().replace(second=0))
        rows.add_widget(self.time.row)
        self.day = DayField(self.look, _("Which day?"), today, value=today, toward=Toward.PAST)
        rows.add_widget(self.day)
        self.column.addWidget(rows)
        self._list = QVBoxLayout()
        self._list.setSpacing(GAP)
        self.column.addLayout(self._list)
        self.column.addStretch(1)
        self.kind.chosen.connect(self._edit)
        self.text.textEdited.connect(self._edit)

    def title(self) -> str:
        return _("Was a medicine not taken as planned?")

    def main_text(self) -> str:
        return _("Save note")

    def refresh(self, changed: Changed | None) -> None:
        clear_layout(self._list)
        days = Period.ending(self.desk.today() + timedelta(days=1), _SHOWN_DAYS)
        notes = [one for one in self.desk.book.medicine_notes(days) if one.counts]
        for note in reversed(notes[-_SHOWN:]):
            self._list.addWidget(self._row(note))

    def do_main(self) -> None:
        if self.kind.value is None:
            self.desk.say(_("Choose first what was different."))
            return
        fields: tuple[Any, ...] = (self.time, self.day)
        problems = [(field, text) for field in fields if (text := field.problem())]
        if not problems and self.time.time() is None:
            words = _("The time is missing. Write it like {time}.")
            problems.append((self.time, words.format(time=clock_text(self.desk.now()))))
        if not self.show_problems(fields, problems):
            return
        day, clock = self.day.day(), self.time.time()
        assert day is not None
        assert clock is not None
        now, starts_at = self.desk.now(), self.desk.book.settings.day_starts_at
        at = Moment.from_wall(wall_told(day, clock, starts_at, now.wall), now.zone)
        if at.instant > now.instant:
            text = _("This time is still to come. Look at the day and the time once more.")
            self.show_problems(fields, [(self.time, text)])
            return
        note = MedicineNote(uuid4(), self.kind.value, at, now.instant, self.text.text().strip())
        if self.desk.write(self.desk.book.add, note) is not None:
            self._is_edited = False
            self.page.turn_to("medicines", message=_("Saved: {note}.").format(note=_told(note)))

    def _row(self, note: MedicineNote) -> QWidget:
        row = QWidget()
        line = QHBoxLayout(row)
        line.setContentsMargins(0, 0, 0, 0)
        line.setSpacing(2 * GAP)
        starts_at = self.desk.book.settings.day_starts_at
        words = f"{moment_text(note.at, self.desk.now(), starts_at)}: {_told(note)}"
        button = BigButton(self.look, _("Cross out"))
        button.describe(words)
        button.setProperty("note", str(note.id))
        button.clicked.connect(self._cross_out)
        line.addWidget(button)
        line.addWidget(Paragraph(self.look, words[:1].upper() + words[1:]), 1)
        return row

    def _cross_out(self) -> None:
        wanted = UUID(str(self.sender().property("note")))
        for note in self.desk.book.medicine_notes():
            if note.id == wanted:
                out = replace(note, crossed_out_at=self.desk.now().instant)
                if self.desk.write(self.desk.book.replace, out) is not None:
                    self.desk.say(_("Crossed out: {note}.").format(note=_told(note)))
                    self.setFocus()
                return


def _told(note: MedicineNote) -> str:
    kind = not_as_planned_text(note.kind)
    if not note.text:
        return kind
    return _("{kind}, {text}").format(kind=kind, text=note.text)
