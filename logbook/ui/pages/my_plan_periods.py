"""Views of *My plan*: stretches of days that are not ordinary, such as an illness or a journey."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from uuid import UUID, uuid4

from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from logbook.book import Changed
from logbook.domain.spells import Spell, SpellKind
from logbook.ui.parts.big_button import BigButton
from logbook.ui.parts.day_field import DayField
from logbook.ui.parts.form_rows import Choice, TextField
from logbook.ui.parts.paragraph import Form, Paragraph
from logbook.ui.parts.view_page import View, ViewPage, clear_layout
from logbook.ui.theme import GAP
from logbook.wording import _
from logbook.wording.dates import day_text
from logbook.wording.terms import spell_text
from logbook.wording.typed_days import Toward

_SHOWN = 12


class PeriodsView(View):
    """The periods, the latest first; one that goes on can be ended by one press."""

    back = "home"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        self._words = Paragraph(
            self.look, _("They are marked in pictures, and the report names them with their days.")
        )
        self.column.addWidget(self._words)
        self._list = QVBoxLayout()
        self._list.setSpacing(GAP)
        self.column.addLayout(self._list)
        self.column.addStretch(1)

    def title(self) -> str:
        return _("Which days were not ordinary?")

    def main_text(self) -> str:
        return _("Add days")

    def do_main(self) -> None:
        self.page.turn_to("period")

    def refresh(self, changed: Changed | None) -> None:
        clear_layout(self._list)
        spells = sorted(self.desk.book.spells(), key=lambda one: one.first, reverse=True)
        if not spells:
            self._list.addWidget(Paragraph(self.look, _("None are written down.")))
        for spell in spells[:_SHOWN]:
            self._list.addWidget(self._row(spell))

    def _row(self, spell: Spell) -> QWidget:
        words = Paragraph(self.look, spell_days_text(spell))
        if spell.last is not None:
            return words
        row = QWidget()
        line = QHBoxLayout(row)
        line.setContentsMargins(0, 0, 0, 0)
        line.setSpacing(2 * GAP)
        button = BigButton(self.look, _("Today is the last day"))
        button.describe(words.text())
        button.setProperty("spell", str(spell.id))
        button.clicked.connect(self._end)
        line.addWidget(button)
        line.addWidget(words, 1)
        return row

    def _end(self) -> None:
        wanted = UUID(str(self.sender().property("spell")))
        today = self.desk.today()
        for spell in self.desk.book.spells():
            if spell.id == wanted:
                ended = replace(spell, last=max(today, spell.first))
                if self.desk.write(self.desk.book.replace, ended) is not None:
                    self.desk.say(
                        _("{kind}: today was the last day.").format(kind=spell_text(spell.kind))
                    )
                    self.setFocus()
                return


class PeriodView(View):
    """What kind of days, from when to when; the last day may be unknown yet."""

    back = "periods"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        today = self.desk.today()
        self._is_edited = False
        rows = Form(self.look)
        self.kind: Choice = rows.add_choice(
            _("What was it?"), [(kind, spell_text(kind)) for kind in SpellKind], columns=4
        )
        self.first = DayField(self.look, _("First day"), today, value=today, toward=Toward.PAST)
        rows.add_widget(self.first)
        self.last = DayField(
            self.look,
            _("Last day"),
            today,
            toward=Toward.PAST,
            help_text=_("Leave it empty while it goes on."),
            is_optional=True,
        )
        rows.add_widget(self.last)
        self.note: TextField = rows.add_text(_("Note (can be left out)"))
        self.missing = Paragraph(self.look)
        self.missing.hide()
        self.column.addWidget(rows)
        self.column.addStretch(1)
        self.kind.chosen.connect(self._edit)
        self.note.textEdited.connect(self._edit)

    def title(self) -> str:
        return _("Which days, and what was it?")

    def main_text(self) -> str:
        return _("Save days")

    @property
    def is_changed(self) -> bool:
        return self._is_edited

    def do_main(self) -> None:
        fields = (self.first, self.last)
        problems = [(field, text) for field in fields if (text := field.problem())]
        if self.kind.value is None:
            self.desk.say(_("Choose first what kind of days these were."))
            return
        first = last = None
        if not problems:
            first, last = self.first.day(), self.last.day()
            if first is not None and last is not None and last < first:
                problems.append(
                    (self.last, _("The last day lies before the first day. Change one of them."))
                )
        if not self.show_problems(fields, problems) or first is None:
            return
        spell = Spell(uuid4(), self.kind.value, first, last, self.note.text().strip())
        if self.desk.write(self.desk.book.add, spell) is not None:
            self._is_edited = False
            self.page.turn_to(
                "periods", message=_("Saved: {days}.").format(days=spell_days_text(spell))
            )

    def _edit(self) -> None:
        self._is_edited = True


def spell_days_text(spell: Spell) -> str:
    """What it was, with its days: "Ill, March 1, 2026 to March 9, 2026"."""
    text = _days(spell.first, spell.last)
    kind = spell_text(spell.kind)
    if spell.note:
        kind = _("{kind} ({note})").format(kind=kind, note=spell.note)
    return _("{kind}, {days}").format(kind=kind, days=text)


def _days(first: date, last: date | None) -> str:
    if last is None:
        return _("since {day}").format(day=day_text(first))
    if last == first:
        return day_text(first)
    return _("{first} to {last}").format(first=day_text(first), last=day_text(last))
