"""Views of *Kit*: the meters, each with its name, its limits, and whose it is."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from uuid import UUID, uuid4

from logbook.book import Changed
from logbook.domain.errors import LogbookError
from logbook.domain.glucose import Glucose, Unit
from logbook.domain.kit.comparison import compared
from logbook.domain.kit.meters import Meter
from logbook.ui.pages.kit_strips import kit_of
from logbook.ui.parts.big_button import BigButton
from logbook.ui.parts.columns import Columns
from logbook.ui.parts.edited_view import EditedView
from logbook.ui.parts.form_rows import Choice, TextField
from logbook.ui.parts.paragraph import Form, Paragraph
from logbook.ui.parts.subject_button import SubjectButton
from logbook.ui.parts.view_page import View, ViewPage
from logbook.wording import _
from logbook.wording.dates import day_text
from logbook.wording.kit_control import comparison_text
from logbook.wording.numbers import steps_text, unit_text
from logbook.wording.problems import problem_text


class MetersView(View):
    """All meters; each leads to its own view."""

    back = "home"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        self.column.addWidget(
            Paragraph(
                self.look,
                _("Each of your meters has its own strips. A clinic's or helper's is kept apart."),
            )
        )
        self._buttons = Columns(self.look, most=2, least_width=16)
        self.column.addWidget(self._buttons)
        self.column.addStretch(1)

    def title(self) -> str:
        return _("Which meters do you have?")

    def main_text(self) -> str:
        return _("Add a meter")

    def refresh(self, changed: Changed | None) -> None:
        """Read the Book and show it."""
        self._buttons.clear()
        today = self.desk.today()
        for meter in self.desk.book.meters():
            button = SubjectButton(self.look, meter.name, _state(meter))
            if not meter.is_in_use(today) and meter.in_use_until is not None:
                day = day_text(meter.in_use_until)
                button.say(_("Not used any more, last on {day}").format(day=day))
            button.setProperty("meter", str(meter.id))
            button.clicked.connect(self._open)
            self._buttons.add(button)

    def _open(self) -> None:
        kit_of(self.page).chosen_id = UUID(str(self.sender().property("meter")))
        self.page.turn_to("one_meter")

    def do_main(self) -> None:
        kit_of(self.page).chosen_id = None
        self.page.turn_to("one_meter")


def _state(meter: Meter) -> str:
    if not meter.is_own:
        return _("A clinic's or helper's, in no figure")
    return _("{unit}, from {lowest} to {highest}").format(
        unit=unit_text(meter.unit),
        lowest=steps_text(meter.lowest, meter.unit, with_unit=False),
        highest=steps_text(meter.highest, meter.unit, with_unit=False),
    )


class MeterView(EditedView):
    """One meter, or a new one. The unit is asked only for a new one: readings keep theirs."""

    back = "meters"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        book, today = self.desk.book, self.desk.today()
        wanted = kit_of(page).chosen_id
        self._known = next((one for one in book.meters() if one.id == wanted), None)
        meter = self._known or Meter.usual(uuid4(), "", book.settings.unit, today)
        self._meter = meter
        rows = Form(self.look)
        self.meter_name: TextField = rows.add_text(
            _("What do you call it?"), meter.name, help_text=_("For example bedside or handbag.")
        )
        self.whose: Choice = rows.add_choice(
            _("Whose meter is it?"),
            [(True, _("Mine")), (False, _("A clinic's or a helper's"))],
            meter.is_own,
        )
        self.unit: Choice | None = None
        if self._known is None:
            self.unit = rows.add_choice(
                _("It shows"), [(unit, unit_text(unit)) for unit in Unit], meter.unit
            )
            self.unit.chosen.connect(self._take_unit)
        unit_words = "" if self._known is None else unit_text(meter.unit)
        self.lowest: TextField = rows.add_text(
            _("Lowest number it can show"),
            steps_text(meter.lowest, meter.unit, with_unit=False),
            help_text=_("Below it shows LO. It stands in its booklet."),
            unit=unit_words,
        )
        self.highest: TextField = rows.add_text(
            _("Highest number it can show"),
            steps_text(meter.highest, meter.unit, with_unit=False),
            help_text=_("Above it shows HI."),
            unit=unit_words,
        )
        self.used: Choice | None = None
        if self._known is not None:
            self.used = rows.add_choice(
                _("Do you still use it?"),
                [(True, _("Yes")), (False, _("No longer"))],
                meter.is_in_use(today),
            )
            self._add_laboratory(rows, meter)
        for choice in (self.whose, self.unit, self.used):
            if choice is not None:
                choice.chosen.connect(self._edit)
        for field in (self.meter_name, self.lowest, self.highest):
            field.textEdited.connect(self._edit)
        self.column.addWidget(rows)
        self.column.addStretch(1)

    def _add_laboratory(self, rows: Form, meter: Meter) -> None:
        if not meter.is_own:
            return
        pairs = [
            one
            for one in self.desk.book.kit().lab_comparisons
            if one.counts and one.meter_id == meter.id
        ]
        for pair in pairs[-3:]:
            rows.add_words(
                _("{day}: {text}").format(
                    day=day_text(pair.at.day(self.desk.book.settings.day_starts_at)),
                    text=comparison_text(compared(pair), pair.laboratory.unit),
                )
            )
        button = BigButton(self.look, _("Compare with the laboratory"))
        button.describe(meter.name)
        button.clicked.connect(self._compare)
        place = Columns(self.look, most=2, least_width=16)
        place.add(button)
        rows.add_widget(place)

    def title(self) -> str:
        if self._known is None:
            return _("Which meter do you add?")
        return _("The meter {name}").format(name=self._known.name)

    def main_text(self) -> str:
        return _("Keep this meter")

    def first_field(self) -> TextField:
        return self.meter_name

    def _take_unit(self, unit: Unit) -> None:
        """The limits most meters have in that unit."""
        usual = Meter.usual(self._meter.id, "", unit, self._meter.in_use_from)
        self.lowest.setText(steps_text(usual.lowest, unit, with_unit=False))
        self.highest.setText(steps_text(usual.highest, unit, with_unit=False))

    def _compare(self) -> None:
        kit_of(self.page).meter_id = self._meter.id
        self.page.turn_to("compare")

    def do_main(self) -> None:
        desk = self.desk
        unit = self._meter.unit if self.unit is None else self.unit.value or self._meter.unit
        problems: list[tuple[TextField, str]] = []
        if not self.meter_name.text().strip():
            problems.append((self.meter_name, _("Write what you call this meter.")))
        lowest = self._steps(self.lowest, unit, problems)
        highest = self._steps(self.highest, unit, problems)
        if lowest is not None and highest is not None and lowest >= highest:
            problems.append((self.highest, _("The highest must lie above the lowest.")))
        fields = (self.meter_name, self.lowest, self.highest)
        if not self.show_problems(fields, problems) or lowest is None or highest is None:
            return
        meter = replace(
            self._meter,
            name=self.meter_name.text().strip(),
            unit=unit,
            lowest=lowest,
            highest=highest,
            is_own=bool(self.whose.value),
        )
        if self.used is not None:
            meter = self._with_use(meter, is_used=bool(self.used.value))
        if desk.write(desk.book.keep, meter) is not None:
            self._is_edited = False
            self.page.turn_to("meters", message=_("The meter is written down."))

    def _with_use(self, meter: Meter, *, is_used: bool) -> Meter:
        """In use, or not any more from today on; an earlier last day stays."""
        today = self.desk.today()
        if is_used:
            return replace(meter, in_use_until=None)
        if meter.in_use_until is not None and meter.in_use_until < today:
            return meter
        return replace(meter, in_use_until=max(meter.in_use_from, today - timedelta(days=1)))

    def _steps(
        self, field: TextField, unit: Unit, problems: list[tuple[TextField, str]]
    ) -> int | None:
        try:
            return Glucose.parse(field.text(), unit).steps
        except LogbookError as error:
            problems.append((field, problem_text(error)))
            return None
