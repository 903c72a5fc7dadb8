"""A view of *My plan*: one time of day of the plan, at what time and on which days."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

from logbook.book import Changed
from logbook.domain.plan.calendar_days import USUAL_CLOCK
from logbook.domain.plan.editing import (
    begun_on,
    first_day,
    first_days,
    on_every,
    on_weekdays,
    on_weeks,
    with_another,
    with_check,
    without_check,
)
from logbook.domain.plan.plans import EVERY_WEEKDAY, WEEK_DAYS, PlannedCheck
from logbook.domain.slots import Slot
from logbook.ui.pages.my_plan_checks_draft import PlanView, plan_page
from logbook.ui.parts.big_button import BigButton, ButtonKind
from logbook.ui.parts.columns import Columns
from logbook.ui.parts.day_field import TimeField
from logbook.ui.parts.form_rows import Choice
from logbook.ui.parts.view_page import ViewPage
from logbook.ui.theme import GAP
from logbook.wording import _
from logbook.wording.dates import (
    clock_text,
    minutes_after_text,
    month_day_text,
    weekday_day_text,
    weekday_text,
)
from logbook.wording.plan import capital, weeks_apart_text
from logbook.wording.terms import slot_text

_MONDAY = date(2024, 1, 1)
_LATER = timedelta(hours=2)
_WEEKLY = 0
_MOST_TURNS = 4


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
                (_WEEKLY, _("Every week on:")),
                *((n * WEEK_DAYS, capital(weeks_apart_text(n))) for n in (2, 3, 4)),
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
        self.weekday = Choice(
            self.look,
            _("On which day?"),
            [(day, weekday_text(_MONDAY + timedelta(days=day))) for day in EVERY_WEEKDAY],
            columns=4,
            shows_label=False,
        )
        self.begins = Choice(
            self.look, _("Beginning on"), [(n, "") for n in range(_MOST_TURNS)], columns=4
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
        self.column.addWidget(self.weekday)
        self.column.addWidget(self.begins)
        self._when = Columns(self.look, most=2, least_width=17)
        self._when.add(self.time.row)
        self._when.add(self.after)
        self.column.addWidget(self._when)
        self.column.addWidget(ways)
        self.column.addStretch(1)
        self.often.chosen.connect(self._take_often)
        self.weekdays.chosen.connect(self._take_weekdays)
        self.weekday.chosen.connect(self._take_weekday)
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
        is_weekly = check.every_days == 1 and set(check.weekdays) < set(EVERY_WEEKDAY)
        self.often.choose(_WEEKLY if is_weekly else check.every_days)
        self.weekdays.choose(check.weekdays if is_weekly else ())
        self.weekdays.setVisible(check.every_days == 1)
        self.weekday.choose(check.weekdays[0])
        self.weekday.setVisible(check.weeks_apart is not None)
        self._show_begins(check)
        self._when.leave_out(*(() if check.slot.is_after_meal else (self.after,)))
        self.after.choose(check.minutes_after)

    def _show_begins(self, check: PlannedCheck) -> None:
        """A tile for each day that it can begin on; none where it has no turns, or too many."""
        days = first_days(check, self.plan.holds_from)
        # Of weeks the weekday is chosen above.
        told = weekday_day_text if check.weeks_apart is None else month_day_text
        self.begins.setVisible(1 < len(days) <= _MOST_TURNS)
        for number, button in self.begins.buttons.items():
            button.setVisible(number < len(days))
            if number < len(days):
                button.setText(told(days[number]))
        first = first_day(check, self.plan.holds_from)
        self.begins.choose(days.index(first) if first in days else None)

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
        check, begin = self._check, self.plan.holds_from
        if often == _WEEKLY:
            self._put(on_weekdays(check, [first_day(check, begin).weekday()]))
        elif often > _MOST_TURNS:
            self._put(on_weeks(check, often // WEEK_DAYS, begin))
        else:
            self._put(on_every(check, often))

    def _take_weekdays(self, days: tuple[int, ...]) -> None:
        self._put(on_weekdays(self._check, days))

    def _take_weekday(self, weekday: int) -> None:
        weeks = self._check.weeks_apart
        if weeks is not None:
            check = replace(self._check, weekdays=(weekday,))
            self._put(on_weeks(check, weeks, self.plan.holds_from))

    def _take_begin(self, number: int) -> None:
        begin = self.plan.holds_from
        self._put(begun_on(self._check, first_days(self._check, begin)[number], begin))

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
