"""Views of the page *Visit*: the report to a printer, and the report to a file."""

from __future__ import annotations

import errno
from functools import partial
from pathlib import Path

from PySide6.QtWidgets import QFileDialog

from logbook.book import Changed
from logbook.domain.errors import LogbookError
from logbook.places import private_folder
from logbook.ui import printing
from logbook.ui.pages.visit_choices import paper_of
from logbook.ui.pages.visit_paper import ReportPaper, State
from logbook.ui.parts.big_button import BigButton
from logbook.ui.parts.columns import Columns
from logbook.ui.parts.form_rows import Choice
from logbook.ui.parts.paragraph import Paragraph
from logbook.ui.parts.view_page import View, ViewPage
from logbook.ui.printing import AskingFailed, Printers, PrintingFailed, PrintJob
from logbook.ui.saving_places import SavingPlace, find_places, free_path
from logbook.ui.work import Course
from logbook.whole_file import write_whole
from logbook.wording import _, ngettext

_NO_ROOM = (errno.ENOSPC, errno.EDQUOT)


class PrintView(View):
    """Which printer, how many copies; the usual printer and one copy are chosen already."""

    back = "home"
    saving = "save"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        self.paper = self.find_paper(page)
        self._is_wanted = False
        self._job: PrintJob | None = None
        self._told = Paragraph(self.look)
        self.column.addWidget(self._told)
        self.which: Choice | None = None
        self._printers = Columns(self.look, most=1)
        self.column.addWidget(self._printers)
        copies = [(n, str(n)) for n in (1, 2, 3, 4)]
        self.copies = Choice(self.look, _("How many copies?"), copies, columns=len(copies))
        self.copies.choose(1)
        self.copies.hide()
        self.column.addWidget(self.copies)
        self.again = BigButton(self.look, _("Look for printers again"))
        self.again.clicked.connect(self._ask)
        self.again.hide()
        self.column.addWidget(self.again)
        self.save = BigButton(self.look, _("Save as PDF instead"))
        self.save.clicked.connect(self._to_save)
        self.column.addWidget(self.save)
        self.column.addStretch(1)
        self.paper.changed.connect(self._go_on)
        self._ask()

    def find_paper(self, page: ViewPage) -> ReportPaper:
        """What is printed."""
        return paper_of(page)

    def title(self) -> str:
        return _("Print the report")

    def main_text(self) -> str:
        return _("Print") if self.which is not None else ""

    def do_main(self) -> None:
        if self.which is None or self.which.value is None:
            self.desk.say(_("No printer is chosen. Press the one that you want."))
            return
        if self._is_wanted:
            return
        self._is_wanted = True
        self.desk.say(_("Printing ..."))
        self._go_on()

    @property
    def is_changed(self) -> bool:
        return self._is_wanted  # kept until it has told how it went

    def refresh(self, changed: Changed | None) -> None:
        self.paper.want()

    # --- the printers -------------------------------------------------------------------------

    def _ask(self) -> None:
        self._told.say(_("Looking for printers ..."))
        self.again.hide()
        course = self.desk.work.prepare()
        course.done.connect(self._show_printers)
        course.failed.connect(self._show_asking_failed)
        self.desk.work.start(course, _find_printers)

    def _show_printers(self, found: Printers) -> None:
        if self.which is not None:
            return
        if not found.names:
            self._told.say(printing.no_printers_text())
            self.again.show()
            return
        self._told.say("")
        options = [(name, _readable(name)) for name in found.names]
        self.which = Choice(self.look, _("Which printer?"), options)
        self.which.choose(found.usual or found.names[0])
        self._printers.add(self.which)
        self.copies.show()
        self.page.update_head()

    def _show_asking_failed(self, error: Exception) -> None:
        self._told.say(printing.asking_failed_text())
        self.again.show()
        if not isinstance(error, AskingFailed):
            raise error

    # --- the paper ----------------------------------------------------------------------------

    def _go_on(self) -> None:
        """Print as soon as the report is there."""
        if not self._is_wanted or self._job is not None or self.which is None:
            return
        if self.paper.state is State.NOT_MADE:
            self.paper.want()
        elif self.paper.state is State.FAILED:
            self._is_wanted = False
            self.desk.say(self.paper.problem)
        elif self.paper.state is State.MADE:
            self._job = PrintJob(
                self.paper.content,
                str(self.which.value),
                int(self.copies.value),
                self.paper.options.paper,
                self.paper.name,
            )
            course = self.desk.work.prepare()
            course.done.connect(self._printed)
            course.failed.connect(self._not_printed)
            self.desk.work.start(course, partial(_print_out, self._job))

    def _printed(self) -> None:
        job, self._job, self._is_wanted = self._job, None, False
        if job is not None:
            text = ngettext(
                "Sent to the printer {printer}: {n} copy.",
                "Sent to the printer {printer}: {n} copies.",
                job.copies,
            )
            message = text.format(printer=_readable(job.printer), n=job.copies)
            self.paper.note_given_out()
            _lead_back(self, message)

    def _not_printed(self, error: Exception) -> None:
        job, self._job, self._is_wanted = self._job, None, False
        self.desk.say(printing.printing_failed_text(_readable(job.printer) if job else ""))
        if not isinstance(error, PrintingFailed):
            raise error

    def _to_save(self) -> None:
        self.page.turn_to(self.saving)


