"""Views of *My plan*: copies of the log, going back to one, and the log made from its journal.

Where copies go besides is in `my_plan_stick`.
"""

from __future__ import annotations

from pathlib import Path
from weakref import finalize

from PySide6.QtCore import QEventLoop
from PySide6.QtWidgets import QApplication, QFileDialog

from logbook.book import Changed
from logbook.domain.copies import ProvedCopy, TriedRebuild
from logbook.domain.errors import LogbookError
from logbook.ui.copy_list import CopyList, Trying
from logbook.ui.pages.my_plan_stick import StickView
from logbook.ui.parts.big_button import BigButton
from logbook.ui.parts.paragraph import Paragraph
from logbook.ui.parts.sentences import Sentences
from logbook.ui.parts.subjects import Subjects
from logbook.ui.parts.view_page import View, ViewPage
from logbook.ui.saving_places import find_sticks, folders_of_copies
from logbook.ui.work import Course
from logbook.wording import _
from logbook.wording.copies import (
    copies_state_text,
    damage_details,
    damage_title,
    difference_text,
    go_back_title,
    gone_back_text,
    is_kept_text,
    rebuilt_text,
)
from logbook.wording.problems import problem_text


class CopiesView(View):
    """What can be done with copies, and those that can be gone back to."""

    back = "home"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        self._sequence = -1
        self._course: Course | None = None
        self.column.addWidget(
            Paragraph(
                self.look,
                _("A copy is made each time you close the program. Each one below is good."),
            )
        )
        self.damage = Sentences(self.look)
        self.column.addWidget(self.damage)
        self.desk.damage_told.connect(self._tell_damage)
        subjects = (
            ("stick", _("A copy on a USB stick")),
            ("copies_elsewhere", _("Look for copies elsewhere")),
            ("copies_journal", _("Make the log again from its journal")),
        )
        self.subjects = Subjects(self.look, subjects, most=3)
        self.subjects.opened.connect(self.page.turn_to)
        self.column.addWidget(self.subjects)
        self.column.addWidget(
            Paragraph(self.look, _("Which copy do you want to go back to?"), "heading")
        )
        self.copies = CopyList(self.look, self.desk.work)
        self.copies.chosen.connect(self._choose)
        self.copies.grown.connect(self.page.update_head)
        self.column.addWidget(self.copies)
        self.column.addStretch(1)

    def title(self) -> str:
        return _("Copies of your log")

    def main_text(self) -> str:
        return _("Make a copy now")

    def do_main(self) -> None:
        if self._course is not None or self.desk.only_read_because is not None:
            if self.desk.only_read_because is not None:
                self.desk.told(self.desk.only_read_because)
            return
        self.desk.say(_("Making a copy ..."))
        self._course = self.desk.work.prepare()
        self._course.done.connect(self._made)
        self._course.failed.connect(self._not_made)
        self.desk.work.start(self._course, self._make)

    def _make(self, _course: Course) -> Path:
        return self.desk.book.make_copy()

    def _made(self, _copy: Path) -> None:
        self._course = None
        self.desk.say(_("A copy was made, read back and found good."))
        self._sequence = -1
        self.refresh(None)

    def _not_made(self, error: Exception) -> None:
        self._course = None
        if not isinstance(error, LogbookError):
            raise error
        self.desk.told(error)

    def refresh(self, changed: Changed | None) -> None:
        self._tell_damage()
        book = self.desk.book
        known = book.second_folder()
        state = copies_state_text(known, self.desk.now())
        self.subjects.say("stick", state[:1].upper() + state[1:])
        if self._sequence == -1 or changed is not None:
            self._sequence = 0
            there = [Path(known.folder)] if known is not None and known.is_there else []
            self.copies.offer(book.copies(there), self.desk.now())

    def _tell_damage(self) -> None:
        damage = self.desk.damage
        self.damage.say(() if damage is None else (damage_title(), *damage_details(damage)))
        self.page.update_head()

    def _choose(self, proved: ProvedCopy) -> None:
        show_copy(self.page, proved)


