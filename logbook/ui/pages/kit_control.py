"""Views of *Kit*: a control test, never a reading; and a new bottle of control solution."""

from __future__ import annotations

from dataclasses import replace
from uuid import uuid4

from logbook.domain.errors import BadMoment, LogbookError
from logbook.domain.glucose import Glucose
from logbook.domain.kit.control import ControlBottle, ControlTest
from logbook.domain.kit.control_due import standing_of
from logbook.domain.kit.control_results import (
    doubts_of,
    range_of,
    result_of,
    vial_tested,
    with_range,
)
from logbook.domain.kit.dates import AfterOpening
from logbook.domain.kit.strips import ControlRange, Vial
from logbook.domain.kit.vial_life import vial_in_use
from logbook.ui.pages.kit_strips import kit_of, read_printed
from logbook.ui.parts.form_rows import Choice, TextField
from logbook.ui.parts.paragraph import Form
from logbook.ui.parts.view_page import View, ViewPage
from logbook.wording import _
from logbook.wording.kit_control import (
    control_how,
    control_test_text,
    never_a_reading,
    next_step_text,
)
from logbook.wording.kit_terms import control_doubt_text, control_result_text
from logbook.wording.numbers import unit_text
from logbook.wording.problems import problem_text
from logbook.wording.temperatures import read_temperature, temperature_unit


class ControlTestView(View):
    """Which bottle, and what the meter showed. The range printed on the pot is asked once a lot."""

    back = "home"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        kit, unit = self.desk.book.kit(), self.desk.book.settings.unit
        self._vial: Vial | None = vial_in_use(kit_of(page).meter_id, kit)
        self._bottles = {bottle.id: bottle for bottle in kit.bottles if bottle.ended_on is None}
        rows = Form(self.look)
        # The number comes first: in large text it is all that is in sight.
        self.value: TextField = rows.add_text(_("What the meter shows"), unit=unit_text(unit))
        self.bottle: Choice = rows.add_choice(
            _("Which bottle?"),
            [
                (bottle.id, _("Level {level}").format(level=bottle.level))
                for bottle in self._bottles.values()
            ],
            next(iter(self._bottles), None),
            columns=3,
        )
        self.lowest: TextField = rows.add_text(
            _("Lowest of the range"),
            unit=unit_text(unit),
            help_text=_("It is printed on the strip pot, for this level. Asked once for a pot."),
        )
        self.highest: TextField = rows.add_text(_("Highest of the range"), unit=unit_text(unit))
        rows.add_words(control_how())
        self.warmth: TextField = rows.add_text(
            _("Room temperature"),
            unit=temperature_unit(self.desk.book.settings.country),
            help_text=_("It can be left out. Tests are made at 20 to 25 °C (68 to 77 °F)."),
        )
        rows.add_words(never_a_reading())
        self.bottle.chosen.connect(self._show_range)
        self.column.addWidget(rows)
        self.column.addStretch(1)
        self._show_range()

    def title(self) -> str:
        return _("What does the meter show for the control solution?")

    def main_text(self) -> str:
        return _("Keep the test") if self._bottles else _("First a bottle")

    def first_field(self) -> TextField:
        return self.value

    @property
    def is_changed(self) -> bool:
        return bool(self.value.text().strip())

    def _known(self) -> ControlRange | None:
        bottle = self._bottles.get(self.bottle.value)
        if bottle is None or self._vial is None:
            return None
        return range_of(self._vial, bottle.level, self.desk.book.settings.unit)

    def _show_range(self) -> None:
        is_asked = self._vial is not None and self._known() is None
        self.lowest.row.setVisible(is_asked)
        self.highest.row.setVisible(is_asked)

    def _read(self, field: TextField, problems: list[tuple[TextField, str]]) -> Glucose | None:
        text = field.text().strip()
        if not text:
            return None
        try:
            return Glucose.parse(text, self.desk.book.settings.unit)
        except LogbookError as error:
            problems.append((field, problem_text(error)))
            return None

    def do_main(self) -> None:
        desk = self.desk
        bottle = self._bottles.get(self.bottle.value)
        if bottle is None:
            self.page.turn_to("bottle")
            return
        problems: list[tuple[TextField, str]] = []
        value = self._read(self.value, problems)
        lowest, highest = self._read(self.lowest, problems), self._read(self.highest, problems)
        if value is None and not problems:
            problems.append((self.value, _("Write the number that the meter shows.")))
        if lowest is not None and highest is not None and lowest.order_steps > highest.order_steps:
            problems.append((self.highest, _("The highest is below the lowest. Look once more.")))
        warmth = None
        if self.warmth.text().strip():
            warmth = read_temperature(self.warmth.text(), desk.book.settings.country)
            if warmth is None:
                problems.append((self.warmth, _("Write the temperature as a number, or nothing.")))
        fields = (self.value, self.lowest, self.highest, self.warmth)
        if not self.show_problems(fields, problems) or value is None:
            return
        now = desk.now()
        test = ControlTest(
            uuid4(),
            now,
            now.instant,
            kit_of(self.page).meter_id,
            None if self._vial is None else self._vial.id,
            bottle.id,
            bottle.level,
            value,
            warmth,
        )
        records: list[ControlTest | Vial] = [test]
        if self._vial is not None and lowest is not None and highest is not None:
            known = ControlRange(bottle.level, value.unit, lowest.order_steps, highest.order_steps)
            records.append(with_range(self._vial, known))
        if desk.write(desk.book.keep, *records) is None:
            return
        for field in fields:
            field.clear()
        self.page.turn_to("home", message=self._told(test))

    def _told(self, test: ControlTest) -> str:
        """What the test showed, what speaks against it, and what follows."""
        book = self.desk.book
        kit, settings = book.kit(), book.settings
        known = range_of(vial_tested(test, kit), test.level, test.glucose.unit)
        told = [control_test_text(test, known)]
        told += [control_result_text(result_of(test, kit)) + "."] if known is not None else []
        told += [control_doubt_text(doubt) + "." for doubt in doubts_of(test, kit, settings)]
        told.append(next_step_text(standing_of(test.meter_id, kit, settings)))
        return " ".join(filter(None, told))


