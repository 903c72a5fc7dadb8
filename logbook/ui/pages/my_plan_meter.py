"""Views of *My plan*: the meter's unit, when the person's day starts, what is called very high."""

from __future__ import annotations

from datetime import time
from typing import Any

from logbook.book import Changed
from logbook.domain.errors import LogbookError
from logbook.domain.findings.limits import IN_STEPS
from logbook.domain.glucose import Glucose, Unit
from logbook.domain.levels import VERY_HIGH_ABOVE
from logbook.ui.pages.my_plan_settings import SettingsView
from logbook.ui.parts.form_rows import TextField
from logbook.ui.parts.view_page import ViewPage
from logbook.wording import _
from logbook.wording.dates import clock_text
from logbook.wording.numbers import glucose_text, steps_text, unit_text
from logbook.wording.own_day import day_start_sentences, day_starts_text
from logbook.wording.problems import problem_text

_EXAMPLE = Glucose.number(128, Unit.MG_DL)


class UnitView(SettingsView):
    """Which unit the meter shows; changing it converts nothing that is written down."""

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        other = _EXAMPLE.shown_in(Unit.MMOL_L)
        self.rows.add_words(
            _("For the same blood, one meter shows {first}, another {second}.").format(
                first=glucose_text(_EXAMPLE), second=glucose_text(other)
            )
        )
        self.rows.add_words(_("Look beside the number on your meter's display."))
        self.add_setting(
            "unit",
            _("My meter shows"),
            [
                (
                    Unit.MG_DL,
                    _("{unit}, as in {example}").format(
                        unit=unit_text(Unit.MG_DL), example=glucose_text(_EXAMPLE)
                    ),
                ),
                (
                    Unit.MMOL_L,
                    _("{unit}, as in {example}").format(
                        unit=unit_text(Unit.MMOL_L), example=glucose_text(other)
                    ),
                ),
            ],
        )
        self.rows.add_words(
            _("A change converts nothing. Every reading keeps the unit in which you wrote it.")
        )
        self.rows.add_words(
            _("Targets count for readings in their own unit. After a change, write them down anew.")
        )
        choice = self.choices["unit"]
        choice.chosen.disconnect(self._take)
        choice.chosen.connect(self._change)

    def title(self) -> str:
        return _("Which unit does your meter show?")

    def _change(self, unit: Unit) -> None:
        # A limit in steps of the other unit would mean something else.
        usual: dict[str, Any] = dict.fromkeys(("very_high_above", *IN_STEPS))
        self.save(
            _("Your meter shows {unit}, from now on.").format(unit=unit_text(unit)),
            unit=unit,
            **usual,
        )
        self.refresh(None)


class DayStartView(SettingsView):
    """From which hour on a check belongs to the new day."""

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        for words in day_start_sentences():
            self.rows.add_words(words)
        hours = [*range(9), 10, 12, 14, 16, 18]
        now_chosen = self.settings.day_starts_at
        offered = sorted({*(time(hour) for hour in hours), now_chosen})
        self.add_setting(
            "day_starts_at",
            _("My day starts at"),
            [(hour, clock_text(hour)) for hour in offered],
            columns=5,
        )

    def title(self) -> str:
        return _("When does your day start?")

    def saved_text(self, field: str) -> str:
        return day_starts_text(self.settings.day_starts_at)


class VeryHighView(SettingsView):
    """Above which number a reading is called very high."""

    back = "targets"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        unit = self.settings.unit
        self.number: TextField = self.rows.add_text(
            _("Very high is above"),
            help_text=_("Take the number from your provider. Without one, it is {number}.").format(
                number=steps_text(VERY_HIGH_ABOVE[unit], unit)
            ),
            unit=unit_text(unit),
        )

    def title(self) -> str:
        return _("What is very high for you?")

    def main_text(self) -> str:
        return _("Save number")

    @property
    def is_changed(self) -> bool:
        return self.number.isModified()

    def first_field(self) -> TextField:
        return self.number

    def refresh(self, changed: Changed | None) -> None:
        if not self.number.isModified():
            settings = self.settings
            steps = settings.very_high_above or VERY_HIGH_ABOVE[settings.unit]
            self.number.setText(steps_text(steps, settings.unit, with_unit=False))

    def do_main(self) -> None:
        unit = self.settings.unit
        try:
            steps = Glucose.parse(self.number.text(), unit).steps
        except LogbookError as error:
            self.show_problems([self.number], [(self.number, problem_text(error))])
            return
        self.show_problems([self.number], [])
        usual = VERY_HIGH_ABOVE[unit]
        self.number.setModified(False)
        message = _("Very high is above {number}.").format(number=steps_text(steps or 0, unit))
        if self.save(message, very_high_above=None if steps == usual else steps):
            self.page.turn_to("targets", message=message)
        else:
            self.number.setModified(True)
