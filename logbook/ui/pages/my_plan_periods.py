"""Views of *My plan*: stretches of days that are not ordinary, such as an illness or a journey."""

from __future__ import annotations

from datetime import date
from uuid import UUID, uuid4

from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from logbook.book import Changed
from logbook.domain.spells import Spell, SpellKind
from logbook.domain.travel import ended
from logbook.ui.pages.my_plan_checks_draft import plan_page
from logbook.ui.parts.big_button import BigButton
from logbook.ui.parts.day_field import DayField, days_problems
from logbook.ui.parts.edited_view import EditedView
from logbook.ui.parts.form_rows import Choice, TextField
from logbook.ui.parts.paragraph import Form, Paragraph
from logbook.ui.parts.view_page import View, ViewPage, clear_layout
from logbook.ui.theme import GAP
from logbook.wording import _
from logbook.wording.dates import day_text
from logbook.wording.spells import spell_changes
from logbook.wording.terms import spell_text
from logbook.wording.typed_days import Toward

_SHOWN = 12


class PeriodsView(View):
    """What can begin today by one press, then the periods, the latest first."""

    back = "home"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        self._now, self._list = QVBoxLayout(), QVBoxLayout()
        for rows in (self._now, self._list):
            rows.setSpacing(GAP)
        self.column.addLayout(self._now)
        self.begins: Choice = Choice(
            self.look,
            _("Does something begin today?"),
            [(kind, spell_text(kind)) for kind in SpellKind if kind is not SpellKind.OTHER],
            columns=4,
        )
        self.begins.chosen.connect(self._begin)
        self.column.addWidget(self.begins)
        self.column.addLayout(self._list)
        self._words = Paragraph(
            self.look, _("They are marked in pictures, and the report names them with their days.")
        )
        self.column.addWidget(self._words)
        self.column.addStretch(1)

    def title(self) -> str:
        return _("Which days were not ordinary?")

    def main_text(self) -> str:
        return _("Add other days")

    def do_main(self) -> None:
        plan_page(self.page).period_id = None
        self.page.forget("period")
        self.page.turn_to("period")

    def refresh(self, changed: Changed | None) -> None:
        clear_layout(self._now)
        clear_layout(self._list)
        self.begins.choose(None)
        today = self.desk.today()
        spells = sorted(self.desk.book.spells(), key=lambda one: one.first, reverse=True)
        if not spells:
            self._now.addWidget(Paragraph(self.look, _("None are written down.")))
        over = [one for one in spells if not one.covers(today)]
        if over:
            self._list.addWidget(Paragraph(self.look, _("Earlier"), "heading"))
        for spell in spells[:_SHOWN]:
            self._show(spell, self._list if spell in over else self._now)

    def _show(self, spell: Spell, rows: QVBoxLayout) -> None:
        """The days, what they change while they go on, and what can be done."""
        words = Paragraph(self.look, spell_days_text(spell))
        rows.addWidget(words)
        if spell.covers(self.desk.today()):
            for text in spell_changes(spell.kind):
                rows.addWidget(Paragraph(self.look, text, "quiet"))
        row = QWidget()
        line = QHBoxLayout(row)
        line.setContentsMargins(0, 0, 0, 0)
        line.setSpacing(GAP)
        buttons = [(_("Change"), self._change)]
        if spell.last is None:
            buttons.insert(0, (_("Today is the last day"), self._end))
        for text, slot in buttons:
            button = BigButton(self.look, text)
            button.describe(words.text())
            button.setProperty("spell", str(spell.id))
            button.clicked.connect(slot)
            line.addWidget(button)
        line.addStretch(1)
        rows.addWidget(row)

    def _begin(self, kind: SpellKind) -> None:
        today = self.desk.today()
        if any(one.kind is kind and one.covers(today) for one in self.desk.book.spells()):
            self.desk.say(_("{kind}: that goes on already.").format(kind=spell_text(kind)))
            self.begins.choose(None)
            return
        spell = Spell(uuid4(), kind, today)
        if self.desk.write(self.desk.book.add, spell) is not None:
            words = _("{kind}: from today on, until you end it here.")
            self.desk.say(words.format(kind=spell_text(kind)))
            self.page.scrolled.to_top()

    def _asked(self) -> Spell | None:
        wanted = UUID(str(self.sender().property("spell")))
        return next((one for one in self.desk.book.spells() if one.id == wanted), None)

    def _change(self) -> None:
        spell = self._asked()
        if spell is not None:
            plan_page(self.page).period_id = spell.id
            self.page.forget("period")
            self.page.turn_to("period")

    def _end(self) -> None:
        spell, today = self._asked(), self.desk.today()
        if spell is not None and self.desk.write(self.desk.book.replace, ended(spell, today)):
            self.desk.say(_("{kind}: today was the last day.").format(kind=spell_text(spell.kind)))
            self.setFocus()


class PeriodView(EditedView):
    """What kind of days, from when to when; the last day may be unknown yet."""

    back = "periods"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        today = self.desk.today()
        wanted = plan_page(page).period_id
        self._spell = next((one for one in self.desk.book.spells() if one.id == wanted), None)
        rows = Form(self.look)
        self.kind: Choice = rows.add_choice(
            _("What was it?"), [(kind, spell_text(kind)) for kind in SpellKind], columns=4
        )
        self.changes = Paragraph(self.look, role="quiet")
        rows.add_widget(self.changes)
        first = today if self._spell is None else self._spell.first
        last = None if self._spell is None else self._spell.last
        self.first = DayField(self.look, _("First day"), today, value=first, toward=Toward.PAST)
        rows.add_widget(self.first)
        self.last = DayField(
            self.look,
            _("Last day"),
            today,
            value=last,
            toward=Toward.PAST,
            help_text=_("Leave it empty while it goes on."),
            is_optional=True,
        )
        rows.add_widget(self.last)
        self.note: TextField = rows.add_text(_("Note (can be left out)"))
        if self._spell is not None:
            self.kind.choose(self._spell.kind)
            self.note.setText(self._spell.note)
            self._show_changes(self._spell.kind)
        self.column.addWidget(rows)
        self.column.addStretch(1)
        self.kind.chosen.connect(self._show_changes)
        self.kind.chosen.connect(self._edit)
        self.note.textEdited.connect(self._edit)

    def title(self) -> str:
        return _("Which days, and what was it?")

    def main_text(self) -> str:
        return _("Save days")

    def do_main(self) -> None:
        if self.kind.value is None:
            self.desk.say(_("Choose first what kind of days these were."))
            return
        problems = days_problems(self.first, self.last)
        if not self.show_problems((self.first, self.last), problems):
            return
        first, last = self.first.day(), self.last.day()
        assert first is not None
        spell = Spell(
            uuid4() if self._spell is None else self._spell.id,
            self.kind.value,
            first,
            last,
            self.note.text().strip(),
        )
        book = self.desk.book
        verb = book.add if self._spell is None else book.replace
        if self.desk.write(verb, spell) is not None:
            self._is_edited = False
            self.page.turn_to(
                "periods", message=_("Saved: {days}.").format(days=spell_days_text(spell))
            )

    def _show_changes(self, kind: SpellKind) -> None:
        self.changes.say("\n".join(spell_changes(kind)))


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
