"""Views of *My plan* for a second computer: what there is for it, and bringing in its copy.

Choosing between versions is in `my_plan_two_versions`, locked copies are in `my_plan_locked`.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFileDialog

from logbook.book import Book, Changed
from logbook.domain.bringing_in import BroughtIn
from logbook.domain.errors import LogbookError, NotALog
from logbook.exchange.locked_copy import ENDING, is_locked, unlocked
from logbook.exchange.phrases import WORDS_FOR_COPY, phrase_of
from logbook.ui.pages.my_plan_copies import go_back_to
from logbook.ui.pages.my_plan_locked import LOCKED_VIEWS
from logbook.ui.pages.my_plan_two_versions import TwoVersionsView
from logbook.ui.parts.big_button import BigButton
from logbook.ui.parts.columns import Columns
from logbook.ui.parts.paragraph import Form
from logbook.ui.parts.sentences import Sentences
from logbook.ui.parts.subject_button import SubjectButton
from logbook.ui.parts.subjects import Subjects
from logbook.ui.parts.view_page import View, ViewPage
from logbook.ui.saving_places import find_places, where_and_when
from logbook.ui.work import Course
from logbook.wording import _
from logbook.wording.problems import problem_text
from logbook.wording.sharing import (
    brought_lines,
    brought_text,
    to_choose_text,
)

_MOST_FILES = 6
_SUFFIX = ".logbook"
_Job = Callable[[Book, Path, str, Course], BroughtIn]


class SharingView(View):
    """What there is for whoever keeps one log on two computers, or gives a copy away."""

    back = "home"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        self._told = Sentences(self.look)
        self.column.addWidget(self._told)
        self._told.say(
            (
                _("You and a helper can keep one log on two computers."),
                _("Bring a copy from one to the other on a stick, then bring it in."),
            )
        )
        subjects = (
            ("bring_in", _("Bring in another copy")),
            ("two_versions", _("Choose between two entries")),
            ("locked", _("Locked copy for a USB stick")),
        )
        self.subjects = Subjects(self.look, subjects, most=3)
        self.subjects.say("bring_in", _("from a stick or a folder"))
        self.subjects.say("locked", _("opens only with its words"))
        self.subjects.opened.connect(self.page.turn_to)
        self.column.addWidget(self.subjects)
        self.column.addStretch(1)

    def title(self) -> str:
        return _("Sharing, and a second computer")

    def refresh(self, changed: Changed | None) -> None:
        count = len(self.desk.book.disagreements())
        self.subjects.say("two_versions", to_choose_text(count) or _("nothing to choose"))


class BringInView(View):
    """Which copy, its words if it is locked, what it brings, and the one press that brings it."""

    back = "sharing"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        self._file: Path | None = None
        self._file_before: Path | None = None
        self._phrase = ""
        self._brought: BroughtIn | None = None
        self._course: Course | None = None
        self._is_way_back = False
        self._told = Sentences(self.look)
        self.column.addWidget(self._told)
        self._files = Columns(self.look, most=2, least_width=16)
        self.column.addWidget(self._files)
        self.other = BigButton(self.look, _("Choose another file"))
        self.other.clicked.connect(self._choose)
        self.again = BigButton(self.look, _("I plugged in a USB stick"))
        self.again.clicked.connect(self._look_again)
        self._ways = Columns(self.look, most=2, least_width=16)
        for button in (self.again, self.other):
            self._ways.add(button)
        self.column.addWidget(self._ways)
        self._form = Form(self.look)
        self.words = self._form.add_note(
            _("Its words"), help_text=_("They stand on its sheet, in this order."), lines=2
        )
        self._form.hide()
        self.column.addWidget(self._form)
        self.column.addStretch(1)
        self._show_files()

    def title(self) -> str:
        if self._is_way_back:
            return _("Go on with the log of this copy?")
        if self._brought is not None:
            return _("Bring this in?") if not self._brought.is_nothing else _("Nothing new")
        if self._file is not None and self._is_asking:
            return _("Which words open this copy?")
        return _("Which copy do you want to bring in?")

    def main_text(self) -> str:
        if self._course is not None or self._file is None:
            return ""
        if self._is_way_back:
            return _("Go back to this copy")
        if self._brought is not None:
            return "" if self._brought.is_nothing else _("Bring it in")
        return _("Open this copy") if self._is_asking else ""

    @property
    def _is_asking(self) -> bool:
        return not self._form.isHidden()

    @property
    def is_changed(self) -> bool:
        return self._course is not None or bool(self.words.toPlainText().strip())

    def do_main(self) -> None:
        if self._file is None or self._course is not None:
            return
        if self._is_way_back:
            self._go_back_to_it(self._file)
        elif self._brought is None:
            self._open()
        elif self.desk.only_read_because is not None:
            self.desk.told(self.desk.only_read_because)
        else:
            self._begin(_("Bringing it in ..."), self._brought_in, _bring_in)

    def step_back(self) -> bool:
        """From the words, or from what a copy brings, to the choice of a copy; words stay."""
        if self._file is None or self._course is not None:
            return False
        self._file_before, self._file, self._brought = self._file, None, None
        self._is_way_back = False
        self.desk.say("")
        self._form.hide()
        self._show_files()
        self._files.show()
        self._ways.show()
        self.page.update_head()
        return True

    # --- which file ---------------------------------------------------------------------------

    def _show_files(self) -> None:
        self._told.say((_("Choose the copy. It stays as it is, and nothing of your log is lost."),))
        self._files.clear()
        for file, place in _files_in_places(self.desk.book.path):
            button = SubjectButton(
                self.look, file.name, where_and_when(file, place, self.desk.zone())
            )
            button.setProperty("file", str(file))
            button.clicked.connect(self._take_button)
            self._files.add(button)

    def _look_again(self) -> None:
        self._show_files()
        self.page.update_head()

    def _take_button(self) -> None:
        self.take(str(self.sender().property("file")))

    def _choose(self) -> None:
        dialog = QFileDialog(self, self.title())
        dialog.setFileMode(QFileDialog.FileMode.ExistingFile)
        dialog.fileSelected.connect(self.take)
        dialog.finished.connect(dialog.deleteLater)
        dialog.open()

    def take(self, name: str) -> None:
        """Look into this file, or ask for its words first."""
        if self._course is not None:
            return
        if self._file_before != Path(name):
            self.words.clear()  # each copy has words of its own
        self._file, self._phrase = Path(name), ""
        self._files.hide()
        self._ways.hide()
        if is_locked(self._file):
            self._told.say((_("{name} is locked.").format(name=self._file.name),))
            self._form.show()
            self.page.update_head()
            self.words.setFocus(Qt.FocusReason.OtherFocusReason)
            return
        self._look()

    def _open(self) -> None:
        try:
            self._phrase = phrase_of(self.words.toPlainText(), WORDS_FOR_COPY)
        except LogbookError as error:
            self._told.say((problem_text(error),))
            self.words.setFocus(Qt.FocusReason.OtherFocusReason)
            return
        self._look()

    # --- the jobs -----------------------------------------------------------------------------

    def _look(self) -> None:
        self._begin(_("Reading the copy ..."), self._looked, _look_at)

    def _begin(self, words: str, done: Callable[[BroughtIn], None], job: _Job) -> None:
        self.desk.say(words)
        course = self._course = self.desk.work.prepare()
        course.done.connect(done)
        course.failed.connect(self._failed)
        assert self._file is not None
        # The main action goes away meanwhile; the keyboard is not to fall on Undo.
        self.setFocus(Qt.FocusReason.OtherFocusReason)
        self.page.update_head()
        self.desk.work.start(course, partial(job, self.desk.book, self._file, self._phrase))

    def _looked(self, brought: BroughtIn) -> None:
        self._course, self._brought = None, brought
        self._form.hide()
        self._told.say(tuple(brought_lines(brought)))
        self.desk.say("")
        self.page.update_head()

    def _brought_in(self, brought: BroughtIn) -> None:
        self._course = None
        self.words.clear()
        where = "two_versions" if brought.apart else "sharing"
        if self.page.view is self:
            self.page.turn_to(where, message=brought_text(brought))
        else:
            self.desk.say(brought_text(brought))

    def _failed(self, error: Exception) -> None:
        self._course = None
        if not isinstance(error, LogbookError):
            self.page.update_head()
            raise error
        self.desk.say("")
        if isinstance(error, NotALog) and error.facts.get("why") == "other_log":
            self._offer_way_back(error)
            return
        self._told.say((problem_text(error),))
        if self._is_asking:
            self.words.setFocus(Qt.FocusReason.OtherFocusReason)
        else:
            self._file = self._brought = None
            self._files.show()
            self._ways.show()
        self.page.update_head()

    def _offer_way_back(self, error: NotALog) -> None:
        """On a new computer, whose log has no readings yet, any log may take its place."""
        self._form.hide()
        if self.desk.book.span() is None:
            self._is_way_back = True
            self._told.say(
                (
                    _("This copy is of another log than the one on this computer."),
                    _("Your log here has no readings yet, so the copy can take its place."),
                )
            )
        else:
            self._told.say((problem_text(error),))
            self._file = None
            self.words.clear()
            self._files.show()
            self._ways.show()
        self.page.update_head()

    def _go_back_to_it(self, file: Path) -> None:
        message = _("Your log is that of the copy now. Undo takes you back.")
        self.words.clear()
        if not self._phrase:
            go_back_to(self, file, message)
            return
        try:
            with unlocked(file, self._phrase) as opened:
                go_back_to(self, opened, message)
        except LogbookError as error:
            self.desk.told(error)


def _files_in_places(own: Path) -> list[tuple[Path, str]]:
    """Copies that lie at the top of the places where a person keeps files, the newest first."""
    found: list[tuple[float, Path, str]] = []
    for place in find_places():
        try:
            for file in place.folder.iterdir():
                is_one = file.name.removesuffix(ENDING).endswith(_SUFFIX) and file.is_file()
                if is_one and file != own and not file.name.startswith("."):
                    found.append((file.stat().st_mtime, file, place.name))
        except OSError:
            continue
    return [(file, name) for _time, file, name in sorted(found, reverse=True)[:_MOST_FILES]]


def _look_at(book: Book, file: Path, phrase: str, _course: Course) -> BroughtIn:
    if not phrase:
        return book.look_at_copy(file)
    with unlocked(file, phrase) as opened:
        return book.look_at_copy(opened)


def _bring_in(book: Book, file: Path, phrase: str, _course: Course) -> BroughtIn:
    if not phrase:
        return book.bring_in(file)[1]
    with unlocked(file, phrase) as opened:
        return book.bring_in(opened)[1]


SHARING_VIEWS = {
    "sharing": SharingView,
    "bring_in": BringInView,
    "two_versions": TwoVersionsView,
    **LOCKED_VIEWS,
}
