"""Views of the page *Visit*: the next appointment, and what was decided at the last one."""

from __future__ import annotations

from dataclasses import replace
from uuid import uuid4

from logbook.domain.visits import Appointment
from logbook.ui.pages.visit_paper import next_visit
from logbook.ui.parts.day_field import DayField, TimeField
from logbook.ui.parts.form_rows import NoteField
from logbook.ui.parts.paragraph import Form
from logbook.ui.parts.view_page import View, ViewPage
from logbook.wording import _
from logbook.wording.dates import day_text, weekday_day_text

# As many as stand side by side.
_VISITS_SHOWN = 3


class AppointmentView(View):
    """Day, time, with whom and where; only the day has to be written down."""

    back = "home"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        self._is_edited = False
        self._appointment = next_visit(self.desk.book, self.desk.today())
        kept = self._appointment
        rows = Form(self.look)
        self.day = DayField(
            self.look,
            _("Which day?"),
            self.desk.today(),
            value=None if kept is None else kept.day,
        )
        rows.add_widget(self.day)
        self.time = TimeField(
            self.look, _("At what time? (can be left out)"), None if kept is None else kept.at
        )
        rows.add_widget(self.time.row)
        self.with_whom = rows.add_text(
            _("With whom? (can be left out)"), "" if kept is None else kept.with_whom
        )
        self.place = rows.add_text(
            _("Where? (can be left out)"), "" if kept is None else kept.place
        )
        self.column.addWidget(rows)
        self.column.addStretch(1)
        self.day.edited.connect(self._edit)
        for field in (self.time, self.with_whom, self.place):
            field.textEdited.connect(self._edit)

    def title(self) -> str:
        return _("When is your next appointment?")

    def main_text(self) -> str:
        return _("Save appointment")

    @property
    def is_changed(self) -> bool:
        return self._is_edited

    def first_field(self) -> DayField:
        return self.day

    def do_main(self) -> None:
        problems = [(field, text) for field in (self.day, self.time) if (text := field.problem())]
        if not self.show_problems((self.day, self.time), problems):
            return
        day = self.day.day()
        assert day is not None
        given = {
            "day": day,
            "at": self.time.time(),
            "with_whom": self.with_whom.text().strip(),
            "place": self.place.text().strip(),
        }
        book = self.desk.book
        self._is_edited = False
        if self._appointment is None:
            changed = self.desk.write(book.add, Appointment(uuid4(), **given))  # type: ignore[arg-type]
        else:
            changed = self.desk.write(book.replace, replace(self._appointment, **given))  # type: ignore[arg-type]
        if changed is None:
            self._is_edited = True
            return
        self.page.turn_to(
            "home",
            message=_("Saved: appointment on {day}.").format(
                day=weekday_day_text(day, with_year=True)
            ),
        )

    def _edit(self) -> None:
        self._is_edited = True


class DecidedView(View):
    """What was decided, in the person's own words; nothing is read out of it."""

    back = "home"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        today = self.desk.today()
        past = [one for one in self.desk.book.appointments() if one.day <= today]
        self._last = {one.id: one for one in past[-_VISITS_SHOWN:]}
        rows = Form(self.look)
        self.which = rows.add_choice(
            _("Which visit?"),
            [(one.id, day_text(one.day)) for one in reversed(self._last.values())],
            past[-1].id if past else None,
            columns=_VISITS_SHOWN,
        )
        self.which.chosen.connect(self._show)
        self.note = rows.add_note(
            _("What was decided?"),
            help_text=_("A new medicine, a new target, the next test: what, and from which day."),
            lines=5,
        )
        rows.add_words(
            _("Write new target numbers in My plan too. There they get the day they hold from.")
        )
        self.column.addWidget(rows)
        self.column.addStretch(1)
        self._show()

    def title(self) -> str:
        return _("What was decided at the visit?")

    def main_text(self) -> str:
        return _("Save this")

    @property
    def is_changed(self) -> bool:
        return self._visit is not None and self.note.toPlainText().strip() != self._visit.decided

    def first_field(self) -> NoteField:
        return self.note

    def do_main(self) -> None:
        visit, text = self._visit, self.note.toPlainText().strip()
        if visit is None:
            return
        if self.desk.write(self.desk.book.replace, replace(visit, decided=text)) is not None:
            self._last[visit.id] = replace(visit, decided=text)
            self.page.turn_to(
                "home",
                message=_("Saved: what was decided on {day}.").format(day=day_text(visit.day)),
            )

    @property
    def _visit(self) -> Appointment | None:
        return self._last.get(self.which.value)

    def _show(self) -> None:
        visit = self._visit
        self.note.setPlainText("" if visit is None else visit.decided)
