"""A view of *My plan*: one time of day of the plan, at what time and on which days."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

from logbook.book import Changed
from logbook.domain.plan.calendar_days import USUAL_CLOCK
from logbook.domain.plan.editing import (
    on_every,
    on_weekdays,
    with_another,
    with_check,
    without_check,
)
from logbook.domain.plan.plans import EVERY_WEEKDAY, PlannedCheck
from logbook.domain.slots import Slot
from logbook.ui.pages.my_plan_checks_draft import PlanView, plan_page
from logbook.ui.parts.big_button import BigButton, ButtonKind
from logbook.ui.parts.columns import Columns
from logbook.ui.parts.day_field import TimeField
from logbook.ui.parts.form_rows import Choice
from logbook.ui.parts.view_page import ViewPage
from logbook.ui.theme import GAP
from logbook.wording import _
from logbook.wording.dates import clock_text, minutes_after_text, weekday_day_text, weekday_text
from logbook.wording.terms import slot_text

_MONDAY = date(2024, 1, 1)
_LATER = timedelta(hours=2)
_SOME_DAYS = 0


class OneCheckView(PlanView):
    """One time of day of the plan: at what time, on which days; a tile holds at once."""

    back = "checks_edit"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        check = self._check
        self.column.setSpacing(GAP + GAP // 2)
        self.often = Choice(
            self.look,
            _("How often?"),
            [
                (1, _("Every day")),
                (2, _("Every other day")),
                (3, _("Every third day")),
                (_SOME_DAYS, _("Only on:")),
            ],
            columns=4,
        )
        self.weekdays = Choice(
            self.look,
            _("On which days?"),
            [(day, weekday_text(_MONDAY + timedelta(days=day))) for day in EVERY_WEEKDAY],
            columns=4,
            several=True,
            shows_label=False,
        )
        self.begins = Choice(
            self.look,
            _("Beginning on"),
            [(n, self._day_text(n)) for n in range(3)],
            columns=3,
        )
        self.time = TimeField(self.look, _("At about what time?"), check.at)
        self.after = Choice(
            self.look,
            _("How long after the first bite?"),
            [(n, minutes_after_text(n)) for n in (60, 90, 120)],
            columns=3,
            kind=ButtonKind.CHIP,
        )
        ways = Columns(self.look, most=2, least_width=12)
        self.another = BigButton(self.look, _("Ask for it once more that day"))
        self.another.let_wrap().clicked.connect(self._add_another)
        self.remove = BigButton(self.look, _("Take it out of the plan"))
        self.remove.let_wrap().clicked.connect(self._remove)
        for button in (self.another, self.remove):
            ways.add(button)
        self.column.addWidget(self.often)
        self.column.addWidget(self.weekdays)
        self.column.addWidget(self.begins)
        self.column.addWidget(self.time.row)
        self.column.addWidget(self.after)
        self.column.addWidget(ways)
        self.column.addStretch(1)
        self.often.chosen.connect(self._take_often)
        self.weekdays.chosen.connect(self._take_weekdays)
        self.begins.chosen.connect(self._take_begin)
        self.after.chosen.connect(self._take_minutes)
        self.time.textEdited.connect(self._take_time)

    def title(self) -> str:
        return _("{slot}: when?").format(slot=slot_text(self._check.slot))

    def main_text(self) -> str:
        return _("Go on")

    def do_main(self) -> None:
        problem = self.time.problem()
        if not problem and not self.time.text().strip():
            problem = _("The time is missing. Write it like {time}.").format(
                time=clock_text(self._check.at)
            )
        if self.show_problems([self.time], [(self.time, problem)] if problem else []):
            self.page.turn_to("checks_edit")

    def refresh(self, changed: Changed | None) -> None:
        check = self._check
        is_daily = set(check.weekdays) >= set(EVERY_WEEKDAY)
        self.often.choose(check.every_days if is_daily else _SOME_DAYS)
        self.weekdays.choose(() if is_daily else check.weekdays)
        self.weekdays.setVisible(check.every_days == 1)
        self.begins.setVisible(check.every_days in (2, 3))
        self.begins.choose(check.day_offset)
        for number, button in self.begins.buttons.items():
            button.setVisible(number < check.every_days)
        self.after.setVisible(check.slot.is_after_meal)
        self.after.choose(check.minutes_after)

    @property
    def _number(self) -> int:
        return min(plan_page(self.page).check_number, len(self.plan.checks) - 1)

    @property
    def _check(self) -> PlannedCheck:
        if not self.plan.checks:
            return PlannedCheck(Slot.FASTING, USUAL_CLOCK[Slot.FASTING])
        return self.plan.checks[self._number]

    def _put(self, check: PlannedCheck) -> None:
        self.plan = with_check(self.plan, self._number, check)
        self.refresh(None)
        self.page.update_head()

    def _take_often(self, often: int) -> None:
        if often == _SOME_DAYS:
            first = self.plan.holds_from.weekday()
            self._put(on_weekdays(self._check, [first]))
        else:
            self._put(on_every(self._check, often))

    def _take_weekdays(self, days: tuple[int, ...]) -> None:
        self._put(on_weekdays(self._check, days))

    def _take_begin(self, offset: int) -> None:
        self._put(on_every(self._check, self._check.every_days, offset))

    def _take_minutes(self, minutes: int) -> None:
        self._put(replace(self._check, minutes_after=minutes))

    def _take_time(self) -> None:
        if self.time.problem():
            return
        at = self.time.time()
        if at is not None:
            self.plan = with_check(self.plan, self._number, replace(self._check, at=at))

    def _add_another(self) -> None:
        self.plan = with_another(self.plan, self._check, _LATER)
        self.page.turn_to("checks_edit")

    def _remove(self) -> None:
        self.plan = without_check(self.plan, self._number)
        self.page.turn_to("checks_edit")

    def _day_text(self, number: int) -> str:
        return weekday_day_text(self.plan.holds_from + timedelta(days=number))