class ElsewhereView(View):
    """Copies on sticks that are plugged in: for a new computer, or after a disk broke."""

    back = "copies"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        self._folders: list[Path] = []
        self.words = Paragraph(self.look)
        self.column.addWidget(self.words)
        other = BigButton(self.look, _("Another folder"))
        other.clicked.connect(self._choose_folder)
        self.column.addWidget(other)
        self.copies = CopyList(self.look, self.desk.work)
        self.copies.chosen.connect(self._choose)
        self.copies.grown.connect(self.page.update_head)
        self.column.addWidget(self.copies)
        self.column.addStretch(1)

    def title(self) -> str:
        return _("Which copy on a stick do you want to go back to?")

    def main_text(self) -> str:
        return _("Look again")

    def do_main(self) -> None:
        self.refresh(None)

    def refresh(self, changed: Changed | None) -> None:
        self._folders = [stick.folder for stick in find_sticks()]
        self.words.say(
            _("Looked on every stick that is plugged in.")
            if self._folders
            else _("No stick is plugged in. Plug it in, wait a moment, then look again.")
        )
        self._offer()

    def _offer(self) -> None:
        folders = [one for folder in self._folders for one in folders_of_copies(folder)]
        self.copies.offer(self.desk.book.copies(folders, with_own=False), self.desk.now())

    def _choose_folder(self) -> None:
        dialog = QFileDialog(self, self.title())
        dialog.setFileMode(QFileDialog.FileMode.Directory)
        dialog.setOption(QFileDialog.Option.ShowDirsOnly)
        dialog.fileSelected.connect(self.look_in)
        dialog.finished.connect(dialog.deleteLater)
        dialog.open()

    def look_in(self, name: str) -> None:
        """Look in this folder."""
        self._folders = [Path(name)]
        self.words.say(_("Looked in the folder {folder}.").format(folder=name))
        self._offer()

    def _choose(self, proved: ProvedCopy) -> None:
        show_copy(self.page, proved)


def show_copy(page: ViewPage, proved: ProvedCopy) -> None:
    """Ask once more before the log is another one."""
    page.turn_to("copies_one")
    view = page.view
    assert isinstance(view, GoBackView)
    view.show_copy(proved)


class GoBackView(View):
    """One copy: what it holds, what becomes of the log, and the one press that goes back."""

    back = "copies"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        self._proved: ProvedCopy | None = None
        self._told = Sentences(self.look)
        self.column.addWidget(self._told)
        self.column.addStretch(1)

    def show_copy(self, proved: ProvedCopy) -> None:
        """This one."""
        self._proved = proved
        self._told.say(
            (difference_text(proved, len(self.desk.book.series().instants)), is_kept_text())
        )
        self.page.update_head()

    def title(self) -> str:
        if self._proved is None:
            return _("No copy is chosen. Press Back.")
        return go_back_title(self._proved.copy, self.desk.now())

    def main_text(self) -> str:
        return "" if self._proved is None else _("Go back to this copy")

    def do_main(self) -> None:
        if self._proved is not None:
            copy = self._proved.copy
            go_back_to(self, Path(copy.file), gone_back_text(copy, self.desk.now()))


def go_back_to(view: View, file: Path, message: str) -> bool:
    """Go back, and say so on the page of copies."""
    view.desk.say(_("Going back ..."))
    # It may take seconds and nothing else can be done meanwhile, so the words are painted first.
    QApplication.processEvents(QEventLoop.ProcessEventsFlag.ExcludeUserInputEvents)
    if view.desk.write(view.desk.book.go_back_to, file) is None:
        return False
    view.page.turn_to("copies", message=message)
    return True


class JournalView(View):
    """The log made again from its plain-text journal, which holds every change."""

    back = "copies"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        self._trying = Trying(self.desk.book.path)
        finalize(self, self._trying.forget)
        self._course: Course | None = None
        self.column.addWidget(
            Paragraph(
                self.look,
                _("The journal beside your log holds every change as a line of text."),
            )
        )
        self._told = Sentences(self.look)
        self.column.addWidget(self._told)
        self.column.addStretch(1)

    def title(self) -> str:
        return _("Make the log again from its journal")

    def main_text(self) -> str:
        return "" if self._trying.tried is None or self._course is not None else _("Use this log")

    def came_up(self) -> None:
        if self._trying.tried is None and self._course is None:
            self._told.say((_("Reading the journal ..."),))
            self._course = self.desk.work.prepare()
            self._course.done.connect(self._show)
            self._course.failed.connect(self._not_made)
            self.desk.work.start(self._course, self._trying)

    def do_main(self) -> None:
        tried, trying = self._trying.tried, self._trying
        message = _("Your log was made again from its journal. The old one is kept.")
        if tried is not None and go_back_to(self, Path(tried.file), message):
            trying.forget()

    def _show(self, tried: TriedRebuild) -> None:
        self._course = None
        self._told.say((*rebuilt_text(tried, self.desk.now()), is_kept_text()))
        self.page.update_head()

    def _not_made(self, error: Exception) -> None:
        self._course = None
        if not isinstance(error, LogbookError):
            raise error
        self._told.say((problem_text(error),))


COPIES_VIEWS = {
    "copies": CopiesView,
    "copies_elsewhere": ElsewhereView,
    "copies_one": GoBackView,
    "copies_journal": JournalView,
    "stick": StickView,
}
