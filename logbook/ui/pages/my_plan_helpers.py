"""Views of *My plan* for everyone else: who writes, a helper's page, the simple page, counts.

The logs of other people are in `my_plan_logs`.
"""

from __future__ import annotations

from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from logbook.book import Changed
from logbook.domain.log_keeping import log_keeping
from logbook.domain.moments import Period
from logbook.domain.plan.done import plan_done
from logbook.domain.ticks import About
from logbook.domain.writers import LONGEST_INITIALS, MOST_HELPERS, initials_of, writer_now
from logbook.ui.pages.my_plan_settings import SettingsView
from logbook.ui.parts.big_button import BigButton, ButtonKind
from logbook.ui.parts.form_rows import TextField
from logbook.ui.parts.paragraph import Paragraph
from logbook.ui.parts.subjects import Subjects
from logbook.ui.parts.table import ReadTable
from logbook.ui.parts.view_page import View, ViewPage, clear_layout
from logbook.ui.theme import GAP
from logbook.wording import _, cautions, ngettext
from logbook.wording.dates import period_text
from logbook.wording.emergency import emergency_word
from logbook.wording.log_keeping import keeping_rows
from logbook.wording.numbers import number_text
from logbook.wording.own_sheets import helper_steps
from logbook.wording.writers import helper_choice_text

_DAYS_KEPT = 90


class HelpersView(View):
    """The subjects, each with how things stand there now."""

    back = "home"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        subjects = (
            ("writers", _("Who writes here")),
            ("helper_page", _("For my helper")),
            ("simple", _("The simple page")),
            ("how_kept", _("How the log is kept")),
            ("logs", _("A log for another person")),
        )
        self.subjects = Subjects(self.look, subjects, most=2)
        self.subjects.opened.connect(self.page.turn_to)
        self.column.addWidget(self.subjects)
        self.column.addStretch(1)

    def title(self) -> str:
        return _("Who helps you, and who else keeps a log here?")

    def refresh(self, changed: Changed | None) -> None:
        settings = self.desk.book.settings
        names = ", ".join(name for _initials, name in settings.helpers)
        states = {
            "writers": names or _("Only I"),
            "helper_page": _("What to do in a low, and whom to phone"),
            "simple": on_off_text(is_on=settings.has_simple_page),
            "how_kept": on_off_text(is_on=settings.tells_how_kept),
            "logs": self.desk.person_in_sight or _("This log is the only one"),
        }
        for name, text in states.items():
            self.subjects.say(name, text)


class WritersView(SettingsView):
    """The helpers who write in this log: a name, and initials made from it."""

    back = "helpers"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        self.rows.add_words(
            _("With a name here, a button near Save tells who writes. Else nobody is asked.")
        )
        self.name: TextField = self.rows.add_text(_("Name of a helper"))
        self.initials: TextField = self.rows.add_text(
            _("Initials (can be left out)"),
            help_text=_("Up to 4 letters. They stand with each reading that the helper writes."),
        )
        self._list = QVBoxLayout()
        self._list.setSpacing(GAP)
        self.rows.add_widget(_holding(self._list))

    def title(self) -> str:
        return _("Who else writes in this log?")

    def main_text(self) -> str:
        return _("Save helper")

    @property
    def is_changed(self) -> bool:
        return self.name.isModified() or self.initials.isModified()

    def first_field(self) -> TextField:
        return self.name

    def refresh(self, changed: Changed | None) -> None:
        clear_layout(self._list)
        for initials, name in self.settings.helpers:
            row = QWidget()
            line = QHBoxLayout(row)
            line.setContentsMargins(0, 0, 0, 0)
            line.setSpacing(2 * GAP)
            text = helper_choice_text(initials, name)
            button = BigButton(self.look, _("Take out"))
            button.describe(text)
            button.setProperty("initials", initials)
            button.clicked.connect(self._take_out)
            line.addWidget(button)
            line.addWidget(Paragraph(self.look, text), 1)
            self._list.addWidget(row)

    def do_main(self) -> None:
        helpers = self.settings.helpers
        taken = {initials for initials, _name in helpers}
        name, initials = self.name.text().strip(), self.initials.text().strip()
        problems = []
        if not name:
            problems.append((self.name, _("The name is missing. Write it here.")))
        elif len(helpers) >= MOST_HELPERS:
            problems.append((self.name, _("Six helpers are the most. Take one out first.")))
        elif len(initials) > LONGEST_INITIALS:
            problems.append((self.initials, _("Initials have at most 4 letters.")))
        elif initials in taken:
            problems.append((self.initials, _("Another helper has these initials. Choose others.")))
        initials = initials or initials_of(name, taken)
        if name and not initials:
            problems.append((self.initials, _("Write the initials too.")))
        if not self.show_problems((self.name, self.initials), problems):
            return
        message = _("Saved: {helper}.").format(helper=helper_choice_text(initials, name))
        if self.save(message, helpers=(*helpers, (initials, name))):
            for field in (self.name, self.initials):
                field.clear()
                field.setModified(False)
            self.refresh(None)
            self.desk.say(message)

    def _take_out(self) -> None:
        gone = str(self.sender().property("initials"))
        left = tuple(one for one in self.settings.helpers if one[0] != gone)
        message = _("{initials} is taken out. What was written keeps its initials.")
        if self.save(message.format(initials=gone), helpers=left):
            if not writer_now(self.settings, self.desk.preferences.writer):
                self.desk.prefer(writer="")
            self.refresh(None)
            self.setFocus()


