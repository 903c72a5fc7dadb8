"""Views of *My plan* in which the plan is changed: its times of day, one of them, its day.

The plan in the making is kept by the page; it is written down only by *Save plan*.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

from logbook.book import Changed
from logbook.domain.plan.calendar_days import USUAL_CLOCK, plan_on
from logbook.domain.plan.editing import (
    on_every,
    on_weekdays,
    slots_of,
    with_another,
    with_check,
    with_slots,
    without_check,
)
from logbook.domain.plan.plans import EVERY_WEEKDAY, CheckPlan, PlannedCheck
from logbook.domain.slots import Slot
from logbook.domain.targets import SetBy
from logbook.ui.entry.circumstances import tile_text
from logbook.ui.pages.my_plan_checks import begin_plan, own_clock, plan_page
from logbook.ui.parts.big_button import BigButton, ButtonKind
from logbook.ui.parts.columns import Columns
from logbook.ui.parts.day_field import DayField, TimeField
from logbook.ui.parts.form_rows import Choice, TextField
from logbook.ui.parts.paragraph import Form, Paragraph
from logbook.ui.parts.subject_button import SubjectButton
from logbook.ui.parts.view_page import View, ViewPage
from logbook.ui.theme import GAP
from logbook.wording import _, ngettext
from logbook.wording.dates import (
    clock_text,
    day_text,
    minutes_after_text,
    weekday_day_text,
    weekday_text,
)
from logbook.wording.numbers import number_text
from logbook.wording.plan import (
    days_of_check_text,
    plan_count_text,
    plan_days_text,
    who_set_plan_text,
)
from logbook.wording.terms import slot_text
from logbook.wording.typed_days import Toward

_TILES = (
    Slot.FASTING,
    Slot.AFTER_BREAKFAST,
    Slot.BEFORE_LUNCH,
    Slot.AFTER_LUNCH,
    Slot.BEFORE_DINNER,
    Slot.AFTER_DINNER,
    Slot.BETWEEN_MEALS,
    Slot.BEDTIME,
    Slot.NIGHT,
)
_MONDAY = date(2024, 1, 1)
_LATER = timedelta(hours=2)
_SOME_DAYS = 0


class _PlanView(View):
    """A view on the plan in the making."""

    back = "checks"

    @property
    def plan(self) -> CheckPlan:
        """The plan in the making; begun from the present one where there is none."""
        page = plan_page(self.page)
        if page.checks is None:
            page.checks = begin_plan(self.desk)
        return page.checks

    @plan.setter
    def plan(self, plan: CheckPlan) -> None:
        plan_page(self.page).checks = plan


class ChecksEditView(_PlanView):
    """Which times of day; below them one button for each, to change its time and its days."""

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        self.column.setSpacing(GAP)
        self._clock = own_clock(self.desk)
        self.slots = Choice(
            self.look,
            _("Choose all that your provider asked for:"),
            [(slot, tile_text(slot)) for slot in _TILES],
            columns=3,
            several=True,
        )
        self.slots.chosen.connect(self._take_slots)
        self.column.addWidget(self.slots)
        self._told = Paragraph(self.look, role="heading")
        self.column.addWidget(self._told)
        self.rows = Columns(self.look, most=2, least_width=16)
        self.column.addWidget(self.rows)
        rest = Columns(self.look, most=2, least_width=16)
        self.special = SubjectButton(self.look, _("Before a visit, and when ill"))
        self.special.clicked.connect(self._to_special)
        self.since = SubjectButton(self.look, _("From which day, and who set it"))
        self.since.clicked.connect(self._to_since)
        for button in (self.special, self.since):
            rest.add(button)
        self.column.addWidget(rest)
        self.column.addStretch(1)

    def title(self) -> str:
        return _("When should you check?")

    def main_text(self) -> str:
        return _("Save plan")

    def refresh(self, changed: Changed | None) -> None:
        plan = self.plan
        self.slots.choose(slots_of(plan))
        self.rows.clear()
        for number, check in enumerate(plan.checks):
            button = SubjectButton(self.look, slot_text(check.slot), _capital(_when_text(check)))
            button.setProperty("number", number)
            button.clicked.connect(self._to_check)
            self.rows.add(button)
        if plan.checks:
            words = _("{count}. Press one to change its time or days.")
            self._told.say(words.format(count=plan_count_text(plan)))
        else:
            self._told.say("")
        self.special.say(_special_text(plan))
        self.since.say(
            _("{days}. {who}").format(
                days=plan_days_text(plan, self.desk.today()), who=who_set_plan_text(plan)
            )
        )

    def do_main(self) -> None:
        plan = self.plan
        if not plan.checks and not plan.profile_days:
            self.desk.say(_("Choose at least one time of day first."))
            return
        page = plan_page(self.page)
        kept = replace(plan, written_at=self.desk.now().instant)
        if self.desk.write(self.desk.book.add, kept) is None:
            return
        page.checks = None
        today = self.desk.today()
        is_held = plan_on(self.desk.book.plans(), today) == kept
        words = _("Saved: your plan, from {day}.")
        if is_held and kept.holds_from == today:
            words = _("Saved: your plan holds from today.")
        self.page.turn_to("checks", message=words.format(day=day_text(kept.holds_from)))

    def _take_slots(self, slots: tuple[Slot, ...]) -> None:
        others = [slot for slot in slots_of(self.plan) if slot not in _TILES]
        self.plan = with_slots(self.plan, (*slots, *others), self._clock)
        self.refresh(None)
        self.page.update_head()

    def _to_check(self) -> None:
        plan_page(self.page).check_number = int(self.sender().property("number"))
        self.page.turn_to("checks_one")

    def _to_special(self) -> None:
        self.page.turn_to("checks_special")

    def _to_since(self) -> None:
        self.page.turn_to("checks_since")


class OneCheckView(_PlanView):
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


class SpecialChecksView(_PlanView):
    """Seven checks a day before a visit, and how often to check when ill."""

    back = "checks_edit"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        rows = Form(self.look)
        self.profile: Choice = rows.add_choice(
            _("Seven checks a day before a visit: before and after each meal, and at bedtime"),
            [(n, _capital(_profile_text(n))) for n in range(4)],
            columns=4,
        )
        self.ill: Choice = rows.add_choice(
            _("When you are ill, how often while awake?"),
            [(n, _capital(_ill_text(n))) for n in (None, 2, 3, 4)],
            columns=4,
        )
        rows.add_words(
            _("Say that you are ill under Something happened. Without a number, 4 hours are usual.")
        )
        self.column.addWidget(rows)
        self.column.addStretch(1)
        self.profile.chosen.connect(self._take_profile)
        self.ill.chosen.connect(self._take_ill)

    def title(self) -> str:
        return _("Before a visit, and when ill")

    def main_text(self) -> str:
        return _("Go on")

    def do_main(self) -> None:
        self.page.turn_to("checks_edit")

    def refresh(self, changed: Changed | None) -> None:
        self.profile.choose(self.plan.profile_days)
        self.ill.choose(self.plan.ill_every_hours)

    def _take_profile(self, days: int) -> None:
        self.plan = replace(self.plan, profile_days=days)

    def _take_ill(self, hours: int | None) -> None:
        self.plan = replace(self.plan, ill_every_hours=hours)


class SinceView(_PlanView):
    """From which day the plan holds, and who set it."""

    back = "checks_edit"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        plan, today = self.plan, self.desk.today()
        rows = Form(self.look)
        options = [
            (SetBy.PROVIDER, _("My provider")),
            (SetBy.SELF, _("I did, for now")),
        ]
        if plan.source:
            options.append((SetBy.PUBLISHED, _("Published, not agreed yet")))
        self.who: Choice = rows.add_choice(_("Who set it?"), options, plan.set_by, columns=3)
        self.name: TextField = rows.add_text(
            _("Name of the provider (can be left out)"),
            plan.set_by_name if plan.set_by is SetBy.PROVIDER else "",
        )
        self.day = DayField(
            self.look,
            _("From which day does it hold?"),
            today,
            value=plan.holds_from,
            toward=Toward.FUTURE,
        )
        rows.add_widget(self.day)
        rows.add_words(_("Earlier days keep the plan that they had."))
        self.column.addWidget(rows)
        self.column.addStretch(1)
        self.who.chosen.connect(self._show)
        self._show(None)

    def title(self) -> str:
        return _("From which day, and who set it?")

    def main_text(self) -> str:
        return _("Go on")

    def do_main(self) -> None:
        problem = self.day.problem()
        if not self.show_problems([self.day], [(self.day, problem)] if problem else []):
            return
        day = self.day.day()
        assert day is not None
        who = self.who.value
        name = self.name.text().strip() if who is SetBy.PROVIDER else ""
        if who is SetBy.PUBLISHED:
            name = self.plan.set_by_name
        self.plan = replace(self.plan, holds_from=day, set_by=who, set_by_name=name)
        self.page.turn_to("checks_edit")

    def _show(self, _value: object) -> None:
        self.name.row.setVisible(self.who.value is SetBy.PROVIDER)


def _when_text(check: PlannedCheck) -> str:
    text = _("about {time}, {days}").format(
        time=clock_text(check.at), days=days_of_check_text(check)
    )
    if check.minutes_after is None:
        return text
    return _("{minutes} the first bite; {when}").format(
        minutes=minutes_after_text(check.minutes_after), when=text
    )


def _special_text(plan: CheckPlan) -> str:
    ill = _("when ill: {often}").format(often=_ill_text(plan.ill_every_hours))
    profile = _("before a visit: {days}").format(days=_profile_text(plan.profile_days))
    return _capital(f"{profile}; {ill}")


def _profile_text(days: int) -> str:
    if not days:
        return _("nothing more")
    return ngettext("on {n} day", "on {n} days", days).format(n=number_text(days))


def _ill_text(hours: int | None) -> str:
    if hours is None:
        return _("nothing agreed")
    return ngettext("every {n} hour", "every {n} hours", hours).format(n=number_text(hours))


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
