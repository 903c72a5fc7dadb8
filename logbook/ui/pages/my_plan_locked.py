"""Views of *My plan*: a copy for a USB stick that opens only with its words, and their sheet."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject

from logbook.book import Book, Changed
from logbook.domain.errors import LogbookError
from logbook.exchange.locked_copy import ENDING, lock_log, locked_name
from logbook.exchange.phrases import WORDS_FOR_COPY, make_phrase
from logbook.places import private_folder
from logbook.ui.desk import Desk
from logbook.ui.pages.visit_out import PrintView, SaveView
from logbook.ui.pages.visit_paper import ReportPaper
from logbook.ui.parts.big_button import BigButton
from logbook.ui.parts.columns import Columns
from logbook.ui.parts.paragraph import Paragraph
from logbook.ui.parts.sentences import Sentences
from logbook.ui.parts.view_page import View, ViewPage
from logbook.ui.saving_places import free_path
from logbook.ui.work import Course
from logbook.wording import _
from logbook.wording.dates import day_text
from logbook.wording.numbers import number_text
from logbook.wording.problems import problem_text

if TYPE_CHECKING:
    from logbook.report.options import Paper
    from logbook.report.recovery_sheet import LockedCopy
    from logbook.ui.pages.my_plan import MyPlan


def sheet_of(page: ViewPage) -> LockedSheet:
    """The words in the making, and their sheet."""
    plan: MyPlan = page  # type: ignore[assignment]
    return plan.locked_sheet


class LockedSheet(ReportPaper):
    """Words for one locked copy, and the sheet with them; new words once the copy is saved."""

    def __init__(self, desk: Desk, parent: QObject | None = None) -> None:
        super().__init__(desk, parent)
        self.begin_anew()

    def begin_anew(self) -> None:
        """Other words, for another copy."""
        self.phrase = ""
        self.file_name = ""
        self._made_at = self._desk.now()

    def draw(self) -> None:
        """Draw the words, unless they are drawn already."""
        if not self.phrase:
            self.phrase = make_phrase(WORDS_FOR_COPY)
            self._made_at = self._desk.now()
            self.file_name = locked_name(self._desk.book.path, self._made_at)
            self.spoil()

    @property
    def name(self) -> str:
        return _("How to open my locked copy {day}").format(day=day_text(self._desk.today()))

    @property
    def making_text(self) -> str:
        return _("Making the sheet ...")

    def note_given_out(self) -> None:
        """Nothing waits for it."""

    def job(self) -> Callable[[Course], bytes]:
        from logbook.report.recovery_sheet import LockedCopy

        person = self._desk.book.settings.person_name
        told = LockedCopy(person, self.file_name, self._made_at, self.phrase)
        return partial(_make_sheet, told, self.options.paper)


class LockedView(View):
    """The words, the sheet with them, and then the copy."""

    back = "sharing"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        sheet_of(page).draw()
        words = Columns(self.look, most=4, least_width=8)
        for number, word in enumerate(sheet_of(page).phrase.split(), start=1):
            text = _("{n}. {word}").format(n=number_text(number), word=word)
            words.add(Paragraph(self.look, text, "title"))
        self.column.addWidget(words)
        self._told = Sentences(self.look)
        self.column.addWidget(self._told)
        self._told.say(
            (
                _("Without these words nobody can open the copy. Print the sheet first."),
                _("Keep the sheet apart from the stick. The log on this computer stays open."),
            )
        )
        ways = Columns(self.look, most=2, least_width=14)
        for text, slot in (
            (_("Print the sheet"), self._to_print),
            (_("Save the sheet as PDF"), self._to_save),
        ):
            button = BigButton(self.look, text)
            button.clicked.connect(slot)
            ways.add(button)
        self.column.addWidget(ways)
        self.column.addStretch(1)

    def title(self) -> str:
        return _("The words that open the copy")

    def main_text(self) -> str:
        return _("Save the locked copy")

    def do_main(self) -> None:
        self.page.turn_to("locked_save")

    def _to_print(self) -> None:
        self.page.turn_to("locked_print")

    def _to_save(self) -> None:
        self.page.turn_to("locked_sheet_save")


class LockedPrintView(PrintView):
    """The sheet to a printer."""

    back = "locked"
    saving = "locked_sheet_save"

    def find_paper(self, page: ViewPage) -> ReportPaper:
        sheet_of(page).draw()
        return sheet_of(page)

    def title(self) -> str:
        return _("Print the sheet with the words")


class LockedSheetSaveView(SaveView):
    """The sheet to a file."""

    back = "locked"

    def find_paper(self, page: ViewPage) -> ReportPaper:
        sheet_of(page).draw()
        return sheet_of(page)

    def title(self) -> str:
        return _("Where should the sheet be saved? Not on the same stick.")


class LockedSaveView(SaveView):
    """The locked copy itself to a stick or a folder; it is read back before it is told."""

    back = "locked"
    ending = ENDING

    def find_paper(self, page: ViewPage) -> ReportPaper:
        sheet_of(page).draw()
        return sheet_of(page)

    def title(self) -> str:
        return _("Where should the locked copy go?")

    def refresh(self, changed: Changed | None) -> None:
        name = sheet_of(self.page).file_name
        self._name.say(_("It will be called “{name}”.").format(name=name))

    def _go_on(self) -> None:
        if self._place is None or self._path is not None:
            return
        sheet = sheet_of(self.page)
        self._path = free_path(
            self._place.folder, sheet.file_name.removesuffix(self.ending), self.ending
        )
        course = self.desk.work.prepare()
        course.done.connect(self._saved)
        course.failed.connect(self._not_saved)
        self.desk.work.start(course, partial(_lock, self.desk.book, self._path, sheet.phrase))

    def _saved(self) -> None:
        place = self._place
        self._place = self._path = None
        if place is None:
            return
        message = _("The locked copy is {place}. It was read back and opens with its words.")
        sheet_of(self.page).begin_anew()
        text = message.format(place=place.phrase)
        if self.page.view is self:
            self.page.turn_to("sharing", message=text)
        else:
            self.desk.say(text)

    def _not_saved(self, error: Exception) -> None:
        self._place = self._path = None
        if not isinstance(error, LogbookError):
            raise error
        self.desk.say(problem_text(error))


def _make_sheet(told: LockedCopy, paper: Paper, _course: Course) -> bytes:
    from logbook.report.recovery_sheet import recovery_sheet

    return recovery_sheet(told, paper)


def _lock(book: Book, path: Path, phrase: str, _course: Course) -> None:
    if not path.parent.exists():
        private_folder(path.parent)
    lock_log(book.make_copy, path, phrase)


LOCKED_VIEWS = {
    "locked": LockedView,
    "locked_print": LockedPrintView,
    "locked_sheet_save": LockedSheetSaveView,
    "locked_save": LockedSaveView,
}
