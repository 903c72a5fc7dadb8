"""Views of *My plan*: when to check, as it holds now; published schedules; a pause.

Changing the plan is in `my_plan_checks_edit`. The past keeps the plan it had: a change holds from a
day on.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from typing import TYPE_CHECKING
from uuid import uuid4

from PySide6.QtWidgets import QVBoxLayout

from logbook.book import Changed
from logbook.domain.plan.calendar_days import pause_on, plan_on
from logbook.domain.plan.plans import CheckPlan, Pause
from logbook.domain.plan.starting_points import SCHEDULES, Schedule, plan_from
from logbook.domain.targets import SetBy
from logbook.domain.usual_times import LOOKS_BACK_DAYS, usual_times
from logbook.ui.desk import Desk
from logbook.ui.entry.saving import recent_period
from logbook.ui.parts.big_button import BigButton
from logbook.ui.parts.card import Card
from logbook.ui.parts.columns import Columns
from logbook.ui.parts.day_field import DayField
from logbook.ui.parts.form_rows import TextField
from logbook.ui.parts.paragraph import Form, Paragraph
from logbook.ui.parts.view_page import View, ViewPage, clear_layout
from logbook.ui.theme import GAP
from logbook.wording import _
from logbook.wording.dates import day_text
from logbook.wording.plan import (
    check_line,
    pause_sentence,
    plan_days_text,
    plan_lines,
    schedule_notes,
    schedule_text,
    situation_text,
    who_set_plan_text,
)
from logbook.wording.typed_days import Toward

if TYPE_CHECKING:
    from datetime import time

    from logbook.domain.slots import Slot
    from logbook.ui.pages.my_plan import MyPlan


def plan_page(page: ViewPage) -> MyPlan:
    """The page *My plan*, which keeps the plan in the making between its views."""
    plan: MyPlan = page  # type: ignore[assignment]
    return plan


def begin_plan(desk: Desk) -> CheckPlan:
    """A plan to change: the one that holds, from now on; else one that asks for nothing."""
    now, day = desk.now().instant, desk.changes_from
    held = plan_on(desk.book.plans(), desk.today())
    if held is None:
        return CheckPlan(uuid4(), day, (), now)
    return replace(held, id=uuid4(), holds_from=day, written_at=now)


def own_clock(desk: Desk) -> dict[Slot, time]:
    """The clock times at which this person usually checks."""
    now, settings = desk.now(), desk.book.settings
    series = desk.book.series(recent_period(now, settings, LOOKS_BACK_DAYS + 1))
    return {one.slot: one.at for one in usual_times(series, now, settings.day_starts_at).checks}


class ChecksView(View):
    """The plan that holds, one that begins later, and a pause."""

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
        ways = Columns(self.look, most=3, least_width=14)
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
            ways.add(button)
        self.column.addWidget(ways)
        self.column.addStretch(1)

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
        columns = Columns(self.look, most=2, least_width=18)
        for plan in [*filter(None, (held,)), *coming]:
            columns.add(self._card(plan))
        self._list.addWidget(columns)
        if plan_page(self.page).checks is not None:
            self._list.addWidget(Paragraph(self.look, _("Your changes are not saved yet.")))
        self.agree.setVisible(held is not None and held.set_by is SetBy.PUBLISHED)
        pause = self._now_paused()
        self._paused.say("" if pause is None else _pause_text(pause))
        self.pause.setText(_("Pause the plan") if pause is None else _("End the pause"))
        for button in (self.pause, self.end):
            button.setVisible(held is not None)

    def _held(self) -> CheckPlan | None:
        held = plan_on(self.desk.book.plans(), self.desk.today())
        return held if held is not None and (held.checks or held.profile_days) else None

    def _now_paused(self) -> Pause | None:
        return pause_on(self.desk.book.pauses(), self.desk.today())

    def _card(self, plan: CheckPlan) -> Card:
        card = Card(self.look, plan_days_text(plan, self.desk.today()))
        for line in plan_lines(plan) or [_("Nothing is asked.")]:
            card.column.addWidget(Paragraph(self.look, line))
        card.column.addWidget(Paragraph(self.look, who_set_plan_text(plan), "quiet"))
        return card

    def _agree(self) -> None:
        held = self._held()
        if held is not None:
            plan_page(self.page).checks = replace(
                begin_plan(self.desk), set_by=SetBy.PROVIDER, set_by_name=""
            )
            self.page.turn_to("checks_edit", message=_("Look it through, then save it."))

    def _pause(self) -> None:
        pause = self._now_paused()
        if pause is None:
            self.page.turn_to("checks_pause")
            return
        ended = replace(pause, last=self.desk.today() - timedelta(days=1))
        if self.desk.write(self.desk.book.replace, ended) is not None:
            self.desk.say(_("Your plan holds again from today."))
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


def _pause_text(pause: Pause) -> str:
    if not pause.reason:
        return pause_sentence(pause)
    return _("{sentence} Reason: {reason}").format(
        sentence=pause_sentence(pause), reason=pause.reason
    )


class SchedulesView(View):
    """Published schedules by treatment, each with its source; none is chosen beforehand."""

    back = "checks"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        words = _(
            "They are for you to take to your provider. Your provider's own plan comes first."
        )
        self.column.addWidget(Paragraph(self.look, words))
        cards = Columns(self.look, most=2, least_width=18, gap=2 * GAP)
        for schedule in SCHEDULES:
            cards.add(self._card(schedule))
        self.column.addWidget(cards)
        self.column.addStretch(1)

    def title(self) -> str:
        return _("Which published schedule?")

    def _card(self, schedule: Schedule) -> Card:
        card = Card(self.look, situation_text(schedule.situation))
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


class PauseView(View):
    """From when to when nothing is asked, and why."""

    back = "checks"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        self._is_edited = False
        today = self.desk.today()
        rows = Form(self.look)
        self.first = DayField(
            self.look, _("First day without checks"), today, value=today, toward=Toward.FUTURE
        )
        rows.add_widget(self.first)
        self.last = DayField(
            self.look,
            _("Last day without checks"),
            today,
            help_text=_("Leave it empty while you don't know."),
            is_optional=True,
        )
        rows.add_widget(self.last)
        self.reason: TextField = rows.add_text(_("Why? (can be left out)"))
        self.column.addWidget(rows)
        self.column.addStretch(1)
        for field in (self.first, self.last):
            field.edited.connect(self._edit)
        self.reason.textEdited.connect(self._edit)

    def title(self) -> str:
        return _("On which days is nothing asked?")

    def main_text(self) -> str:
        return _("Save the pause")

    @property
    def is_changed(self) -> bool:
        return self._is_edited

    def do_main(self) -> None:
        fields = (self.first, self.last)
        problems = [(field, text) for field in fields if (text := field.problem())]
        first = last = None
        if not problems:
            first, last = self.first.day(), self.last.day()
            if first is not None and last is not None and last < first:
                problems.append(
                    (self.last, _("The last day lies before the first day. Change one of them."))
                )
        if not self.show_problems(fields, problems) or first is None:
            return
        now = self.desk.now().instant
        pause = Pause(uuid4(), first, now, last, self.reason.text().strip())
        if self.desk.write(self.desk.book.add, pause) is None:
            return
        self._is_edited = False
        words = _("Saved: paused from {day}. A check after a low is asked all the same.")
        self.page.turn_to("checks", message=words.format(day=day_text(first)))

    def _edit(self) -> None:
        self._is_edited = True
