"""Before the first reading: language and country, the meter's unit, medicines that can cause lows.

Three pages. Everything else can wait and is offered one at a time later (`set_up`).
"""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import Signal

from logbook.domain.glucose import Unit
from logbook.domain.ticks import About
from logbook.ui.answer_tiles import AnswerTiles, write_tick
from logbook.ui.desk import Desk
from logbook.ui.entry.step import Step
from logbook.ui.parts.form_rows import Choice, TextField
from logbook.ui.parts.texts import Words
from logbook.wording import _, cautions
from logbook.wording.emergency import emergency_number
from logbook.wording.manner import find_locale, manner
from logbook.wording.ticks import about_help

# Shown first; the country of the computer is always among them.
_COUNTRIES = ("US", "CA", "GB", "IE", "AU", "NZ", "DE", "FR", "ES", "IT", "NL")
_SAMPLES = {Unit.MG_DL: "128", Unit.MMOL_L: "7.1"}
_LAST = 2
_ELSEWHERE = "ZZ"  # ISO 3166 leaves it to users: a country that is not in this list


class FirstStart(Step):
    """Emits `finished` when the three answers are kept."""

    finished = Signal()

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._page = 0
        look = desk.look
        self.words = Words(look)
        self.column.addWidget(self.words)
        self.country = Choice(look, _("Country"), _countries(), columns=3, shows_label=False)
        self.unit = Choice(
            look,
            _("Unit of your meter"),
            [
                (unit, _("{sample} {unit}").format(sample=_SAMPLES[unit], unit=unit.value))
                for unit in Unit
            ],
            shows_label=False,
        )
        self.insulin = AnswerTiles(desk, About.INSULIN, shows_label=True)
        tablets = About.LOW_CAUSING_TABLETS
        self.tablets = AnswerTiles(desk, tablets, shows_label=True, help_text=about_help(tablets))
        self._choices: tuple[tuple[Choice, ...], ...] = (
            (self.country,),
            (self.unit,),
            (self.insulin, self.tablets),
        )
        for choices in self._choices:
            for choice in choices:
                self.column.addWidget(choice)
                choice.chosen.connect(self._show)
        self.emergency = Words(look)
        self.column.addWidget(self.emergency)
        self.own_number = TextField(
            look,
            _("Emergency number where you live"),
            help_text=_("It can be left out, and changed later in My plan."),
        )
        self.column.addWidget(self.own_number.row)
        self.caution = Words(look)
        self.column.addWidget(self.caution)
        self.column.addStretch(1)
        territory = find_locale(manner().locale).territory
        if territory in dict(_countries()):
            self.country.choose(territory)
        self._show()

    def back_text(self) -> str:
        return _("Go back") if self._page > 0 else ""

    def back(self) -> None:
        self._go_back()

    def main_text(self) -> str:
        return _("Go on") if self._page < _LAST else _("Start writing down")

    def main(self) -> None:
        if any(choice.value is None for choice in self._choices[self._page]):
            self.desk.say(
                _("Answer both questions first. Not sure is an answer too.")
                if self._page == _LAST
                else _("Choose one of these first.")
            )
            return
        self.desk.say("")
        if self._page < _LAST:
            self._page += 1
            self._show()
            return
        # The settings last: with the country in them, these pages never come again.
        if all(write_tick(self.desk, one.about, one.value) for one in (self.insulin, self.tablets)):
            answered = replace(
                self.desk.book.settings,
                country=self.country.value,
                emergency_number=self._own_number(),
                unit=self.unit.value,
                home_zone=self.desk.zone(),
            )
            if self.desk.write(self.desk.book.save_settings, answered) is not None:
                self.finished.emit()

    def _own_number(self) -> str:
        is_asked = emergency_number(self.country.value) is None
        return self.own_number.text().strip() if is_asked else ""

    def _go_back(self) -> None:
        self._page = max(0, self._page - 1)
        self._show()

    def _show(self) -> None:
        titles = (
            _("Where do you live?"),
            _("What does your meter's display show?"),
            _("Can your medicines cause lows?"),
        )
        sentences = (
            _("This decides the emergency number, and how dates are written."),
            _("Look beside the number on the display. Choose the one that looks the same."),
            _("If you are not sure, say so. It counts as yes."),
        )
        self.title.setText(titles[self._page])
        self.words.setText(sentences[self._page])
        for index, choices in enumerate(self._choices):
            for choice in choices:
                choice.setVisible(index == self._page)
        country = self.country.value if self._page == 0 else None
        number = emergency_number(country or "")
        known = _("Emergency number there: {number}.").format(number=number) if number else ""
        self.emergency.say(known)
        self.own_number.row.setVisible(country is not None and number is None)
        self.caution.say(cautions.cannot_call() if self._page == _LAST else cautions.no_advice())
        self.caution.setVisible(self._page != 1)
        self.main_changed.emit()


def _countries() -> list[tuple[str, str]]:
    own = find_locale(manner().locale)
    codes = list(_COUNTRIES)
    if own.territory and own.territory not in codes and emergency_number(own.territory):
        codes[-1] = own.territory
    names = own.territories
    offered = [(code, str(names.get(code, code))) for code in codes]
    return [*offered, (_ELSEWHERE, _("Another country"))]
