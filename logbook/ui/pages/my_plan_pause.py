"""A view of *My plan*: days on which nothing is asked. The past keeps what was asked of it."""

from __future__ import annotations

from uuid import uuid4

from logbook.domain.plan.plans import Pause
from logbook.ui.parts.day_field import DayField, days_problems
from logbook.ui.parts.edited_view import EditedView
from logbook.ui.parts.form_rows import TextField
from logbook.ui.parts.paragraph import Form
from logbook.ui.parts.view_page import ViewPage
from logbook.wording import _
from logbook.wording.dates import day_text
from logbook.wording.typed_days import Toward


class PauseView(EditedView):
    """From when to when nothing is asked, and why."""

    back = "checks"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        today = self.desk.today()
        rows = Form(self.look)
        self.first = DayField(
            self.look, _("First day without checks"), today, value=today, toward=Toward.FUTURE
        )
        rows.add_widget(self.first)
        self.last = DayField(
            self.look,
            _("Last day without checks"),
            today,
            help_text=_("Leave it empty while you don't know."),
            is_optional=True,
        )
        rows.add_widget(self.last)
        self.reason: TextField = rows.add_text(_("Why? (can be left out)"))
        self.column.addWidget(rows)
        self.column.addStretch(1)
        for field in (self.first, self.last):
            field.edited.connect(self._edit)
        self.reason.textEdited.connect(self._edit)

    def title(self) -> str:
        return _("On which days is nothing asked?")

    def main_text(self) -> str:
        return _("Save the pause")

    def do_main(self) -> None:
        problems = days_problems(self.first, self.last)
        if not self.show_problems((self.first, self.last), problems):
            return
        first, last = self.first.day(), self.last.day()
        assert first is not None
        now = self.desk.now().instant
        pause = Pause(uuid4(), first, now, last, self.reason.text().strip())
        if self.desk.write(self.desk.book.add, pause) is None:
            return
        self._is_edited = False
        words = _("Saved: paused from {day}. A check after a low is asked all the same.")
        self.page.turn_to("checks", message=words.format(day=day_text(first)))
