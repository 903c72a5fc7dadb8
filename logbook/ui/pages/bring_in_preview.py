"""What bringing in a file will do, told before it is done; then doing it, with Stop and Undo."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QProgressBar, QWidget

from logbook.book import Changed
from logbook.domain.errors import LogbookError
from logbook.domain.import_doubts import ImportDoubts
from logbook.exchange.layout_files import keep_layout
from logbook.exchange.refusals import reason_words
from logbook.exchange.refused_lines import refused_lines_file
from logbook.exchange.sentences import import_problem_text
from logbook.places import layouts_folder
from logbook.ui.importing import Preview, bring_in, read_file
from logbook.ui.pages.bring_in import FileState, FileView
from logbook.ui.pages.bring_in_doubts import DoubtList
from logbook.ui.parts.big_button import BigButton
from logbook.ui.parts.form_rows import Choice, TextField
from logbook.ui.parts.sentence import Sentence
from logbook.ui.parts.table import ReadTable
from logbook.ui.parts.view_page import ViewPage
from logbook.ui.saving_places import find_places, free_path
from logbook.ui.theme import BODY
from logbook.ui.work import Course
from logbook.wording import _
from logbook.wording.import_doubts import (
    beyond_meters_cells,
    beyond_meters_heads,
    beyond_meters_text,
    shared_minute_cells,
    shared_minute_heads,
    shared_minutes_text,
)
from logbook.wording.importing import (
    already_there_text,
    bring_in_text,
    brought_in_text,
    left_out_text,
    more_pages_text,
    noted_text,
    refused_text,
    strips_question,
    will_be_added_text,
)
from logbook.wording.numbers import number_text

_REFUSED_SHOWN = 5
_LONGEST_LINE = 60


class PreviewView(FileView):
    """Reads the file as soon as it comes up; nothing is written before *Bring in*."""

    back = "import_columns"

    def __init__(self, page: ViewPage, state: FileState) -> None:
        super().__init__(page, state)
        if self.importing.telling is not None:
            self.back = "import"  # nothing was asked of its columns
        self._course: Course | None = None
        self._is_writing = False
        self.doing = Sentence(self.look)
        self.bar = QProgressBar()
        self.bar.setRange(0, 100)
        self.bar.setTextVisible(False)
        self.bar.setMinimumHeight(self.look.theme.pixels(BODY))
        self.bar.setAccessibleName(_("How far it is"))
        self.stop = BigButton(self.look, _("Stop"))
        self.stop.clicked.connect(self._stop)
        self.added = Sentence(self.look)
        self.others = Sentence(self.look)
        self.refused = Sentence(self.look)
        self.table = ReadTable(self.look, _("Lines that can’t be read"))
        self.save_refused = BigButton(self.look, _("Save these lines as a file"))
        self.save_refused.clicked.connect(self._save_refused)
        self.shared = DoubtList(self.look, _("Two readings at one time"))
        self.beyond = DoubtList(self.look, _("Numbers your meters can’t show"))
        self.strips = Choice(
            self.look,
            _("Strips"),
            [(True, _("Yes, count them")), (False, _("No, they are counted"))],
        )
        self.strips.chosen.connect(self._take_strips)
        self.name = TextField(
            self.look,
            _("Remember these columns as"),
            help_text=_("A name, for the next file of this kind. It can be left out."),
        )
        for part in (
            self.doing, self.bar, self.stop, self.added, self.others, self.strips, self.refused,
            self.table, self.save_refused, self.shared, self.beyond, self.name.row,
        ):  # fmt: skip
            self.column.addWidget(part)
        self.column.addStretch(1)
        self._show()

    def title(self) -> str:
        if self._is_writing:
            return _("The readings are being brought in")
        return _("What will be brought in?")

    def main_text(self) -> str:
        preview = self.importing.preview
        if preview is None or self._course is not None or self._lacks_strips:
            return ""
        return bring_in_text(len(preview.new))

    @property
    def is_changed(self) -> bool:
        return self._course is not None  # kept until it has told how it went

    def first_field(self) -> QWidget:
        return self

    @property
    def _lacks_strips(self) -> bool:
        preview = self.importing.preview
        return preview is not None and preview.strips is not None and self.strips.value is None

    def refresh(self, changed: Changed | None) -> None:
        """What came into the log meanwhile counts."""
        if self._course is None and self.importing.is_ready:
            self._read()

    # --- reading ---------------------------------------------------------------------------------

    def _read(self) -> None:
        try:
            layout = self.importing.layout_in_force()
        except LogbookError as error:
            self.desk.say(import_problem_text(error))
            return
        desk = self.desk
        job = partial(
            read_file,
            path=self.importing.path,
            layout=layout,
            book=desk.book,
            now=desk.now().instant,
        )
        self._start(job, self._has_read)

    def _start(self, job: object, done: object) -> None:
        course = self.desk.work.prepare()
        course.done.connect(done)
        course.failed.connect(self._failed)
        course.progressed.connect(self.bar.setValue)
        course.ended.connect(self._ended, Qt.ConnectionType.QueuedConnection)
        self._course = course
        self.bar.setValue(0)
        self._show()
        self.desk.work.start(course, job)  # type: ignore[arg-type]

    def _has_read(self, preview: Preview | None) -> None:
        self.importing.preview = preview

    def _failed(self, error: Exception) -> None:
        self._is_writing = False
        if not isinstance(error, LogbookError):
            raise error
        self.desk.say(import_problem_text(error))

    def _ended(self) -> None:
        """The job is over, also one that was stopped."""
        course, self._course = self._course, None
        if self.state.importing is None:
            return  # it is done, and another view is up
        if course is not None and course.is_cancelled:
            self._is_writing = False
            self.desk.say(_("Stopped. Nothing was brought in."))
        self._show()

    def _stop(self) -> None:
        if self._course is not None:
            self._course.cancel()
            self.stop.setEnabled(False)

    # --- showing ---------------------------------------------------------------------------------

    def _show(self) -> None:
        is_busy, preview = self._course is not None, self.importing.preview
        self.doing.say(self._doing_text() if is_busy else "")
        self.bar.setVisible(is_busy)
        self.stop.setVisible(is_busy)
        self.stop.setEnabled(True)
        shown = preview if not is_busy else None
        for part in (self.added, self.others, self.refused):
            part.say("")
        hidden = (self.table, self.save_refused, self.shared, self.beyond, self.strips)
        for widget in (*hidden, self.name.row):
            widget.setVisible(False)
        if shown is not None:
            self._show_preview(shown)
        self.page.update_head()

    def _doing_text(self) -> str:
        if self._is_writing:
            return _("A copy of the log was made before. Stop leaves the log as it was.")
        return _("The file is being read. Nothing is written yet.")

    def _show_preview(self, preview: Preview) -> None:
        found = preview.found
        self.added.say(will_be_added_text(len(preview.new)))
        told = [already_there_text(preview.already_there), noted_text(found.noted)]
        told += [left_out_text(word, count) for word, count in sorted(found.skipped.items())]
        told.append(more_pages_text() if found.has_more_pages else "")
        self.others.say(" ".join(filter(None, told)))
        self.refused.say(refused_text(len(found.refused)))
        if found.refused:
            self.table.show_rows(
                [_("Where"), _("Why"), _("What it says")],
                [
                    [_line_text(one.number), reason_words(one.reason), _short(one.text)]
                    for one in found.refused[:_REFUSED_SHOWN]
                ],
            )
        self.table.setVisible(bool(found.refused))
        self.save_refused.setVisible(bool(found.refused))
        self._show_doubts(preview.doubts)
        if preview.strips is not None:
            self.strips.label.setText(strips_question(preview.strips.count))
        self.strips.setVisible(preview.strips is not None)
        is_known = self.importing.layout is not None or self.importing.draft is None
        self.name.row.setVisible(bool(preview.new) and not is_known)

    def _show_doubts(self, doubts: ImportDoubts) -> None:
        self.shared.show_facts(
            shared_minutes_text(doubts),
            shared_minute_heads(),
            doubts.shared_minutes,
            shared_minute_cells,
        )
        self.beyond.show_facts(
            beyond_meters_text(doubts),
            beyond_meters_heads(),
            doubts.beyond_meters,
            beyond_meters_cells,
        )

    def _take_strips(self, uses: bool) -> None:
        self.importing.uses_strips = uses
        self.page.update_head()

    def _save_refused(self) -> None:
        preview = self.importing.preview
        if preview is None:
            return
        place = find_places()[0]
        name = _("Lines that were not read of {file}").format(file=self.importing.path.stem)
        path = free_path(place.folder, name, ".csv")
        try:
            with refused_lines_file(path, preview.found.refused):
                pass
        except LogbookError as error:
            self.desk.told(error)
            return
        self.desk.say(_("Saved as “{name}” {place}.").format(name=path.stem, place=place.phrase))

    # --- bringing in -----------------------------------------------------------------------------

    def do_main(self) -> None:
        preview, desk = self.importing.preview, self.desk
        if preview is None:
            return
        if desk.only_read_because is not None:
            desk.told(desk.only_read_because)
            return
        if not self._keep_layout():
            return
        self._is_writing = True
        job = partial(
            bring_in,
            preview=preview,
            book=desk.book,
            name=self.importing.path.name,
            uses_strips=bool(self.importing.uses_strips),
        )
        self._start(job, self._has_written)

    def _keep_layout(self) -> bool:
        name, draft = self.name.text().strip(), self.importing.draft
        if not name or draft is None or self.importing.layout is not None:
            return True
        try:
            keep_layout(layouts_folder(), name, draft.table(name))
        except LogbookError as error:
            self.desk.say(import_problem_text(error))
            return False
        return True

    def _has_written(self, count: int) -> None:
        self._is_writing = False
        self._course = None
        self.state.importing = None
        message = brought_in_text(count) if count else _("Nothing new is in this file.")
        if self.page.view is self:
            self.page.turn_to("main", message=message)
        else:
            self.page.forget("import_preview")
            self.desk.say(message)


def _line_text(number: int) -> str:
    return _("Line {number}").format(number=number_text(number))


def _short(text: str) -> str:
    plain = " ".join(text.split())
    return plain if len(plain) <= _LONGEST_LINE else plain[: _LONGEST_LINE - 1] + "…"
