"""Views of *My plan*: which days of the week are compared with the others, under what name."""

from __future__ import annotations

from logbook.book import Changed
from logbook.domain.findings.named_days import (
    DAYS_OF_A_WEEK,
    GroupFault,
    NamedDays,
    fault_of,
    named_days,
    with_named_days,
    without_named_days,
)
from logbook.ui.pages.my_plan_settings import SettingsView
from logbook.ui.pages.my_plan_targets import plan_of
from logbook.ui.parts.big_button import BigButton
from logbook.ui.parts.columns import Columns
from logbook.ui.parts.edited_view import EditedView
from logbook.ui.parts.form_rows import Choice, TextField
from logbook.ui.parts.paragraph import Form, Paragraph
from logbook.ui.parts.subject_button import SubjectButton
from logbook.ui.parts.view_page import ViewPage
from logbook.wording import _
from logbook.wording.finding_limits import group_fault_text, weekday_name, weekdays_text

_WEEKDAYS = range(DAYS_OF_A_WEEK)


class DayGroupsView(SettingsView):
    """The weekend, and each group of days that the person named."""

    back = "limits"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        self.rows.add_words(
            _("Every week, Look back asks whether glucose differs on these days from your others.")
        )
        self.add_setting(
            "weekend",
            _("Which days are your weekend?"),
            [(day, weekday_name(day)) for day in _WEEKDAYS],
            columns=4,
            several=True,
        )
        self.named = Paragraph(self.look, _("Days you named"), "heading")
        self.groups = Columns(self.look, most=3, least_width=12)
        self.none = Paragraph(
            self.look, _("You can name days of your own: work, dialysis, day center, church.")
        )
        for part in (self.named, self.none, self.groups):
            self.rows.add_widget(part)
        self.rows.add_widget(
            Paragraph(self.look, _("The more days you name, the longer until a difference shows."))
        )

    def title(self) -> str:
        return _("Which days shall be compared?")

    def main_text(self) -> str:
        return _("Name other days")

    def do_main(self) -> None:
        self._open("")

    def saved_text(self, field: str) -> str:
        return _("Your weekend: {days}.").format(days=weekdays_text(self.settings.weekend))

    def refresh(self, changed: Changed | None) -> None:
        super().refresh(changed)
        self.groups.clear()
        found = named_days(self.settings)
        for group in found:
            button = SubjectButton(self.look, group.name, weekdays_text(group.weekdays))
            button.setProperty("group", group.name)
            button.clicked.connect(self._change)
            self.groups.add(button)
        self.none.setVisible(not found)
        for part in (self.named, self.groups):
            part.setVisible(bool(found))

    def _change(self) -> None:
        self._open(str(self.sender().property("group")))

    def _open(self, name: str) -> None:
        plan_of(self.page).day_group = name
        self.page.forget("day_group")
        self.page.turn_to("day_group")


class DayGroupView(EditedView):
    """One group: its name and its days of the week."""

    back = "day_groups"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        self._instead_of = plan_of(page).day_group
        rows = Form(self.look)
        self.name: TextField = rows.add_text(
            _("What are these days called?"), self._instead_of, help_text=_("Such as: dialysis")
        )
        self.weekdays: Choice = rows.add_choice(
            _("On which days?"),
            [(day, weekday_name(day)) for day in _WEEKDAYS],
            columns=4,
            several=True,
        )
        for group in named_days(self.desk.book.settings):
            if group.name == self._instead_of:
                self.weekdays.choose(tuple(group.weekdays))
        self.remove = BigButton(self.look, _("No longer compare these days"))
        self.remove.clicked.connect(self._remove)
        self.remove.setVisible(bool(self._instead_of))
        rows.add_widget(self.remove)
        self.column.addWidget(rows)
        self.column.addStretch(1)
        self.name.textEdited.connect(self._edit)
        self.weekdays.chosen.connect(self._edit)

    def title(self) -> str:
        return _("Which days, and what are they called?")

    def main_text(self) -> str:
        return _("Save these days")

    def first_field(self) -> TextField:
        return self.name

    def do_main(self) -> None:
        book = self.desk.book
        group = NamedDays(self.name.text().strip(), frozenset(self.weekdays.value))
        fault = fault_of(group, book.settings, instead_of=self._instead_of)
        self.show_problems([self.name], [])
        if fault in (GroupFault.NO_DAY, GroupFault.ALL_DAYS):
            self.desk.say(group_fault_text(fault))
            return
        if fault is not None:
            self.show_problems([self.name], [(self.name, group_fault_text(fault))])
            return
        wanted = with_named_days(book.settings, group, instead_of=self._instead_of)
        if self.desk.write(book.save_settings, wanted) is not None:
            self._leave(
                _("Compared from now on: {name} ({days}).").format(
                    name=group.name, days=weekdays_text(group.weekdays)
                )
            )

    def _remove(self) -> None:
        book = self.desk.book
        wanted = without_named_days(book.settings, self._instead_of)
        if self.desk.write(book.save_settings, wanted) is not None:
            self._leave(_("No longer compared: {name}.").format(name=self._instead_of))

    def _leave(self, message: str) -> None:
        self._is_edited = False
        self.page.turn_to("day_groups", message=message)