class HelperPageView(View):
    """What a helper must know, on one page: a low, whom to phone, how a number is written."""

    back = "helpers"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        self._rows = QVBoxLayout()
        self._rows.setSpacing(GAP)
        self.column.addLayout(self._rows)
        sheet = BigButton(self.look, _("Print it for the fridge"), ButtonKind.OTHER)
        sheet.clicked.connect(self._to_sheets)
        row = QHBoxLayout()
        row.addWidget(sheet)
        row.addStretch(1)
        self.column.addLayout(row)
        self.column.addStretch(1)

    def title(self) -> str:
        return _("For my helper")

    def refresh(self, changed: Changed | None) -> None:
        clear_layout(self._rows)
        book, today = self.desk.book, self.desk.today()
        settings = book.settings
        word = emergency_word(settings.country, settings.emergency_number)
        needs_glucose = book.ticks().may_hold(About.SLOWS_SUGAR, today)
        self._section(_("When I am low (below 70 mg/dL, 3.9 mmol/L), or confused and sweaty"))
        if settings.low_plan.strip():
            self._say(settings.low_plan.strip())
        for step in helper_steps(word, only_glucose=needs_glucose):
            self._say(step)
        self._section(_("Whom to phone"))
        for contact in book.contacts():
            if contact.phone.strip():
                self._say(_("{name}: {phone}").format(name=contact.name, phone=contact.phone))
        self._say(_("In an emergency, call {number}.").format(number=word))
        self._section(_("When you write for me"))
        self._say(_("Write what the meter shows, with the time it showed it. Then press Save."))
        self._say(_("Missed some? Take them from the meter's memory. Leave the finger out."))
        if settings.helpers:
            self._say(_("Press the button with the initials beside Save, and choose your name."))
        self._say(cautions.no_advice())

    def _section(self, text: str) -> None:
        self._rows.addWidget(Paragraph(self.look, text, "heading"))

    def _say(self, text: str) -> None:
        self._rows.addWidget(Paragraph(self.look, text))

    def _to_sheets(self) -> None:
        self.desk.go_to("visit/sheets")


class SimpleView(SettingsView):
    """A page with the finger, the keys, Save and a phone number; a helper opens the rest."""

    back = "helpers"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        for text in (
            _("It shows the finger, the keys, Save and whom to phone. Then it says what to do."),
            _("A low, its check and what must be done look as they always do."),
            _("For my helper opens all pages. A number to type keeps stray presses out."),
            _("It is easiest to read with the text at 200 percent, under Text and keys."),
        ):
            self.rows.add_words(text)
        self.add_setting(
            "has_simple_page", _("The simple page"), [(False, _("Off")), (True, _("On"))]
        )
        self.again = BigButton(self.look, _("Back to the simple page"), ButtonKind.OTHER)
        self.again.clicked.connect(self._let_out)
        self.rows.add_widget(self.again)

    def title(self) -> str:
        return _("Should only the simple page be shown?")

    def refresh(self, changed: Changed | None) -> None:
        super().refresh(changed)
        self.again.setVisible(self.settings.has_simple_page)

    def saved_text(self, field: str) -> str:
        if self.settings.has_simple_page:
            return _("The simple page is on.")
        return _("The simple page is off. All pages are shown.")

    def _take(self, value: object) -> None:
        if value:
            # Whoever turns it on is at work here still, and goes when they want to.
            self.desk.let_helper_in()
            self.page.turn_to("simple")
        super()._take(value)
        self.refresh(None)

    def _let_out(self) -> None:
        self.desk.let_helper_out()


class HowKeptView(SettingsView):
    """Counts of how the log is kept, if turned on; the report has the same."""

    back = "helpers"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        self.rows.add_words(
            _("Counts for you, a helper and your provider. No marks are given, nothing is judged.")
        )
        self.add_setting(
            "tells_how_kept",
            _("Show it here and on the report?"),
            [(False, _("Off")), (True, _("On"))],
        )
        self.days = Paragraph(self.look, role="heading")
        self.rows.add_widget(self.days)
        self.table = ReadTable(self.look, _("How the log is kept"))
        self.rows.add_widget(self.table)

    def title(self) -> str:
        return _("How is the log kept?")

    def saved_text(self, field: str) -> str:
        if self.settings.tells_how_kept:
            return _("How the log is kept is shown here and on the report.")
        return _("How the log is kept is shown nowhere.")

    def refresh(self, changed: Changed | None) -> None:
        super().refresh(changed)
        is_on = self.settings.tells_how_kept
        self.days.setVisible(is_on)
        self.table.setVisible(is_on)
        if not is_on:
            return
        book, now = self.desk.book, self.desk.now()
        period = Period.ending(self.desk.today(), _DAYS_KEPT)
        series = book.series(period)
        facts = book.plan_facts(period)
        done = plan_done(facts, series, period, self.settings, now)
        helped = [one for one in book.readings(period) if one.initials]
        kept = log_keeping(
            series,
            period,
            self.settings,
            helped=helped,
            planned=done if done.total.of else None,
        )
        self.days.say(period_text(period, with_days=True))
        self.table.show_rows((_("What"), _("Count")), keeping_rows(kept))

    def _take(self, value: object) -> None:
        super()._take(value)
        self.refresh(None)


def on_off_text(*, is_on: bool) -> str:
    """A word for a thing that can be turned on."""
    return _("On") if is_on else _("Off")


def helpers_state_text(count: int, *, has_simple_page: bool) -> str:
    """How it stands, for the list of subjects."""
    if has_simple_page:
        return _("the simple page is on")
    if not count:
        return _("only I write")
    return ngettext("{n} helper writes", "{n} helpers write", count).format(n=number_text(count))


def _holding(layout: QVBoxLayout) -> QWidget:
    part = QWidget()
    layout.setContentsMargins(0, 0, 0, 0)
    part.setLayout(layout)
    return part
