"""Views of *My plan*: what the program must know about medicines and health.

Each answer holds from a day on. What follows from it is the domain's; the sentences are in
`wording.ticks`. Names and amounts of medicines are in `my_plan_medicines`.
"""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtWidgets import QVBoxLayout, QWidget

from logbook.book import Changed
from logbook.domain.ticks import (
    ABOUT_MEDICINES,
    FOOLS_THE_A1C,
    FOOLS_THE_METER,
    About,
    Tick,
    Told,
)
from logbook.ui.answer_tiles import AnswerTiles, write_tick
from logbook.ui.parts.big_button import BigButton
from logbook.ui.parts.columns import Columns
from logbook.ui.parts.day_field import DayField
from logbook.ui.parts.flow import Flow
from logbook.ui.parts.form_rows import Choice
from logbook.ui.parts.paragraph import Form, Paragraph
from logbook.ui.parts.view_page import View, ViewPage
from logbook.ui.theme import GAP
from logbook.wording import _, cautions
from logbook.wording.dates import day_text
from logbook.wording.ticks import (
    about_group_text,
    about_help,
    about_name,
    about_question,
    told_text,
)
from logbook.wording.typed_days import Toward

_GROUPS = {
    "know": ABOUT_MEDICINES,
    "know_meter": FOOLS_THE_METER,
    "know_a1c": FOOLS_THE_A1C,
}
_DAY_VIEW = "know_day"


class _Row(QWidget):
    """One question at the left, its answer and the day from which it holds at the right."""

    def __init__(self, view: TicksView, about: About) -> None:
        super().__init__()
        look = view.look
        words, answers = QWidget(), QWidget()
        column = QVBoxLayout(words)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(Paragraph(look, about_question(about), "heading"))
        if help_text := about_help(about):
            column.addWidget(Paragraph(look, help_text))
        flow = Flow(answers)
        flow.setContentsMargins(0, 0, 0, 0)
        self.tiles = AnswerTiles(view.desk, about)
        self.tiles.chosen.connect(view.take)
        self.day = BigButton(look, "")
        self.day.setProperty("about", about.value)
        self.day.clicked.connect(view.change_day)
        flow.addWidget(self.tiles)
        flow.addWidget(self.day)
        self.warning = Paragraph(look, cautions.icodextrin(), "heading")
        beside = Columns(look, most=2, least_width=22)
        beside.add(words)
        beside.add(answers)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(4)
        whole.addWidget(beside)
        whole.addWidget(self.warning)

    def show_tick(self, tick: Tick | None) -> None:
        """Show the answer in force."""
        self.tiles.choose(None if tick is None else tick.told)
        self.day.setVisible(tick is not None)
        about = self.tiles.about
        if tick is not None:
            self.day.setText(_("From {day}").format(day=day_text(tick.holds_from)))
            self.day.describe(
                _("{what}: changes the day from which the answer holds").format(
                    what=about_name(about)
                )
            )
        is_said = tick is not None and tick.told is not Told.NO
        self.warning.setVisible(about is About.ICODEXTRIN and is_said)


class TicksView(View):
    """The questions of one group; a press holds at once, from today."""

    back = "home"
    name = "know"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        self.groups = Choice(
            self.look,
            self.title(),
            [(name, about_group_text(group)) for name, group in _GROUPS.items()],
            columns=3,
            shows_label=False,
        )
        self.groups.choose(self.name)
        self.groups.chosen.connect(self._turn)
        self.column.addWidget(self.groups)
        self.rows = {about: _Row(self, about) for about in _GROUPS[self.name]}
        rows = QVBoxLayout()
        rows.setSpacing(GAP + 2)
        for row in self.rows.values():
            rows.addWidget(row)
        self.column.addLayout(rows)
        self.column.addWidget(
            Paragraph(
                self.look,
                _("An answer holds from today. Press its day to change it.")
                + " "
                + _("Not sure counts as yes."),
            )
        )
        self.column.addStretch(1)

    def title(self) -> str:
        return _("What must the program know?")

    def refresh(self, changed: Changed | None) -> None:
        ticks, today = self.desk.book.ticks(), self.desk.today()
        for about, row in self.rows.items():
            row.show_tick(ticks.in_force(about, today))

    def take(self, told: Told) -> None:
        """An answer was pressed."""
        tiles = self.sender()
        assert isinstance(tiles, AnswerTiles)
        if write_tick(self.desk, tiles.about, told):
            self.desk.say(
                _("Saved. {what}: {answer}.").format(
                    what=about_name(tiles.about), answer=told_text(told)
                )
            )
        else:
            self.refresh(None)

    def change_day(self) -> None:
        """To the day from which an answer holds."""
        self.page.setProperty("about", self.sender().property("about"))
        self.page.turn_to(_DAY_VIEW)

    def _turn(self, name: str) -> None:
        self.page.turn_to(name)


class MeterTicksView(TicksView):
    """What can fool the meter."""

    name = "know_meter"


class A1CTicksView(TicksView):
    """What can fool the A1C."""

    name = "know_a1c"


class TickDayView(View):
    """From which day one answer holds."""

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        today = self.desk.today()
        self.about = About(str(page.property("about") or About.INSULIN))
        self.back = next(name for name, group in _GROUPS.items() if self.about in group)
        self.tick = self.desk.book.ticks().in_force(self.about, today)
        rows = Form(self.look)
        answer = told_text(None if self.tick is None else self.tick.told)
        rows.add_words(_("Your answer: {answer}").format(answer=answer), "heading")
        held = today if self.tick is None else self.tick.holds_from
        self.day = DayField(self.look, _("From which day?"), today, value=held, toward=Toward.PAST)
        rows.add_widget(self.day)
        self.column.addWidget(rows)
        self.column.addStretch(1)

    def title(self) -> str:
        return about_question(self.about)

    def main_text(self) -> str:
        return _("Save day") if self.tick is not None else ""

    def do_main(self) -> None:
        if self.tick is None:
            return
        problem = self.day.problem() or self._order_problem(self.tick)
        if not self.show_problems([self.day], [(self.day, problem)] if problem else []):
            return
        day = self.day.day()
        assert day is not None
        moved = replace(self.tick, holds_from=day, written_at=self.desk.now().instant)
        if self.desk.write(self.desk.book.replace, moved) is not None:
            message = _("Saved. {what}: {answer}, from {day}.").format(
                what=about_name(self.about), answer=told_text(moved.told), day=day_text(day)
            )
            self.page.turn_to(self.back, message=message)

    def _order_problem(self, tick: Tick) -> str:
        """An answer can't hold from a day to come, nor from before the answer it follows."""
        day = self.day.day()
        if day is not None and day > self.desk.today():
            return _("This day is still to come. Write today or an earlier day.")
        first = self.desk.book.ticks().first_day_for(tick)
        if day is not None and first is not None and day < first:
            return _(
                "Your answer before this one holds from {day}. Write that day or a later one."
            ).format(day=day_text(first))
        return ""
