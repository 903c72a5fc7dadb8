"""Two small things about the plan, beside the title: *Not today* and *I start eating now*.

Which check may be put aside, and which meal may begin, is told by the domain.
"""

from __future__ import annotations

from uuid import uuid4

from PySide6.QtCore import QObject

from logbook.domain.moments import Moment
from logbook.domain.plan.due import Due, DueCheck
from logbook.domain.plan.meals import check_after, check_to_put_aside, likely_meal, meal_to_begin
from logbook.domain.plan.plans import MealStart, PutAside
from logbook.domain.slots import Purpose, Slot
from logbook.ui.desk import Desk
from logbook.ui.entry.form import EntryForm
from logbook.ui.entry.saving import recent_period
from logbook.wording import _
from logbook.wording.due import eating_text, put_aside_text
from logbook.wording.terms import slot_text


class PlanWays(QObject):
    """Names the one button beside the title, and writes what it says.

    What is due now may be put aside; else a meal may begin whose check is planned.
    """

    def __init__(self, desk: Desk, form: EntryForm, parent: QObject) -> None:
        super().__init__(parent)
        self._desk, self._form = desk, form
        self._check: DueCheck | None = None
        self._meal: Slot | None = None
        form.way.clicked.connect(self._take)

    def show(self, due: Due, now: Moment, purpose: Purpose) -> None:
        """Bring the button up to date; there is none while the check after a low is made."""
        book = self._desk.book
        facts = book.plan_facts(recent_period(now, book.settings, 2))
        self._check = check_to_put_aside(due)
        self._meal = meal_to_begin(due, facts, now, book.settings)
        if purpose is not Purpose.PLANNED:
            self._check = self._meal = None
        slot = self._meal if self._check is None else self._check.slot
        if slot is None:
            self._form.offer_way("", "")
        elif self._check is None:
            self._form.offer_way(_("I start eating now"), slot_text(slot))
        else:
            self._form.offer_way(_("Not today"), slot_text(slot))

    def _take(self) -> None:
        if self._check is not None:
            self._put_aside(self._check)
        else:
            self._begin_meal()

    def begin_likely_meal(self) -> None:
        """The person begins a meal, whether or not a check after it is planned."""
        book, now = self._desk.book, self._desk.now()
        facts = book.plan_facts(recent_period(now, book.settings, 2))
        self._meal = self._meal or likely_meal(facts, now, book.settings)
        self._begin_meal()

    def _put_aside(self, check: DueCheck) -> None:
        desk, now = self._desk, self._desk.now().instant
        aside = PutAside(uuid4(), check.day, check.slot, now)
        if desk.write(desk.book.add, aside) is not None:
            desk.say(put_aside_text(check.slot))

    def _begin_meal(self) -> None:
        meal, desk, now = self._meal, self._desk, self._desk.now()
        if meal is None:
            return
        settings = desk.book.settings
        facts = desk.book.plan_facts(recent_period(now, settings, 2))
        at = Moment.at(check_after(meal, facts, now, settings), now.zone)
        start = MealStart(uuid4(), meal, now, now.instant)
        if desk.write(desk.book.add, start) is not None:
            desk.say(eating_text(meal, at))
