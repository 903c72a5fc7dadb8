"""A view of the page *Visit*: what was decided, each thing where it belongs, from the visit's day.

Medicines, targets and the plan are changed on *My plan*, in the order of the box *Decided today* on
the report; here is what is new in each. The rest is free text, and nothing is read out of it.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from uuid import UUID

from logbook.book import Changed
from logbook.domain.visits import Appointment
from logbook.ui.desk import Desk
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

# The tile that leads to the list of all.
_EARLIER = "earlier"

_WHERE = {
    Decided.MEDICINES: "my_plan/medicines",
    Decided.TARGETS: "my_plan/targets",
    Decided.CHECKS: "my_plan/checks",
    Decided.APPOINTMENT: "appointment",
}


class KeepsVisit(ViewPage):
    """A page that hands the visit chosen from the list to the view that asked for it."""

    visited: UUID | None = None


def past_visits(desk: Desk) -> list[Appointment]:
    """The visits up to today, newest first."""
    today = desk.today()
    return [one for one in reversed(desk.book.appointments()) if one.day <= today]


class DecidedView(View):
    """Which visit, what changed at it, and anything else in the person's own words.

    What was typed for one visit stays while another is looked at.
    """

    back = "home"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        self._past = past_visits(self.desk)
        self._typed: dict[UUID, str] = {}
        self._visit = self._begun_with(self._past)
        rows = Form(self.look)
        newest = self._past[:_VISITS_SHOWN]
        options: list[tuple[object, str]] = [(one.id, day_text(one.day)) for one in newest]
        if len(self._past) > _VISITS_SHOWN:
            options.append((_EARLIER, _("An earlier visit")))
        self.which = rows.add_choice(_("Which visit?"), options, columns=_VISITS_SHOWN + 1)
        self.which.setVisible(len(self._past) > 1)
        self.which.chosen.connect(self._take_visit)
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
            help_text=_("The next report opens with what the last visit decided."),
        )
        self.column.addWidget(rows)
        self.column.addStretch(1)
        self._show()
        self.note.textChanged.connect(self._take_note)

    def title(self) -> str:
        return _("What was decided at the visit?")

    def main_text(self) -> str:
        return _("Save this")

    @property
    def is_changed(self) -> bool:
        return bool(self._unsaved())

    def refresh(self, changed: Changed | None) -> None:
        page = self.page
        assert isinstance(page, KeepsVisit)
        self._past = past_visits(self.desk)
        wanted, page.visited = page.visited, None
        kept = wanted or (None if self._visit is None else self._visit.id)
        self._visit = next((one for one in self._past if one.id == kept), None)
        self._show()
        self._show_changes()

    def _show_changes(self) -> None:
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
        visit = self._visit
        if visit is None or not all(self._save(one, text) for one, text in self._unsaved()):
            return
        self.desk.end_after_visit()
        self.page.turn_to(
            "home",
            message=_("Saved: what was decided on {day}.").format(day=day_text(visit.day)),
        )

    def _begun_with(self, past: list[Appointment]) -> Appointment | None:
        """The visit that is being written down already, else the last one."""
        if self.desk.is_after_visit:
            for one in past:
                if one.day == self.desk.changes_from:
                    return one
        return past[0] if past else None

    def _unsaved(self) -> list[tuple[Appointment, str]]:
        """Visits with words that are not saved yet, and those words."""
        texts = ((one, self._typed.get(one.id, one.decided).strip()) for one in self._past)
        return [(one, text) for one, text in texts if text != one.decided]

    def _save(self, visit: Appointment, text: str) -> bool:
        if self.desk.write(self.desk.book.replace, replace(visit, decided=text)) is None:
            return False
        self._typed.pop(visit.id, None)
        self._past = past_visits(self.desk)
        return True

    def _take_note(self) -> None:
        if self._visit is not None:
            self._typed[self._visit.id] = self.note.toPlainText()

    def _take_visit(self, chosen: object) -> None:
        if chosen == _EARLIER:
            self.page.turn_to("decided_earlier")
            return
        self._visit = next((one for one in self._past if one.id == chosen), None)
        self._show()
        self._show_changes()

    def _show(self) -> None:
        """The chosen visit among the tiles, and its words; what is being typed is left alone."""
        visit = self._visit
        is_newest = visit in self._past[:_VISITS_SHOWN]
        self.which.choose(None if visit is None else visit.id if is_newest else _EARLIER)
        if _EARLIER in self.which.buttons:
            earlier = _("An earlier visit")
            if visit is not None and not is_newest:
                earlier = _("Earlier: {day}").format(day=day_text(visit.day))
            self.which.buttons[_EARLIER].setText(earlier)
        text = "" if visit is None else self._typed.get(visit.id, visit.decided)
        if text != self.note.toPlainText():
            self.note.setPlainText(text)

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
