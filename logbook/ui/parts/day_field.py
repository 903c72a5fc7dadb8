"""A day and a time as rows of a form: typed freely, moved by big buttons, told back in words."""

from __future__ import annotations

from datetime import date, time, timedelta

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from logbook.domain.errors import BadMoment
from logbook.ui.clock_input import parse_clock
from logbook.ui.parts.big_button import BigButton, ButtonKind
from logbook.ui.parts.columns import Columns
from logbook.ui.parts.form_rows import TextField
from logbook.ui.parts.paragraph import Paragraph
from logbook.ui.theme import Look
from logbook.wording import _, mark
from logbook.wording.dates import clock_text, day_text, relative_day_text, weekday_day_text
from logbook.wording.typed_days import Toward, read_day

_STEPS = (
    (-28, mark("4 weeks earlier")),
    (-7, mark("1 week earlier")),
    (-1, mark("1 day earlier")),
    (1, mark("1 day later")),
    (7, mark("1 week later")),
    (28, mark("4 weeks later")),
)


class DayField(QWidget):
    """A row for one day. `today` is the person's present day; `toward` is where a bare "25 Nov" is.

    With `is_optional`, nothing typed is no day; else it is a problem.
    """

    edited = Signal()

    def __init__(
        self,
        look: Look,
        label: str,
        today: date,
        *,
        value: date | None = None,
        toward: Toward = Toward.FUTURE,
        help_text: str = "",
        is_optional: bool = False,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._today, self._toward, self._is_optional = today, toward, is_optional
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        example = day_text(date(today.year, 11, 25))
        self.field = TextField(
            look, label, help_text=help_text or _("For example {day}.").format(day=example)
        )
        column.addWidget(self.field.row)
        self._heard = Paragraph(look)
        self._heard.setContentsMargins(4, 0, 0, 0)
        column.addWidget(self._heard)
        steps = Columns(look, most=6, least_width=6.5)
        for days, text in _STEPS:
            button = BigButton(look, _(text), ButtonKind.CHIP)
            button.describe(label)
            button.setProperty("days", days)
            button.clicked.connect(self._step)
            steps.add(button)
        column.addWidget(steps)
        self.show_day(value)
        self.field.textChanged.connect(self._tell)

    @property
    def row(self) -> QWidget:
        """The whole row, as other fields have one."""
        return self

    def show_day(self, day: date | None) -> None:
        """Put a day into the field."""
        self.field.setText("" if day is None else day_text(day))
        self._tell()

    def day(self) -> date | None:
        """The day that is typed; None for nothing. Raises `BadMoment`."""
        text = self.field.text()
        return read_day(text, self._today, self._toward) if text.strip() else None

    def problem(self) -> str:
        """What is wrong and how to mend it; empty when the day can be taken."""
        try:
            day = self.day()
        except BadMoment as error:
            if error.facts.get("why") == "date_impossible":
                return _(
                    "There is no day “{text}”. Look at the day and the month once more."
                ).format(text=error.subject)
            return _("“{text}” is not a day. Write it like {day}.").format(
                text=error.subject, day=day_text(date(self._today.year, 11, 25))
            )
        if day is None and not self._is_optional:
            return _("The day is missing. Write it like {day}.").format(
                day=day_text(date(self._today.year, 11, 25))
            )
        return ""

    def show_problem(self, text: str) -> None:
        """What is wrong, beside the field."""
        self.field.show_problem(text)

    def setFocus(self, reason: Qt.FocusReason = Qt.FocusReason.OtherFocusReason) -> None:
        self.field.setFocus(reason)

    def _tell(self) -> None:
        """Say what was understood; nothing is said against it while it is being typed."""
        try:
            day = self.day()
        except BadMoment:
            day = None
        if day is None:
            self._heard.say("")
        else:
            self._heard.say(
                _("{weekday_and_day}, {distance}").format(
                    weekday_and_day=weekday_day_text(day, with_year=True),
                    distance=relative_day_text(day, self._today),
                )
                if abs((day - self._today).days) <= 30
                else weekday_day_text(day, with_year=True)
            )
        self.edited.emit()

    def _step(self) -> None:
        try:
            day = self.day() or self._today
        except BadMoment:
            day = self._today
        self.show_day(day + timedelta(days=int(self.sender().property("days"))))


def days_problems(first: DayField, last: DayField) -> list[tuple[DayField, str]]:
    """What is wrong with a first and a last day, and beside which field; empty for nothing."""
    problems = [(field, text) for field in (first, last) if (text := field.problem())]
    if problems:
        return problems
    begin, end = first.day(), last.day()
    if begin is not None and end is not None and end < begin:
        return [(last, _("The last day lies before the first day. Change one of them."))]
    return []


class TimeField(TextField):
    """A row for one time of day; nothing typed is no time."""

    def __init__(self, look: Look, label: str, value: time | None = None) -> None:
        example = clock_text(time(14, 30))
        super().__init__(look, label, help_text=_("For example {time}.").format(time=example))
        self._heard = Paragraph(look)
        layout = self.row.layout()
        assert layout is not None
        layout.addWidget(self._heard)
        self.setText("" if value is None else clock_text(value))
        self._tell()
        self.textChanged.connect(self._tell)

    def time(self) -> time | None:
        """The time that is typed; None for nothing. Raises `BadMoment`, for two meanings too."""
        text = self.text().strip()
        if not text:
            return None
        meanings = parse_clock(text)
        if len(meanings) > 1:
            raise BadMoment(text, why="time_ambiguous", meanings=meanings)
        return meanings[0]

    def problem(self) -> str:
        """What is wrong and how to mend it; empty when the time can be taken."""
        try:
            self.time()
        except BadMoment as error:
            meanings = error.facts.get("meanings")
            if isinstance(meanings, tuple):
                return _("Is it morning or afternoon? Write {first} or {second}.").format(
                    first=clock_text(meanings[0]), second=clock_text(meanings[1])
                )
            return _("“{text}” is not a time. Write it like {time}.").format(
                text=error.subject.strip(), time=clock_text(time(14, 30))
            )
        return ""

    def _tell(self) -> None:
        try:
            heard = self.time()
        except BadMoment:
            heard = None
        text = "" if heard is None else clock_text(heard)
        self._heard.say("" if text == self.text().strip() else text)
