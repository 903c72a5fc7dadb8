"""The view of *My plan* for when to check: today, the plan that holds, one to come, and a pause.

The plan is changed in `my_plan_checks_edit`, paused in `my_plan_pause`; published schedules are in
`my_plan_schedules`. The past keeps the plan it had: a change holds from a day on.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from uuid import uuid4

from PySide6.QtWidgets import QVBoxLayout

from logbook.book import Changed
from logbook.domain.moments import Moment, Period
from logbook.domain.plan.calendar_days import pause_on, plan_on
from logbook.domain.plan.done import plan_done
from logbook.domain.plan.editing import held_from
from logbook.domain.plan.plans import CheckPlan, Pause
from logbook.domain.targets import SetBy
from logbook.ui.entry.form_news import due_now
from logbook.ui.entry.saving import recent_period
from logbook.ui.pages.my_plan_checks_draft import begin_plan, plan_page
from logbook.ui.parts.big_button import BigButton
from logbook.ui.parts.card import Card
from logbook.ui.parts.columns import Columns
from logbook.ui.parts.paragraph import Paragraph
from logbook.ui.parts.view_page import View, ViewPage, clear_layout
from logbook.ui.theme import GAP
from logbook.wording import _
from logbook.wording.due import (
    done_today_sentence,
    due_sentence,
    later_today_sentence,
    not_done_sentence,
    pause_text,
)
from logbook.wording.plan import plan_days_text, plan_lines, who_set_plan_text


class ChecksView(View):
    """What today asks for, the plan that holds, one that begins later, and a pause."""

    back = "home"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        self._paused = Paragraph(self.look, role="heading")
        self.column.addWidget(self._paused)
        self._list = QVBoxLayout()
        self._list.setSpacing(2 * GAP)
        self.column.addLayout(self._list)
        self.agree = BigButton(self.look, _("My provider agrees with this plan")).let_wrap()
        self.agree.clicked.connect(self._agree)
        self.column.addWidget(self.agree)
        self._ways = Columns(self.look, most=3, least_width=14)
        self.pause = BigButton(self.look, "").let_wrap()
        self.published = BigButton(self.look, _("Show published schedules")).let_wrap()
        self.calendar = BigButton(self.look, _("Save a calendar for a phone")).let_wrap()
        self.reminders = BigButton(self.look, _("Reminders")).let_wrap()
        self.end = BigButton(self.look, _("End this plan")).let_wrap()
        for button, slot in (
            (self.reminders, self._to_reminders),
            (self.pause, self._pause),
            (self.published, self._to_published),
            (self.calendar, self._to_calendar),
            (self.end, self._end),
        ):
            button.clicked.connect(slot)
            self._ways.add(button)
        self.column.addWidget(self._ways)
        self.column.addStretch(1)
        self._today: tuple[str, ...] = ()

    def title(self) -> str:
        return _("When do you check?")

    def main_text(self) -> str:
        if plan_page(self.page).checks is not None:
            return _("Go on with my changes")
        return _("Change the plan") if self._held() else _("Write down my plan")

    def do_main(self) -> None:
        plan = plan_page(self.page)
        if plan.checks is None:
            plan.checks = begin_plan(self.desk)
        self.page.turn_to("checks_edit")

    def refresh(self, changed: Changed | None) -> None:
        today, book = self.desk.today(), self.desk.book
        clear_layout(self._list)
        held = self._held()
        coming = [plan for plan in book.plans() if plan.holds_from > today]
        if held is None and not coming:
            words = _("No plan is written down. Your usual times stand in for it.")
            self._list.addWidget(Paragraph(self.look, words))
        columns = Columns(self.look, most=2, least_width=18, gap=2 * GAP)
        if held is not None:
            columns.add(self._today_card())
        for plan in [*filter(None, (held,)), *coming]:
            columns.add(self._card(plan))
        self._list.addWidget(columns)
        if plan_page(self.page).checks is not None:
            self._list.addWidget(Paragraph(self.look, _("Your changes are not saved yet.")))
        self.agree.setVisible(held is not None and held.set_by is SetBy.PUBLISHED)
        pause = self._pause_to_end()
        self._paused.say("" if pause is None else pause_text(pause, today))
        self.pause.setText(self._pause_way(pause))
        self._ways.leave_out(*(() if held is not None else (self.pause, self.end)))

    def _held(self) -> CheckPlan | None:
        held = plan_on(self.desk.book.plans(), self.desk.today())
        return held if held is not None and (held.checks or held.profile_days) else None

    def _pause_to_end(self) -> Pause | None:
        """The pause of today, else the next that was written down."""
        today, pauses = self.desk.today(), self.desk.book.pauses()
        coming = [
            one
            for one in pauses
            if one.first > today and (one.last is None or one.last >= one.first)
        ]
        return pause_on(pauses, today) or min(coming, key=lambda one: one.first, default=None)

    def _pause_way(self, pause: Pause | None) -> str:
        if pause is None:
            return _("Pause the plan")
        if pause.first > self.desk.today():
            return _("Take back the pause")
        return _("End the pause")

    def beat(self, now: Moment) -> None:
        """What is due changes with the clock; what stands still is left alone."""
        if self._held() is not None and self._today_lines(now) != self._today:
            self.refresh(None)

    def _today_lines(self, now: Moment) -> tuple[str, ...]:
        """What is due, what comes later, what was done and what was not, on this day only."""
        book, today = self.desk.book, self.desk.today()
        settings = book.settings
        series = book.series(recent_period(now, settings, 2))
        due = due_now(self.desk, series, now)
        facts = book.plan_facts(recent_period(now, settings, 2))
        done = plan_done(facts, series, Period(today, today), settings, now)
        lines = (
            due_sentence(due, now, self.desk.book.settings.day_starts_at),
            later_today_sentence(due),
            done_today_sentence(done),
            not_done_sentence(due),
        )
        return tuple(filter(None, lines))

    def _today_card(self) -> Card:
        self._today = self._today_lines(self.desk.now())
        card = Card(self.look, _("Today"))
        for sentence in self._today:
            card.column.addWidget(Paragraph(self.look, sentence))
        card.column.addStretch(1)
        return card

    def _card(self, plan: CheckPlan) -> Card:
        card = Card(self.look, plan_days_text(plan, self.desk.today()))
        for line in plan_lines(plan) or [_("Nothing is asked.")]:
            card.column.addWidget(Paragraph(self.look, line))
        card.column.addWidget(Paragraph(self.look, who_set_plan_text(plan), "quiet"))
        card.column.addStretch(1)
        return card

    def _agree(self) -> None:
        held = self._held()
        if held is not None:
            agreed = held_from(held, max(self.desk.changes_from, held.holds_from))
            plan_page(self.page).checks = replace(
                agreed, id=uuid4(), set_by=SetBy.PROVIDER, set_by_name=""
            )
            self.page.turn_to("checks_edit", message=_("Look it through, then save it."))

    def _pause(self) -> None:
        pause, today = self._pause_to_end(), self.desk.today()
        if pause is None:
            self.page.turn_to("checks_pause")
            return
        is_coming = pause.first > today
        last = (pause.first if is_coming else today) - timedelta(days=1)
        if self.desk.write(self.desk.book.replace, replace(pause, last=last)) is not None:
            self.desk.say(
                _("The pause is taken back.")
                if is_coming
                else _("Your plan holds again from today.")
            )
            self.setFocus()

    def _end(self) -> None:
        """From today on nothing is asked; earlier days keep the plan that they had."""
        none = replace(begin_plan(self.desk), checks=(), profile_days=0, ill_every_hours=None)
        ended = replace(
            none, holds_from=self.desk.today(), set_by=SetBy.SELF, set_by_name="", source=""
        )
        if self.desk.write(self.desk.book.add, ended) is not None:
            plan_page(self.page).checks = None
            self.desk.say(_("From today no plan holds. Earlier days keep theirs."))
            self.page.update_head()
            self.setFocus()

    def _to_reminders(self) -> None:
        self.page.turn_to("reminders")

    def _to_calendar(self) -> None:
        self.page.turn_to("checks_calendar")

    def _to_published(self) -> None:
        self.page.turn_to("checks_published")
