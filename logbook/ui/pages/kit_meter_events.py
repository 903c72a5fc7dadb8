"""Views of *Kit*: what happened to a meter, its clock, and a comparison with the laboratory."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from uuid import uuid4

from logbook.domain.errors import LogbookError
from logbook.domain.glucose import Glucose
from logbook.domain.kit.comparison import compared
from logbook.domain.kit.control_due import is_not_for_decisions
from logbook.domain.kit.meter_care import LabComparison, MeterEvent, MeterWhat
from logbook.domain.kit.meters import Meter, own_meters
from logbook.ui.pages.kit_strips import kit_of, whole_number
from logbook.ui.parts.form_rows import Choice, TextField
from logbook.ui.parts.paragraph import Form
from logbook.ui.parts.view_page import View, ViewPage
from logbook.wording import _
from logbook.wording.kit_control import clock_ahead_text, comparison_how, comparison_text
from logbook.wording.kit_terms import meter_what_text
from logbook.wording.numbers import unit_text
from logbook.wording.problems import problem_text

_MOST_MINUTES = 24 * 60
_WHATS = (
    MeterWhat.DROPPED,
    MeterWhat.DAMAGED,
    MeterWhat.BATTERY_CHANGED,
    MeterWhat.NOT_BELIEVED,
    MeterWhat.CLEANED,
    MeterWhat.CLOCK_CHECKED,
)


class MeterEventView(View):
    """What happened, now. Minutes are asked only when the clock was looked at."""

    back = "home"

    def __init__(self, page: ViewPage, *, what: MeterWhat | None = None) -> None:
        super().__init__(page)
        rows = Form(self.look)
        self.what: Choice = rows.add_choice(
            _("What happened?"),
            [(one, meter_what_text(one)) for one in (*_WHATS, self._fitness())],
            what,
            columns=3,
        )
        self.off: Choice = rows.add_choice(
            _("Is the meter's clock right?"),
            [(0, _("It is right")), (1, _("It is ahead")), (-1, _("It is behind"))],
            0,
            columns=3,
        )
        self.minutes: TextField = rows.add_text(_("By how many minutes?"))
        self.mended: Choice = rows.add_choice(
            _("Did you set it right now?"), [(True, _("Yes")), (False, _("No"))], True
        )
        self.what.chosen.connect(self._show_clock)
        self.off.chosen.connect(self._show_clock)
        self.column.addWidget(rows)
        self.column.addStretch(1)
        self._show_clock()

    def _fitness(self) -> MeterWhat:
        """A meter out of use can be declared fit again; any other can be taken out of use."""
        meter, book = self._meter(), self.desk.book
        if meter is not None and is_not_for_decisions(meter.id, book.kit(), book.settings):
            return MeterWhat.FIT_AGAIN
        return MeterWhat.NOT_FOR_DECISIONS

    def title(self) -> str:
        meter = self._meter()
        if meter is None or not meter.name:
            return _("What happened to the meter?")
        return _("What happened to the meter {name}?").format(name=meter.name)

    def main_text(self) -> str:
        return _("Write it down")

    @property
    def is_changed(self) -> bool:
        return bool(self.minutes.text().strip())

    def _show_clock(self) -> None:
        is_clock = self.what.value is MeterWhat.CLOCK_CHECKED
        is_off = is_clock and bool(self.off.value)
        self.off.setVisible(is_clock)
        self.minutes.row.setVisible(is_off)
        self.mended.setVisible(is_off)

    def do_main(self) -> None:
        desk, what = self.desk, self.what.value
        if what is None:
            desk.say(_("Choose one of these first."))
            return
        ahead = None
        if what is MeterWhat.CLOCK_CHECKED:
            ahead = self._ahead()
            if ahead is None:
                return
        now, known = desk.now(), self._meter()
        meter = known or Meter.usual(uuid4(), _("my meter"), desk.book.settings.unit, desk.today())
        event = MeterEvent(uuid4(), meter.id, what, now, now.instant, ahead)
        records: list[MeterEvent | Meter] = [event]
        if ahead is not None:
            is_left = bool(ahead) and not self.mended.value
            meter = replace(meter, clock_ahead=timedelta(minutes=ahead if is_left else 0))
        if meter != known:
            records.append(meter)
        if desk.write(desk.book.keep, *records) is None:
            return
        self.minutes.clear()
        told = _("Written down: {what}.").format(what=meter_what_text(what))
        self.page.turn_to("home", message=told if ahead is None else clock_ahead_text(ahead))

    def _ahead(self) -> int | None:
        """Minutes that the clock is ahead; None after telling that a number is missing."""
        direction = int(self.off.value or 0)
        minutes = whole_number(self.minutes, 1, _MOST_MINUTES) if direction else 0
        problems = []
        if minutes is None:
            problems.append((self.minutes, _("Write the minutes as a number, 1 to 1,440.")))
        if not self.show_problems((self.minutes,), problems) or minutes is None:
            return None
        return direction * minutes

    def _meter(self) -> Meter | None:
        """The meter that was chosen, or the first of the person's own."""
        meters, wanted = self.desk.book.meters(), kit_of(self.page).meter_id
        own = own_meters(meters, self.desk.today())
        return next((meter for meter in meters if meter.id == wanted), own[0] if own else None)


class ComparisonView(View):
    """A fingerstick beside the laboratory's value of the same time."""

    back = "home"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        unit = unit_text(self.desk.book.settings.unit)
        rows = Form(self.look)
        for sentence in comparison_how():
            rows.add_words(sentence)
        self.glucose: TextField = rows.add_text(_("What the meter showed"), unit=unit)
        self.laboratory: TextField = rows.add_text(_("What the laboratory found"), unit=unit)
        self.minutes: TextField = rows.add_text(
            _("Minutes between the two"), help_text=_("Leave it empty when nobody knows.")
        )
        self.fasting: Choice = rows.add_choice(
            _("Was it 4 hours or more after food?"),
            [(True, _("Yes")), (False, _("No")), (None, _("Not known"))],
            None,
            columns=3,
        )
        self.column.addWidget(rows)
        self.column.addStretch(1)

    def title(self) -> str:
        return _("How does the meter compare with the laboratory?")

    def main_text(self) -> str:
        return _("Compare")

    def first_field(self) -> TextField:
        return self.glucose

    @property
    def is_changed(self) -> bool:
        return bool(self.glucose.text().strip() or self.laboratory.text().strip())

    def do_main(self) -> None:
        desk, unit = self.desk, self.desk.book.settings.unit
        problems: list[tuple[TextField, str]] = []
        values: list[Glucose] = []
        for field in (self.glucose, self.laboratory):
            try:
                values.append(Glucose.parse(field.text(), unit))
            except LogbookError as error:
                problems.append((field, problem_text(error)))
        minutes = None
        if self.minutes.text().strip():
            minutes = whole_number(self.minutes, 0, _MOST_MINUTES)
            if minutes is None:
                problems.append((self.minutes, _("Write the minutes as a number, or nothing.")))
        fields = (self.glucose, self.laboratory, self.minutes)
        if not self.show_problems(fields, problems):
            return
        now = desk.now()
        pair = LabComparison(
            uuid4(),
            kit_of(self.page).meter_id,
            now,
            now.instant,
            values[0],
            values[1],
            minutes,
            self.fasting.value,
        )
        if desk.write(desk.book.add, pair) is not None:
            for one in fields:
                one.clear()
            self.page.turn_to("home", message=comparison_text(compared(pair), unit))
