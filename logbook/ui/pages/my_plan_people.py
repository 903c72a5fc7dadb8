"""Views of *My plan*: the person's name, whom to phone, the country, their own written plans."""

from __future__ import annotations

from dataclasses import replace
from uuid import uuid4

from logbook.book import Changed
from logbook.domain.visits import Contact
from logbook.ui.pages.my_plan_settings import SettingsView
from logbook.ui.parts.big_button import BigButton
from logbook.ui.parts.form_rows import NoteField, TextField
from logbook.ui.parts.paragraph import Form
from logbook.ui.parts.view_page import View, ViewPage
from logbook.wording import _, cautions, mark
from logbook.wording.emergency import emergency_number, emergency_word, known_countries
from logbook.wording.manner import find_locale, manner

PERSON, PROVIDER, AFTER_HOURS = "person", "provider", "after_hours"
_ROLES = {
    PERSON: (mark("Someone to phone after a low: name"), mark("Their phone number")),
    PROVIDER: (mark("My provider: name"), mark("Phone number of the practice")),
    AFTER_HOURS: (mark("After hours: name"), mark("Phone number after hours")),
}


class NameView(SettingsView):
    """The name that stands on the report."""

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        self.name = self.rows.add_text(
            _("My name"), help_text=_("It stands on the report, and nowhere outside this computer.")
        )
        self.born = self.rows.add_text(
            _("My date of birth (can be left out)"),
            help_text=_("Write it as your provider knows it."),
        )

    def title(self) -> str:
        return _("What is your name?")

    def main_text(self) -> str:
        return _("Save name")

    @property
    def is_changed(self) -> bool:
        return self.name.isModified() or self.born.isModified()

    def first_field(self) -> TextField:
        return self.name

    def refresh(self, changed: Changed | None) -> None:
        if not self.is_changed:
            self.name.setText(self.settings.person_name)
            self.born.setText(self.settings.born)

    def do_main(self) -> None:
        name, born = self.name.text().strip(), self.born.text().strip()
        message = _("Saved: {name}.").format(name=name) if name else _("Saved: no name.")
        if self.save(message, person_name=name, born=born):
            self.name.setModified(False)
            self.born.setModified(False)
            self.page.turn_to("home", message=message)


class PeopleView(View):
    """One person, the provider, who is there after hours; any of them can be left out."""

    back = "home"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        rows = Form(self.look)
        rows.add_words(cautions.cannot_call())
        self.fields: dict[str, tuple[TextField, TextField]] = {}
        for role, (name, phone) in _ROLES.items():
            self.fields[role] = (rows.add_text(_(name)), rows.add_text(_(phone)))
        self.number = rows.add_text(
            _("My own emergency number (can be left out)"),
            help_text=_("It is shown instead of the number of your country."),
        )
        self.emergency = rows.add_words("")
        change = BigButton(self.look, _("Choose my country"))
        change.clicked.connect(self._to_country)
        rows.add_widget(change)
        self.column.addWidget(rows)
        self.column.addStretch(1)

    def title(self) -> str:
        return _("Whom do you phone?")

    def main_text(self) -> str:
        return _("Save people")

    @property
    def is_changed(self) -> bool:
        people = any(n.isModified() or p.isModified() for n, p in self.fields.values())
        return people or self.number.isModified()

    def first_field(self) -> TextField:
        return self.fields[PERSON][0]

    def refresh(self, changed: Changed | None) -> None:
        settings = self.desk.book.settings
        word = emergency_word(settings.country, settings.emergency_number)
        self.emergency.say(_("In an emergency, call {number}.").format(number=word))
        if self.is_changed:
            return
        self.number.setText(settings.emergency_number)
        kept = self._kept()
        for role, (name, phone) in self.fields.items():
            contact = kept.get(role)
            name.setText("" if contact is None else contact.name)
            phone.setText("" if contact is None else contact.phone)

    def do_main(self) -> None:
        """Everything that is new as one action, everything that differs as another."""
        kept = self._kept()
        new, other = [], []
        for role, (name_field, phone_field) in self.fields.items():
            name, phone = name_field.text().strip(), phone_field.text().strip()
            contact = kept.get(role)
            if contact is None:
                if name or phone:
                    new.append(Contact(uuid4(), role, name, phone))
            elif (name, phone) != (contact.name, contact.phone):
                other.append(replace(contact, name=name, phone=phone))
        book = self.desk.book
        if new and self.desk.write(book.add, *new) is None:
            return
        if other and self.desk.write(book.replace, *other) is None:
            return
        number, settings = self.number.text().strip(), book.settings
        if number != settings.emergency_number:
            wanted = replace(settings, emergency_number=number)
            if self.desk.write(book.save_settings, wanted) is None:
                return
        for field in (*(one for fields in self.fields.values() for one in fields), self.number):
            field.setModified(False)
        names = ", ".join(one.name or one.phone for one in (*new, *other) if one.name or one.phone)
        message = _("Saved: {names}.").format(names=names) if names else _("Saved.")
        self.page.turn_to("home", message=message)

    def _kept(self) -> dict[str, Contact]:
        return {contact.role: contact for contact in self.desk.book.contacts()}

    def _to_country(self) -> None:
        self.page.turn_to("country")


class CountryView(SettingsView):
    """The country decides the emergency number."""

    back = "people"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        names = find_locale(manner().locale).territories
        countries = sorted(
            ((code, str(names.get(code, code))) for code in known_countries()),
            key=lambda pair: pair[1],
        )
        self.add_setting(
            "country", _("My country"), [*countries, ("ZZ", _("Another country"))], columns=3
        )

    def title(self) -> str:
        return _("In which country do you live?")

    def saved_text(self, field: str) -> str:
        country, own = self.settings.country, self.settings.emergency_number
        if own:
            return _("Your own emergency number stays: {number}.").format(number=own)
        if emergency_number(country) is None:
            return _(
                "The emergency number there is not known here. Write it under People to phone."
            )
        return _("The emergency number is {number}.").format(number=emergency_word(country))


class OwnTextsView(SettingsView):
    """What the provider wrote down for a low, a high and a sick day; it stands above cautions."""

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        self.rows.add_words(
            _("Copy what your provider wrote for you. It is shown first, in your own words.")
        )
        self.notes: dict[str, NoteField] = {
            "low_plan": self.rows.add_note(_("When I am low")),
            "high_plan": self.rows.add_note(_("When I am high")),
            "sick_day_plan": self.rows.add_note(_("On a sick day")),
        }

    def title(self) -> str:
        return _("What does your own plan say?")

    def main_text(self) -> str:
        return _("Save my plans")

    @property
    def is_changed(self) -> bool:
        return any(note.document().isModified() for note in self.notes.values())

    def first_field(self) -> NoteField:
        return self.notes["low_plan"]

    def refresh(self, changed: Changed | None) -> None:
        if not self.is_changed:
            for field, note in self.notes.items():
                note.setPlainText(getattr(self.settings, field))
                note.document().setModified(False)

    def do_main(self) -> None:
        texts = {field: note.toPlainText().strip() for field, note in self.notes.items()}
        message = _("Saved: your own plans.")
        if self.save(message, **texts):
            for note in self.notes.values():
                note.document().setModified(False)
            self.page.turn_to("home", message=message)
