"""Views of *My plan*: meals in pairs, checks before a visit and when ill, the plan's first day."""

from __future__ import annotations

from dataclasses import replace

from logbook.book import Changed
from logbook.domain.plan.editing import MAIN_MEALS, held_from, with_meal_pairs
from logbook.domain.targets import SetBy
from logbook.ui.pages.my_plan_checks_draft import PlanView, own_clock
from logbook.ui.parts.day_field import DayField
from logbook.ui.parts.form_rows import Choice, TextField
from logbook.ui.parts.paragraph import Form
from logbook.ui.parts.view_page import ViewPage
from logbook.wording import _
from logbook.wording.plan import capital, ill_hours_text, meal_text, profile_days_text
from logbook.wording.typed_days import Toward


class MealPairsView(PlanView):
    """Which meals are checked before and after, every day or one meal a day in turn."""

    back = "checks_edit"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        rows = Form(self.look)
        self.meals: Choice = rows.add_choice(
            _("Which meals?"),
            [(slot, meal_text(slot)) for slot in MAIN_MEALS],
            columns=3,
            several=True,
        )
        self.turn: Choice = rows.add_choice(
            _("How often?"),
            [(False, _("All of them, every day")), (True, _("One meal a day, in turn"))],
            False,
            columns=2,
        )
        rows.add_words(_("A check before the meal, and one 2 hours after the first bite."))
        rows.add_words(_("You can change times and days of each check afterwards."))
        self.column.addWidget(rows)
        self.column.addStretch(1)

    def title(self) -> str:
        return _("Which meals, before and after?")

    def main_text(self) -> str:
        return _("Go on")

    def do_main(self) -> None:
        meals = self.meals.value
        if not meals:
            self.desk.say(_("Choose at least one meal first."))
            return
        in_turn = bool(self.turn.value)
        self.plan = with_meal_pairs(self.plan, meals, own_clock(self.desk), in_turn=in_turn)
        self.page.turn_to("checks_edit")


class SpecialChecksView(PlanView):
    """Seven checks a day before a visit, and how often to check when ill."""

    back = "checks_edit"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        rows = Form(self.look)
        self.profile: Choice = rows.add_choice(
            _("Seven checks a day before a visit: before and after each meal, and at bedtime"),
            [(n, capital(profile_days_text(n))) for n in range(4)],
            columns=4,
        )
        self.ill: Choice = rows.add_choice(
            _("When you are ill, how often while awake?"),
            [(n, capital(ill_hours_text(n))) for n in (None, 2, 3, 4)],
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


class SinceView(PlanView):
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
        self.plan = replace(held_from(self.plan, day), set_by=who, set_by_name=name)
        self.page.turn_to("checks_edit")

    def _show(self, _value: object) -> None:
        self.name.row.setVisible(self.who.value is SetBy.PROVIDER)