class BottleView(View):
    """A bottle that is opened now; the one of the same level before it ends."""

    back = "home"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        rows = Form(self.look)
        self.level: TextField = rows.add_text(
            _("Level"), help_text=_("As on the bottle, for example 1, normal or high.")
        )
        self.printed: TextField = rows.add_text(
            _("Printed date"), help_text=_("As on the bottle, for example 03/2027.")
        )
        self.after: Choice = rows.add_choice(
            _("How long after opening?"),
            [
                ("90d", _("90 days")),
                ("3m", _("3 months")),
                ("1m", _("1 month")),
                ("", _("Until the printed date")),
            ],
            "90d",
            columns=4,
        )
        self.column.addWidget(rows)
        self.column.addStretch(1)

    def title(self) -> str:
        return _("Which bottle do you open?")

    def main_text(self) -> str:
        return _("It is open")

    @property
    def is_changed(self) -> bool:
        return bool(self.level.text().strip() or self.printed.text().strip())

    def do_main(self) -> None:
        desk = self.desk
        problems: list[tuple[TextField, str]] = []
        level = self.level.text().strip()
        if not level:
            problems.append((self.level, _("Write the level that stands on the bottle.")))
        expires = None
        try:
            expires = read_printed(desk, self.printed)
        except BadMoment as error:
            problems.append((self.printed, problem_text(error)))
        if not self.show_problems((self.level, self.printed), problems):
            return
        after = str(self.after.value or "")
        bottle = ControlBottle(
            uuid4(),
            level,
            desk.now().instant,
            expires=expires,
            after_opening=AfterOpening.from_code(after) if after else None,
            opened_on=desk.today(),
        )
        if desk.write(desk.book.keep, bottle, *self._ended(level)) is not None:
            self.level.clear()
            self.printed.clear()
            self.page.turn_to("home", message=_("The bottle is written down."))

    def _ended(self, level: str) -> list[ControlBottle]:
        return [
            replace(bottle, ended_on=self.desk.today())
            for bottle in self.desk.book.kit().bottles
            if bottle.ended_on is None and bottle.level == level
        ]