class SaveView(View):
    """One big button for each place; a file that is there already is never written over."""

    back = "home"
    ending = ".pdf"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        self.paper = self.find_paper(page)
        self._place: SavingPlace | None = None
        self._path: Path | None = None
        self._name = Paragraph(self.look)
        self.column.addWidget(self._name)
        self.places: list[SavingPlace] = []
        self._buttons = Columns(self.look, most=2, least_width=16)
        self.column.addWidget(self._buttons)
        self.again = BigButton(self.look, _("I plugged in a USB stick"))
        self.again.clicked.connect(self._look_again)
        self.column.addWidget(self.again)
        self.elsewhere = BigButton(self.look, _("Another folder"))
        self.elsewhere.clicked.connect(self._choose_folder)
        self.column.addWidget(self.elsewhere)
        self.column.addStretch(1)
        self.paper.changed.connect(self._go_on)
        self._show_places()

    def find_paper(self, page: ViewPage) -> ReportPaper:
        """What is saved."""
        return paper_of(page)

    def title(self) -> str:
        return _("Where should the report be saved?")

    @property
    def is_changed(self) -> bool:
        return self._place is not None  # kept until it has told how it went

    def refresh(self, changed: Changed | None) -> None:
        self.paper.want()
        self._name.say(self.name_text().format(name=self.paper.name))

    def name_text(self) -> str:
        """What the file will be called."""
        return _("It will be called “{name}”, a PDF file.")

    def not_saved_text(self) -> str:
        """What is said when it can't be saved there."""
        return _("The report could not be saved {place}. Choose another place.")

    def _show_places(self) -> None:
        self._buttons.clear()
        self.places = find_places()
        for index, place in enumerate(self.places):
            button = BigButton(self.look, place.name)
            button.describe(str(place.folder))
            button.setProperty("place", index)
            button.clicked.connect(self._take_place)
            self._buttons.add(button)

    def _look_again(self) -> None:
        before = len(self.places)
        self._show_places()
        self.page.update_head()
        if len(self.places) == before:
            self.desk.say(_("No other stick was found. Wait a moment after plugging it in."))

    def _take_place(self) -> None:
        self._save_in(self.places[int(self.sender().property("place"))])

    def _choose_folder(self) -> None:
        dialog = QFileDialog(self, self.title())
        dialog.setFileMode(QFileDialog.FileMode.Directory)
        dialog.setOption(QFileDialog.Option.ShowDirsOnly)
        dialog.fileSelected.connect(self._take_folder)
        dialog.finished.connect(dialog.deleteLater)
        dialog.open()

    def _take_folder(self, name: str) -> None:
        folder = Path(name)
        phrase = _("in the folder {folder}").format(folder=folder)
        self._save_in(SavingPlace(folder, folder.name, phrase))

    def _save_in(self, place: SavingPlace) -> None:
        if self._place is None:
            self._place = place
            self.desk.say(_("Saving ..."))
            self._go_on()

    def _go_on(self) -> None:
        """Save as soon as the report is there."""
        if self._place is None or self._path is not None:
            return
        if self.paper.state is State.NOT_MADE:
            self.paper.want()
        elif self.paper.state is State.FAILED:
            self._place = None
            self.desk.say(self.paper.problem)
        elif self.paper.state is State.MADE:
            self._path = free_path(self._place.folder, self.paper.name, self.ending)
            course = self.desk.work.prepare()
            course.done.connect(self._saved)
            course.failed.connect(self._not_saved)
            self.desk.work.start(course, partial(_save, self._path, self.paper.content))

    def _saved(self) -> None:
        place, path = self._place, self._path
        self._place = self._path = None
        if place is not None and path is not None:
            message = _("Saved as “{name}” {place}.").format(name=path.stem, place=place.phrase)
            self.paper.note_given_out()
            _lead_back(self, message)

    def _not_saved(self, error: Exception) -> None:
        place = self._place
        self._place = self._path = None
        phrase = "" if place is None else place.phrase
        if isinstance(error, LogbookError) and error.facts.get("errno") in _NO_ROOM:
            words = _("There is no room left {place}. Make room, or choose another place.")
        else:
            words = self.not_saved_text()
        self.desk.say(words.format(place=phrase))
        if not isinstance(error, (LogbookError, OSError)):
            raise error


def _lead_back(view: View, message: str) -> None:
    """Say that it is done; whoever has turned to something else meanwhile stays there."""
    if view.page.view is view:
        view.page.turn_to(view.back, message=message)
    else:
        view.desk.say(message)


def _readable(printer: str) -> str:
    """A printer's name as a person would say it: print services put lines for spaces."""
    return printer.replace("_", " ")


def _find_printers(_course: Course) -> Printers:
    return printing.find_printers()


def _print_out(job: PrintJob, _course: Course) -> None:
    printing.print_out(job)


def _save(path: Path, content: bytes, _course: Course) -> None:
    if not path.parent.exists():
        private_folder(path.parent)
    write_whole(path, content)
