"""A view of *My plan*: the logs of other people on this computer. Each has a file of its own.

Nothing is ever copied between two logs here. A log opens in a window of its own place: this one
closes first.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from PySide6.QtWidgets import QVBoxLayout, QWidget

from logbook import places
from logbook.book import Book, Changed
from logbook.domain.errors import LogbookError
from logbook.domain.settings import LogSettings
from logbook.ui.log_names import name_of_log
from logbook.ui.pages.my_plan_settings import SettingsView
from logbook.ui.parts.big_button import BigButton, ButtonKind
from logbook.ui.parts.form_rows import TextField
from logbook.ui.parts.view_page import ViewPage, clear_layout
from logbook.ui.theme import GAP
from logbook.wording import _


class LogsView(SettingsView):
    """The other logs, and how to begin one; who this log is for must be known first."""

    back = "helpers"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        self.rows.add_words(
            _("Each person has a log of their own. What is in one never comes into another.")
        )
        self._list = QVBoxLayout()
        self._list.setContentsMargins(0, 0, 0, 0)
        self._list.setSpacing(GAP)
        others = QWidget()
        others.setLayout(self._list)
        self.rows.add_widget(others)
        self.own_name: TextField = self.rows.add_text(_("Whose log is this one?"))
        self.other_name: TextField = self.rows.add_text(
            _("Name of the other person"),
            help_text=_("Then both names are in sight, and the program asks whose log to open."),
        )

    def title(self) -> str:
        return _("Does someone else keep a log here?")

    def main_text(self) -> str:
        return _("Begin their log")

    @property
    def is_changed(self) -> bool:
        return self.own_name.isModified() or self.other_name.isModified()

    def refresh(self, changed: Changed | None) -> None:
        clear_layout(self._list)
        for path in places.logs_beside(self.desk.book.path):
            if path == self.desk.book.path:
                continue
            name = name_of_log(path, self.desk.clock) or _("a log without a name")
            button = BigButton(
                self.look, _("Open: {name}").format(name=name), ButtonKind.TALL
            ).let_wrap()
            button.describe(_("This window closes, and the other log opens"))
            button.setProperty("log", str(path))
            button.clicked.connect(self._open)
            self._list.addWidget(button)
        self.own_name.row.setVisible(not self.settings.person_name)

    def do_main(self) -> None:
        own = self.settings.person_name or self.own_name.text().strip()
        other = self.other_name.text().strip()
        problems = []
        if not own:
            problems.append((self.own_name, _("Write first whose log this one is.")))
        if not other:
            problems.append((self.other_name, _("The name is missing. Write it here.")))
        elif other.casefold() == own.casefold():
            problems.append((self.other_name, _("Both have one name. Write them so they differ.")))
        if not self.show_problems((self.own_name, self.other_name), problems):
            return
        if own != self.settings.person_name:
            wanted = replace(self.settings, person_name=own)
            if self.desk.write(self.desk.book.save_settings, wanted) is None:
                return
        path = places.next_log(self.desk.book.path)
        try:
            begun = LogSettings(person_name=other, home_zone=self.settings.home_zone)
            Book.create(path, begun, self.desk.clock).close()
        except LogbookError as error:
            self.desk.told(error)
            return
        for field in (self.own_name, self.other_name):
            field.clear()
            field.setModified(False)
        self.desk.tell_several()
        self.refresh(None)
        self.desk.say(
            _("The log of {name} is begun. Press its button to open it.").format(name=other)
        )

    def _open(self) -> None:
        self.desk.log_wanted.emit(Path(str(self.sender().property("log"))))
