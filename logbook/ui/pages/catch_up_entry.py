"""The line that is typed in catching up: the day, the time, the number, what it was for.

Enter goes on: from the time to the number, and from the number to the next row. The day goes back
by itself when a time is later than that of the row above.
"""

from __future__ import annotations

from datetime import date, datetime, time, timedelta
from itertools import chain

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from logbook.domain.catch_up import Row
from logbook.domain.errors import BadMoment, LogbookError
from logbook.domain.glucose import Glucose, Unit
from logbook.domain.sheet_column import COLUMNS
from logbook.domain.slots import Slot
from logbook.ui.clock_input import parse_clock
from logbook.ui.pages.catch_up_fields import LineField, moment_problem
from logbook.ui.parts.big_button import BigButton, ButtonKind
from logbook.ui.parts.columns import Columns
from logbook.ui.parts.form_rows import Choice
from logbook.ui.parts.sentence import Sentence
from logbook.ui.theme import GAP, Look
from logbook.wording import _
from logbook.wording.dates import clock_text, day_text, weekday_day_text
from logbook.wording.numbers import unit_text
from logbook.wording.problems import problem_text
from logbook.wording.terms import slot_text
from logbook.wording.typed_days import Toward, read_day

_DASHES = ("-", "–", "—")


class EntryLine(QWidget):
    """Emits `finished` when Enter was pressed in the number, or *Add this row*.

    It emits `moved` when what is typed in may be out of sight.
    """

    finished = Signal()
    moved = Signal()
    edited = Signal()
    slot_told = Signal()
    slot_chosen = Signal(object)

    def __init__(self, look: Look, unit: Unit, today: date) -> None:
        super().__init__()
        self._unit, self._today = unit, today
        self._is_day_told = self._is_slot_told = False
        self._is_by_column = self._is_clock_told = False
        self._there = ""
        self.slot: Slot | None = None
        self.day = LineField(look, _("Day"))
        self.time = LineField(look, _("Time it shows"))
        self.number = LineField(look, _("Number"), unit=unit_text(unit))
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GAP)
        fields = Columns(look, most=3, least_width=9)
        for field in (self.day, self.time, self.number):
            inside = field.row.layout()
            assert isinstance(inside, QVBoxLayout)
            inside.addStretch(1)  # what is wrong with one moves none of the others
            fields.add(field.row)
        column.addWidget(fields)
        self.heard = Sentence(look)
        column.addWidget(self.heard)
        buttons = Columns(look, most=6, least_width=6.5)
        self.add = self._button(look, buttons, _("Add this row"), self.finished.emit)
        self.earlier = self._button(look, buttons, _("1 day earlier"), self._go_earlier)
        self.later = self._button(look, buttons, _("1 day later"), self._go_later)
        self.lo = self._button(look, buttons, _("Meter shows LO"), self._show_lo)
        self.hi = self._button(look, buttons, _("Meter shows HI"), self._show_hi)
        self.what_for = self._button(look, buttons, _("What for?"), self._open_slots)
        column.addWidget(buttons)
        self.slots = Choice(
            look,
            _("What was it for?"),
            [(slot, slot_text(slot)) for slot in Slot],
            columns=4,
            kind=ButtonKind.CHIP,
        )
        self.slots.chosen.connect(self._take_slot)
        self.slots.hide()
        column.addWidget(self.slots)
        self.time.returnPressed.connect(self._go_to_number)
        self.number.returnPressed.connect(self.finished)
        self.day.returnPressed.connect(self._go_to_time)
        self.day.textEdited.connect(self._day_edited)
        self.time.textEdited.connect(self._clock_edited)
        for field in (self.day, self.time, self.number):
            field.textChanged.connect(self._hear)
            field.textEdited.connect(self.moved)

    def _button(self, look: Look, where: Columns, text: str, slot: object) -> BigButton:
        button = BigButton(look, text, ButtonKind.CHIP)
        button.clicked.connect(slot)
        where.add(button)
        return button

    # --- filling ---------------------------------------------------------------------------------

    def begin(self, day: date, clock: time | None, column: Slot | None = None) -> None:
        """Begin a row: its day and, where one is usual, its time stand there to be typed over.

        In a `column` of a sheet the day and what it was for are known, and the time is about right.
        """
        self._is_by_column = self._is_day_told = self._is_slot_told = column is not None
        self._is_clock_told = False
        self._there = ""
        self.slot = column or self.slot
        self._name_slots()
        self.slots.hide()
        self.number.clear()
        self.time.setText("" if clock is None else clock_text(clock))
        self.show_day(day)
        self._say_problems("", "", "")

    def fill(self, row: Row) -> None:
        """Take a row up again to change it."""
        self.begin(row.shown.date(), row.shown.time(), row.slot if row.is_about else None)
        self._is_day_told = self._is_slot_told = True
        self.number.setText(row.glucose.text)
        self.slot = row.slot
        self._hear()

    def _name_slots(self) -> None:
        is_column = self._is_by_column
        self.slots.label.setText(_("Which column?") if is_column else _("What was it for?"))
        self.what_for.setText(_("Another column") if is_column else _("What for?"))
        for slot, button in self.slots.buttons.items():
            button.setVisible(not is_column or slot in COLUMNS)

    def ask_column(self) -> None:
        """Let the person say which column of the sheet they copy."""
        self._is_by_column = True
        self._name_slots()
        self.slots.choose(None)
        self.slots.show()
        self.slots.buttons[Slot.FASTING].setFocus()
        self.moved.emit()
        self.slot_told.emit()

    def show_there(self, text: str) -> None:
        """Show what the log has for this row."""
        self._there = text
        self._say_heard()

    @property
    def is_about(self) -> bool:
        """Whether the time was taken from what is usual and not typed."""
        return self._is_by_column and not self._is_clock_told

    def show_clock(self, clock: time) -> None:
        """Show the time that is usual on the day that is typed."""
        if self.time.text() != clock_text(clock):
            self.time.setText(clock_text(clock))

    def show_day(self, day: date) -> None:
        """Show a day that follows from the time."""
        self.day.setText(day_text(day))

    @property
    def is_day_told(self) -> bool:
        """Whether the person chose the day."""
        return self._is_day_told

    def take_time(self) -> None:
        """Put the keyboard where a row begins."""
        self._take(self.time)
        self.time.selectAll()

    # --- what is typed ---------------------------------------------------------------------------

    def take_number(self) -> None:
        """Put the keyboard where the number is typed."""
        self._take(self.number)
        self.number.selectAll()

    def take_day(self) -> None:
        """Put the keyboard where the day is typed."""
        self._take(self.day)
        self.day.selectAll()

    def _take(self, field: LineField) -> None:
        field.setFocus()
        self.moved.emit()

    def parts_in_turn(self) -> list[QWidget]:
        """What is to be in sight, the most wanted last: the columns to choose, else the number."""
        if self.slots.isVisibleTo(self):
            return [self.slots.buttons[COLUMNS[-1]], self.slots.label]
        fields = (self.day, self.time, self.number)
        typed_in = [(field.row, field) for field in fields if field.hasFocus()]
        return [self.heard, self.number.row, *chain.from_iterable(typed_in)]

    @property
    def is_blank_box(self) -> bool:
        """Whether a dash stands for a box of the sheet without a number."""
        return self._is_by_column and self.number.text().strip() in _DASHES

    @property
    def is_empty(self) -> bool:
        """Whether no number is typed."""
        return not self.number.text().strip()

    def typed_day(self) -> date:
        """The day. Raises `BadMoment`."""
        return read_day(self.day.text(), self._today, Toward.PAST)

    def typed_time(self) -> time:
        """The time. Raises `BadMoment`, for a time with two meanings too."""
        found = parse_clock(self.time.text())
        if len(found) > 1:
            raise BadMoment(self.time.text(), why="time_ambiguous", meanings=found)
        return found[0]

    def typed_number(self) -> Glucose:
        """The number, LO or HI. Raises the errors of `Glucose.parse`."""
        text = self.number.text().strip()
        if text.casefold() in ("lo", "l"):
            return Glucose.reads_low(self._unit)
        if text.casefold() in ("hi", "h"):
            return Glucose.reads_high(self._unit)
        return Glucose.parse(text, self._unit)

    def read(self) -> tuple[datetime, Glucose] | None:
        """What is typed; None after what is wrong was said beside its field."""
        problems = ["", "", ""]
        found: list[object] = []
        reads = (self.typed_day, self.typed_time, self.typed_number)
        for place, read in enumerate(reads):
            try:
                found.append(read())
            except BadMoment as error:
                problems[place] = moment_problem(error, self._today)
            except LogbookError as error:
                problems[place] = problem_text(error)
        if self.is_empty:
            problems[2] = _("There is no number yet. Type what the meter shows.")
        self._say_problems(*problems)
        if any(problems):
            wrong = next(place for place, text in enumerate(problems) if text)
            self._take((self.day, self.time, self.number)[wrong])
            return None
        day, clock, glucose = found
        assert isinstance(day, date)
        assert isinstance(clock, time)
        assert isinstance(glucose, Glucose)
        return datetime.combine(day, clock), glucose

    def _say_problems(self, day: str, clock: str, number: str) -> None:
        self.day.show_problem(day)
        self.time.show_problem(clock)
        self.number.show_problem(number)

    # --- while it is typed -----------------------------------------------------------------------

    def show_slot(self, slot: Slot) -> None:
        """Show what the time tells of it, as long as the person said nothing else."""
        if not self._is_slot_told:
            self.slot = slot
            self._say_heard()

    def _hear(self) -> None:
        self.edited.emit()
        self._say_heard()

    def _say_heard(self) -> None:
        try:
            day, clock = self.typed_day(), self.typed_time()
        except BadMoment:
            self.heard.setText(_("Type the time and the number. Enter goes on."))
            return
        sentence = (
            _("{day}, about {time}. {slot}.") if self.is_about else _("{day}, {time}. {slot}.")
        )
        heard = sentence.format(
            day=weekday_day_text(day, with_year=day.year != self._today.year),
            time=clock_text(clock),
            slot=slot_text(self.slot or Slot.OTHER),
        )
        self.heard.setText(f"{heard} {self._there}".rstrip())

    def _go_to_time(self) -> None:
        if self.is_about:
            self.take_number()
        else:
            self.take_time()

    def _go_to_number(self) -> None:
        self.take_number()

    def _day_edited(self) -> None:
        self._is_day_told = True

    def _clock_edited(self) -> None:
        self._is_clock_told = True

    def _go_earlier(self) -> None:
        self._step(-1)

    def _go_later(self) -> None:
        self._step(1)

    def _step(self, days: int) -> None:
        try:
            day = self.typed_day()
        except BadMoment:
            day = self._today
        self._is_day_told = True
        self.show_day(min(day + timedelta(days=days), self._today))

    def _show_lo(self) -> None:
        self.number.setText("LO")
        self._take(self.number)

    def _show_hi(self) -> None:
        self.number.setText("HI")
        self._take(self.number)

    def _open_slots(self) -> None:
        self.slots.choose(self.slot)
        self.slots.setVisible(not self.slots.isVisible())
        self.slot_told.emit()

    def _take_slot(self, slot: Slot) -> None:
        self.slot, self._is_slot_told = slot, True
        self.slots.hide()
        self._say_heard()
        self._take(self.number)
        self.slot_told.emit()
        self.slot_chosen.emit(slot)
