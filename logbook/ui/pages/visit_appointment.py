"""A view of the page *Visit*: the next appointment."""

from __future__ import annotations

from dataclasses import replace
from uuid import uuid4

from logbook.domain.visits import Appointment
from logbook.ui.pages.visit_paper import next_after, next_visit
from logbook.ui.parts.day_field import DayField, TimeField
from logbook.ui.parts.edited_view import EditedView
from logbook.ui.parts.paragraph import Form
from logbook.ui.parts.view_page import ViewPage
from logbook.wording import _
from logbook.wording.dates import weekday_day_text


class AppointmentView(EditedView):
    """Day, time, with whom and where; only the day has to be written down."""

    back = "home"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        today = self.desk.today()
        # After a visit, what is written down is the one that follows it.
        after = self.desk.changes_from if self.desk.is_after_visit else today
        coming = next_visit(self.desk.book, today)
        is_past = coming is not None and self.desk.is_after_visit and coming.day <= after
        self._appointment = next_after(self.desk.book, after) if is_past else coming
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
