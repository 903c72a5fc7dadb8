"""A view of the page *Visit*: what was decided, each thing where it belongs, from the visit's day.

Medicines, targets and the plan are changed on *My plan*, in the order of the box *Decided today* on
the report; here is what is new in each. The rest is free text, and nothing is read out of it.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

from logbook.book import Changed
from logbook.domain.visits import Appointment
from logbook.ui.pages.visit_paper import next_after
from logbook.ui.parts.columns import Columns
from logbook.ui.parts.paragraph import Form
from logbook.ui.parts.subject_button import SubjectButton
from logbook.ui.parts.view_page import View, ViewPage
from logbook.wording import _, ngettext
from logbook.wording.dates import day_text, weekday_day_text
from logbook.wording.decided import Decided, decided_name
from logbook.wording.numbers import number_text

# As many as stand side by side.
_VISITS_SHOWN = 3

_WHERE = {
    Decided.MEDICINES: "my_plan/medicines",
    Decided.TARGETS: "my_plan/targets",
    Decided.CHECKS: "my_plan/checks",
    Decided.APPOINTMENT: "appointment",
}


class DecidedView(View):
    """Which visit, what changed at it, and anything else in the person's own words."""

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
            self._begun_with(past),
            columns=_VISITS_SHOWN,
        )
        self.which.setVisible(len(self._last) > 1)
        self.which.chosen.connect(self._show)
        changes = Columns(self.look, most=2, least_width=14)
        self.buttons: dict[Decided, SubjectButton] = {}
        for decided in Decided:
            button = SubjectButton(self.look, decided_name(decided))
            button.setProperty("where", _WHERE[decided])
            button.clicked.connect(self._go)
            self.buttons[decided] = button
            changes.add(button)
        rows.add_words(_("What changed? Each holds from the day of the visit, or another day."))
        rows.add_widget(changes)
        self.note = rows.add_note(
            _("Anything else, in your own words"),
            help_text=_("The next report opens with it."),
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

    def refresh(self, changed: Changed | None) -> None:
        visit = self._visit
        if visit is None:
            return
        day, book = visit.day, self.desk.book
        counts = {
            Decided.MEDICINES: sum(
                1
                for one in book.medicines()
                if one.holds_from >= day
                or (one.holds_until is not None and one.holds_until >= day - timedelta(days=1))
            ),
            Decided.TARGETS: sum(1 for one in book.targets().all if one.holds_from >= day),
            Decided.CHECKS: sum(1 for one in book.plans() if one.holds_from >= day),
        }
        for decided, count in counts.items():
            self.buttons[decided].say(_changes_text(count, day))
        coming = next_after(book, day)
        self.buttons[Decided.APPOINTMENT].say(
            _("None yet") if coming is None else weekday_day_text(coming.day, with_year=True)
        )

    def do_main(self) -> None:
        visit, text = self._visit, self.note.toPlainText().strip()
        if visit is None:
            return
        if text == visit.decided or self._save(visit, text):
            self.desk.end_after_visit()
            self.page.turn_to(
                "home",
                message=_("Saved: what was decided on {day}.").format(day=day_text(visit.day)),
            )

    @property
    def _visit(self) -> Appointment | None:
        return self._last.get(self.which.value)

    def _begun_with(self, past: list[Appointment]) -> object:
        """The visit that is being written down already, else the last one."""
        if self.desk.is_after_visit:
            for one in self._last.values():
                if one.day == self.desk.changes_from:
                    return one.id
        return past[-1].id if past else None

    def _save(self, visit: Appointment, text: str) -> bool:
        is_kept = self.desk.write(self.desk.book.replace, replace(visit, decided=text)) is not None
        if is_kept:
            self._last[visit.id] = replace(visit, decided=text)
        return is_kept

    def _show(self) -> None:
        visit = self._visit
        self.note.setPlainText("" if visit is None else visit.decided)
        self.refresh(None)

    def _go(self) -> None:
        """To where it is written down; Back leads here again."""
        visit = self._visit
        if visit is None:
            return
        self.desk.begin_after_visit(visit.day)
        where = str(self.sender().property("where"))
        if "/" in where:
            self.desk.go_to(where)
        else:
            self.page.turn_to(where)


def _changes_text(count: int, day: date) -> str:
    if not count:
        return _("Nothing new since {day}").format(day=day_text(day))
    return ngettext("{n} change since {day}", "{n} changes since {day}", count).format(
        n=number_text(count), day=day_text(day)
    )
