"""A view of *My plan*: published schedules by treatment, to begin a plan from."""

from __future__ import annotations

from dataclasses import replace

from logbook.domain.plan.starting_points import SCHEDULES, Schedule, Situation, plan_from
from logbook.ui.pages.my_plan_checks_draft import begin_plan, own_clock, plan_page
from logbook.ui.parts.big_button import BigButton
from logbook.ui.parts.card import Card
from logbook.ui.parts.columns import Columns
from logbook.ui.parts.form_rows import Choice
from logbook.ui.parts.paragraph import Paragraph
from logbook.ui.parts.view_page import View, ViewPage
from logbook.ui.theme import GAP
from logbook.wording import _
from logbook.wording.plan import (
    check_line,
    plan_lines,
    schedule_notes,
    schedule_text,
    situation_text,
)


class SchedulesView(View):
    """Published schedules by treatment, each with its source; nothing is chosen beforehand."""

    back = "checks"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        self.situation = Choice(
            self.look,
            _("What fits you?"),
            [
                (situation, situation_text(situation))
                for situation in Situation
                if any(schedule.situation is situation for schedule in SCHEDULES)
            ],
            columns=3,
            shows_label=False,
        )
        self.situation.chosen.connect(self._show)
        self.column.addWidget(self.situation)
        words = _(
            "They are for you to take to your provider. Your provider's own plan comes first."
        )
        self.column.addWidget(Paragraph(self.look, words))
        self._cards = Columns(self.look, most=2, least_width=18, gap=2 * GAP)
        self.column.addWidget(self._cards)
        self.column.addStretch(1)

    def title(self) -> str:
        return _("Published schedules: what fits you?")

    def _show(self, wanted: Situation) -> None:
        self._cards.clear()
        for schedule in SCHEDULES:
            if schedule.situation is wanted:
                self._cards.add(self._card(schedule))
        self.page.update_head()

    def _card(self, schedule: Schedule) -> Card:
        card = Card(self.look, schedule.body)
        plan = plan_from(schedule, self.desk.today(), self.desk.now().instant)
        lines = [check_line(check) for check in plan.checks]
        if schedule.profile_days:
            lines = plan_lines(plan)
        for line in lines:
            card.column.addWidget(Paragraph(self.look, line))
        for note in schedule_notes(schedule):
            card.column.addWidget(Paragraph(self.look, note))
        card.column.addWidget(Paragraph(self.look, schedule_text(schedule), "quiet"))
        card.column.addStretch(1)
        button = BigButton(self.look, _("Begin from this"))
        button.describe(f"{situation_text(schedule.situation)}. {schedule_text(schedule)}")
        button.setProperty("code", schedule.code)
        button.clicked.connect(self._take)
        card.column.addWidget(button)
        return card

    def _take(self) -> None:
        wanted = str(self.sender().property("code"))
        schedule = next(one for one in SCHEDULES if one.code == wanted)
        today, now = self.desk.today(), self.desk.now().instant
        if schedule.checks:
            begun = plan_from(schedule, today, now, own_clock(self.desk))
        else:  # only the days before a visit: what is checked otherwise stays
            begun = replace(begin_plan(self.desk), profile_days=schedule.profile_days)
        plan_page(self.page).checks = begun
        self.page.turn_to("checks_edit", message=_("Change what your provider wants otherwise."))
