"""Another time than now: the day by big buttons or typed, then the hour the same way."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QWidget

from logbook.domain.errors import BadMoment
from logbook.domain.moments import Moment, wall_on, wall_told
from logbook.ui.clock_input import parse_clock
from logbook.ui.desk import Desk
from logbook.ui.entry.circumstances import When
from logbook.ui.entry.step import Step
from logbook.ui.parts.big_button import BigButton, ButtonKind
from logbook.ui.parts.even_grid import EvenGrid
from logbook.ui.parts.form_rows import TextField
from logbook.ui.parts.tab_order import follow
from logbook.ui.parts.texts import Words
from logbook.ui.theme import GAP
from logbook.wording import _
from logbook.wording.dates import clock_on_day_text, clock_text, weekday_day_text
from logbook.wording.problems import problem_text
from logbook.wording.typed_days import Toward, read_day

_DAYS_OFFERED = 12
_MOST_COLUMNS = 6


class WhenStep(Step):
    """Asks for a day if there is none yet, then for a time; tells a `Moment` by `moment_chosen`."""

    moment_chosen = Signal(object)

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._day: date | None = None
        self._earliest_twice: datetime | None = None
        self._panel = QWidget()
        self._grid = EvenGrid(_MOST_COLUMNS)
        self._panel.setLayout(self._grid)
        self._buttons: list[BigButton] = []
        self.column.addWidget(self._panel)
        self.typed_text = TextField(desk.look, _("Or type it"))
        self.typed_text.returnPressed.connect(self._take_typed)
        self.column.addWidget(self.typed_text.row)
        self.take = BigButton(desk.look, _("Use what I typed"), ButtonKind.OTHER)
        self.take.clicked.connect(self._take_typed)
        self._hint = Words(desk.look, "", "quiet")
        row = QHBoxLayout()
        row.setSpacing(2 * GAP)
        row.addWidget(self.take)
        row.addWidget(self._hint, 1)
        self.column.addLayout(row)
        self.column.addStretch(1)

    def ask(self, when: When) -> None:
        """Begin for one of the answers to When."""
        today = self.desk.today()
        match when:
            case When.EARLIER_TODAY:
                self._ask_hour(today)
            case When.YESTERDAY:
                self._ask_hour(today - timedelta(days=1))
            case _:
                self._ask_day(today)

    # --- the day ----------------------------------------------------------------------------------

    def _ask_day(self, today: date) -> None:
        self._day = None
        self.title.setText(_("Which day was it?"))
        self._hint.setText(_("For example: 3 March, or 2026-03-31."))
        self._clear()
        for index in range(_DAYS_OFFERED):
            day = today - timedelta(days=index + 2)
            self._add(weekday_day_text(day), day.isoformat(), self._take_day)

    def _take_day(self) -> None:
        self._ask_hour(date.fromisoformat(str(self.sender().property("stands_for"))))

    # --- the time ---------------------------------------------------------------------------------

    def _ask_hour(self, day: date) -> None:
        self._day = day
        self.title.setText(_("{day}: about what time?").format(day=weekday_day_text(day)))
        hint = _("For example: 7.30, 7:30 pm or 0730.")
        if day != self.desk.today():
            hint = f"{_('Hours after midnight come last.')} {hint}"
        self._hint.setText(hint)
        self._clear()
        is_today = day == self.desk.today()
        for at in self._hours_of(day):
            button = self._add(clock_text(at), at.isoformat(), self._take_hour)
            if not is_today:
                button.setAccessibleName(clock_on_day_text(self._wall(at), self._day_starts_at))

    @property
    def _day_starts_at(self) -> time:
        return self.desk.book.settings.day_starts_at

    def _hours_of(self, day: date) -> list[time]:
        """The hours of the person's day that were already; today with the night just over."""
        now, starts_at = self.desk.now().wall, self._day_starts_at
        hours = [time(hour) for hour in range(24)]
        is_today = day == self.desk.today()
        hours.sort(key=self._wall if is_today else lambda at: wall_on(day, at, starts_at))
        return [at for at in hours if self._wall(at) <= now]

    def _wall(self, at: time) -> datetime:
        assert self._day is not None
        return wall_told(self._day, at, self._day_starts_at, self.desk.now().wall)

    def _take_hour(self) -> None:
        self._settle_time(time.fromisoformat(str(self.sender().property("stands_for"))))

    def _settle_time(self, at: time) -> None:
        wall, zone = self._wall(at), self.desk.zone()
        first = Moment.from_wall(wall, zone)
        second = Moment.from_wall(wall, zone, second_time=True)
        now = self.desk.now().instant
        if first.instant > now:
            self._refuse(problem_text(BadMoment(clock_text(at), why="in_future")))
        elif first.instant < second.instant <= now:
            self._ask_which_of_two(wall)
        else:
            self.moment_chosen.emit(first)

    def _ask_which_of_two(self, wall: datetime) -> None:
        self._earliest_twice = wall
        self.title.setText(
            _("The clocks went back: it was {time} twice. Which one?").format(time=clock_text(wall))
        )
        self._clear()
        self._add(_("The first time"), "first", self._take_one_of_two)
        self._add(_("The second time, an hour later"), "second", self._take_one_of_two)

    def _take_one_of_two(self) -> None:
        if self._earliest_twice is not None:
            is_second = self.sender().property("stands_for") == "second"
            self.moment_chosen.emit(
                Moment.from_wall(
                    self._earliest_twice, self.desk.zone(), second_time=bool(is_second)
                )
            )

    # --- typing -----------------------------------------------------------------------------------

    def _take_typed(self) -> None:
        text = self.typed_text.text()
        try:
            if self._day is None:
                self._take_typed_day(text)
            else:
                self._take_times(parse_clock(text))
        except BadMoment as error:
            self._refuse(problem_text(error))

    def _take_typed_day(self, text: str) -> None:
        today = self.desk.today()
        day = read_day(text, today, Toward.PAST)
        if day > today:
            raise BadMoment(text, why="in_future")
        self._ask_hour(day)

    def _take_times(self, times: tuple[time, ...]) -> None:
        if len(times) == 1:
            self._settle_time(times[0])
            return
        self.title.setText(_("Morning or afternoon?"))
        self._clear(keeps_text=True)
        for at in times:
            self._add(clock_text(at), at.isoformat(), self._take_hour)

    def _refuse(self, text: str) -> None:
        self.typed_text.show_problem(text)
        self.desk.say(text)

    # --- the buttons ------------------------------------------------------------------------------

    def _clear(self, *, keeps_text: bool = False) -> None:
        for button in self._buttons:
            self._grid.removeWidget(button)
            button.hide()
            button.deleteLater()
        self._buttons = []
        if not keeps_text:
            self.typed_text.clear()
        self.typed_text.show_problem("")

    def _add(self, text: str, stands_for: str, slot: object) -> BigButton:
        button = BigButton(self.desk.look, text, ButtonKind.TILE)
        button.setProperty("stands_for", stands_for)
        button.describe(self.title.text())
        button.clicked.connect(slot)
        self._grid.addWidget(button)
        follow(self._buttons[-1] if self._buttons else self._panel, [button])
        self._buttons.append(button)
        return button
