"""The view of *My plan* in which the plan is changed: its times of day, and ways to the rest.

One time of day is changed in `my_plan_checks_one`; meals in pairs, what is asked before a visit and
when ill, and the plan's first day in `my_plan_checks_more`.
"""

from __future__ import annotations

from dataclasses import replace

from logbook.book import Changed
from logbook.domain.plan.calendar_days import plan_on
from logbook.domain.plan.editing import is_unchanged, slots_of, with_slots
from logbook.domain.slots import Slot
from logbook.ui.entry.circumstances import tile_text
from logbook.ui.pages.my_plan_checks_draft import PlanView, own_clock, plan_page
from logbook.ui.parts.columns import Columns
from logbook.ui.parts.form_rows import Choice
from logbook.ui.parts.paragraph import Paragraph
from logbook.ui.parts.subject_button import SubjectButton
from logbook.ui.parts.view_page import ViewPage
from logbook.ui.theme import GAP
from logbook.wording import _
from logbook.wording.dates import day_text
from logbook.wording.plan import (
    capital,
    check_when_text,
    plan_count_text,
    plan_days_text,
    special_checks_text,
    who_set_plan_text,
)
from logbook.wording.terms import slot_text

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


class ChecksEditView(PlanView):
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
        self.rows = Columns(self.look, most=3, least_width=13)
        self.column.addWidget(self.rows)
        rest = Columns(self.look, most=3, least_width=13)
        self.meals = SubjectButton(
            self.look, _("Meals in pairs"), _("Before a meal, and after it; or meals in turn")
        )
        self.meals.clicked.connect(self._to_meals)
        self.special = SubjectButton(self.look, _("Before a visit, and when ill"))
        self.special.clicked.connect(self._to_special)
        self.since = SubjectButton(self.look, _("From which day, and who set it"))
        self.since.clicked.connect(self._to_since)
        for button in (self.meals, self.special, self.since):
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
            button = SubjectButton(self.look, slot_text(check.slot), check_when_text(check))
            button.setProperty("number", number)
            button.clicked.connect(self._to_check)
            self.rows.add(button)
        if plan.checks:
            words = _("{count}. Press one to change its time or days.")
            self._told.say(words.format(count=capital(plan_count_text(plan))))
        else:
            self._told.say("")
        self.special.say(special_checks_text(plan))
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
        if is_unchanged(plan, self.desk.book.plans()):
            page.checks = None
            self.page.turn_to(
                "checks", message=_("Nothing was changed. Your plan stays as it was.")
            )
            return
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

    def _to_meals(self) -> None:
        self.page.turn_to("checks_meals")

    def _to_special(self) -> None:
        self.page.turn_to("checks_special")

    def _to_since(self) -> None:
        self.page.turn_to("checks_since")
