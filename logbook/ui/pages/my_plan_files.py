"""Views of *My plan*: the log as a file for a spreadsheet or for the computer of a clinic."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from functools import partial

from PySide6.QtCore import QObject

from logbook.domain.whole_log import WholeLog
from logbook.ui.desk import Desk
from logbook.ui.pages.visit_out import SaveView
from logbook.ui.pages.visit_paper import ReportPaper
from logbook.ui.parts.columns import Columns
from logbook.ui.parts.sentences import Sentences
from logbook.ui.parts.subject_button import SubjectButton
from logbook.ui.parts.view_page import View, ViewPage
from logbook.ui.work import Course
from logbook.wording import _
from logbook.wording.files_for_others import (
    FileForOthers,
    file_kind_text,
    file_label,
    file_name,
    not_encrypted,
    what_it_holds,
)

_VIEW = {kind: f"files_{kind}" for kind in FileForOthers}


class FilesView(View):
    """Which file, in three buttons."""

    back = "home"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        told = Sentences(self.look)
        told.say(
            (
                _("Another program can read such a file. Your log stays as it is."),
                not_encrypted(),
            )
        )
        self.column.addWidget(told)
        columns = Columns(self.look, most=3, least_width=12)
        for kind, view in _VIEW.items():
            button = SubjectButton(self.look, file_label(kind), file_kind_text(kind))
            button.setProperty("view", view)
            button.clicked.connect(self._go)
            columns.add(button)
        self.column.addWidget(columns)
        self.column.addStretch(1)

    def title(self) -> str:
        return _("A file for which program?")

    def _go(self) -> None:
        self.page.turn_to(str(self.sender().property("view")))


class LogFile(ReportPaper):
    """The log as one of these files, made like the report."""

    def __init__(self, kind: FileForOthers, desk: Desk, parent: QObject) -> None:
        super().__init__(desk, parent)
        self._kind = kind

    @property
    def name(self) -> str:
        return file_name(self._kind, self._desk.today())

    @property
    def making_text(self) -> str:
        return _("Making the file ...")

    @property
    def failed_text(self) -> str:
        return _("The file could not be made. What is in the log is safe.")

    def note_given_out(self) -> None:
        """Nothing waits for it."""

    def job(self) -> Callable[[Course], bytes]:
        return partial(_make, self._kind, self._desk.book.whole_log(), self._desk.now().instant)


class SaveFileView(SaveView):
    """What is in the file, and where it is saved."""

    back = "files"
    kind = FileForOthers.READINGS

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        told = Sentences(self.look)
        told.say(what_it_holds(self.kind))
        self.column.insertWidget(0, told)

    def find_paper(self, page: ViewPage) -> ReportPaper:
        return LogFile(self.kind, page.desk, self)

    def title(self) -> str:
        return _("Where should the file be saved?")

    def name_text(self) -> str:
        return _("It will be called “{name}”.")

    def not_saved_text(self) -> str:
        return _("The file could not be saved {place}. Choose another place.")


class ReadingsFileView(SaveFileView):
    """The readings for a spreadsheet."""

    ending = ".csv"


class EverythingFileView(SaveFileView):
    """All tables for a spreadsheet."""

    ending = ".zip"
    kind = FileForOthers.EVERYTHING


class ClinicFileView(SaveFileView):
    """The FHIR file."""

    ending = ".json"
    kind = FileForOthers.CLINIC


FILE_VIEWS: dict[str, Callable[[ViewPage], View]] = {
    "files": FilesView,
    _VIEW[FileForOthers.READINGS]: ReadingsFileView,
    _VIEW[FileForOthers.EVERYTHING]: EverythingFileView,
    _VIEW[FileForOthers.CLINIC]: ClinicFileView,
}


def _make(kind: FileForOthers, log: WholeLog, now: datetime, _course: Course) -> bytes:
    if kind is FileForOthers.CLINIC:
        from logbook.exchange.fhir_bundle import fhir_bundle

        return fhir_bundle(log, now)
    from logbook.exchange.log_export import reading_table, table_archive

    return reading_table(log) if kind is FileForOthers.READINGS else table_archive(log)
