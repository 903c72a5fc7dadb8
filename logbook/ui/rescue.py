"""The page for a log that can't be opened: what is the matter, and the ways back.

It offers the newest good copy, older ones, copies on a stick, and the log made again from its
journal. What lies in the log's place is set aside and never deleted. Only where nothing at all can
be gone back to, a new log is offered. `outcome` tells what was done.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from enum import StrEnum
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtGui import QCloseEvent
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from logbook.book import find_offers, restore_log
from logbook.domain.copies import OfferedCopy, ProvedCopy, Restored, TriedRebuild
from logbook.domain.errors import LogbookError
from logbook.domain.moments import Moment
from logbook.ui.copy_list import CopyList, Trying
from logbook.ui.parts.big_button import BigButton, ButtonKind
from logbook.ui.parts.scroll_page import ScrollPage
from logbook.ui.parts.sentences import Sentences
from logbook.ui.parts.texts import Words
from logbook.ui.saving_places import find_sticks, folders_of_copies
from logbook.ui.theme import GAP, Look
from logbook.ui.work import Course, Work
from logbook.wording import _
from logbook.wording.copies import cannot_open_text, copy_moment_text, rebuilt_text
from logbook.wording.problems import problem_text


class Outcome(StrEnum):
    """What the person did."""

    CLOSED = "closed"
    WENT_BACK = "went_back"
    BEGIN_NEW = "begin_new"


class RescueWindow(QWidget):
    """`error` is why the log at `path` can't be opened; `clock` and `zone` tell the moment."""

    def __init__(
        self,
        look: Look,
        path: Path,
        error: LogbookError,
        clock: Callable[[], datetime],
        zone: Callable[[], str],
    ) -> None:
        super().__init__()
        self.outcome = Outcome.CLOSED
        self.restored: Restored | None = None
        self._path, self._clock = path, clock
        self._now = Moment.at(clock(), zone())
        self._work = Work(self)
        self._course: Course | None = None
        self._best: ProvedCopy | None = None
        self._has_looked = False
        self._trying = Trying(path)
        self.setObjectName("window")
        self.setWindowTitle(_("Fingerstick Logbook"))
        self.setStyleSheet(look.sheet_rules())
        self.setAttribute(Qt.WidgetAttribute.WA_StyledBackground)
        self._build(look, cannot_open_text(error))
        self._look_for_copies()
        self._try_journal()

    def _build(self, look: Look, text: str) -> None:
        content = QWidget()
        body = QVBoxLayout(content)
        body.setContentsMargins(0, 0, 0, 0)
        body.setSpacing(2 * GAP)
        body.addWidget(Words(look, text))
        body.addWidget(
            Words(look, _("Whatever you choose, what is there now is kept under another name."))
        )
        body.addWidget(Words(look, _("Go back to one of these copies"), "heading"))
        self.copies = CopyList(look, self._work)
        self.copies.chosen.connect(self._go_back)
        self.copies.proved_first.connect(self._take_best)
        self.copies.settled.connect(self._settle)
        body.addWidget(self.copies)
        self.sticks = BigButton(look, _("Look for copies on a stick"))
        self.sticks.clicked.connect(self._look_for_copies)
        body.addWidget(self.sticks)
        body.addWidget(Words(look, _("Or make the log again from its journal"), "heading"))
        self.journal = Sentences(look)
        self.journal.say((_("Reading the journal ..."),))
        body.addWidget(self.journal)
        self.use_journal = BigButton(look, _("Make the log again from its journal"))
        self.use_journal.clicked.connect(self._use_journal)
        self.use_journal.hide()
        body.addWidget(self.use_journal)
        self.begin_new = BigButton(look, _("Begin a new log"))
        self.begin_new.clicked.connect(self._begin_new)
        self.begin_new.hide()
        body.addWidget(self.begin_new)
        body.addStretch(1)
        self.message = Words(look, role="heading")
        self.message.hide()
        self.close_button = BigButton(look, _("Close"), ButtonKind.TALL)
        self.close_button.clicked.connect(self.close)
        self.main_button = BigButton(look, "", ButtonKind.MAIN)
        self.main_button.clicked.connect(self._do_main)
        self.main_button.hide()
        row = QHBoxLayout()
        row.addStretch(1)
        row.addWidget(self.close_button)
        row.addWidget(self.main_button)
        column = QVBoxLayout(self)
        column.setContentsMargins(32, 24, 32, 24)
        column.setSpacing(2 * GAP)
        column.addWidget(Words(look, _("Your log can't be opened"), "title"))
        column.addWidget(ScrollPage(look, content), 1)
        column.addWidget(self.message)
        column.addLayout(row)
        self.resize(1280, 660)

    # --- what there is --------------------------------------------------------------------------

    def _look_for_copies(self) -> None:
        folders = [one for stick in find_sticks() for one in folders_of_copies(stick.folder)]
        self.copies.offer(find_offers(self._path, folders), self._now)

    def _take_best(self, proved: ProvedCopy) -> None:
        """The newest good copy is what is offered first."""
        self._best = proved
        moment = copy_moment_text(proved.copy, self._now)
        self.main_button.setText(_("Go back to: {moment}").format(moment=moment))
        self.main_button.show()
        self._settle()

    def _try_journal(self) -> None:
        course = self._work.prepare()
        course.done.connect(self._offer_journal)
        course.failed.connect(self._no_journal)
        self._work.start(course, self._trying)

    def _offer_journal(self, tried: TriedRebuild) -> None:
        self._has_looked = True
        self.journal.say(rebuilt_text(tried, self._now))
        self.use_journal.show()
        self._settle()

    def _no_journal(self, error: Exception) -> None:
        self._has_looked = True
        self.journal.say((_("There is no journal that a log can be made from."),))
        self._settle()
        if not isinstance(error, (LogbookError, OSError)):
            raise error

    def _settle(self) -> None:
        """A new log is offered only where there is nothing to go back to."""
        is_all = self._has_looked and not self.copies.is_reading
        has_way = bool(self.copies.proved) or self._trying.tried is not None
        self.begin_new.setVisible(is_all and not has_way)
        tried, best = self._trying.tried, self._best
        if tried is not None and best is not None:
            told = rebuilt_text(tried, self._now)
            if tried.rebuilt.changes > best.copy.changes:
                told.append(_("It also has what was written after the newest copy."))
            self.journal.say(told)

    # --- what is done ---------------------------------------------------------------------------

    def _do_main(self) -> None:
        if self._best is not None:
            self._go_back(self._best)

    def _go_back(self, proved: ProvedCopy) -> None:
        self._restore(proved.copy)

    def _use_journal(self) -> None:
        tried = self._trying.tried
        if tried is not None:
            self._restore(tried)

    def _restore(self, wanted: OfferedCopy | TriedRebuild) -> None:
        if self._course is not None:
            return
        self.copies.stop()
        self._say(_("Going back ..."))
        self._course = self._work.prepare()
        self._course.done.connect(self._went_back)
        self._course.failed.connect(self._failed)
        self._work.start(self._course, _Restoring(self._path, Path(wanted.file), self._clock()))

    def _went_back(self, restored: Restored) -> None:
        self._course = None
        self.restored = restored
        self.outcome = Outcome.WENT_BACK
        self.close()

    def _failed(self, error: Exception) -> None:
        self._course = None
        if not isinstance(error, LogbookError):
            raise error
        self._say(problem_text(error))

    def _begin_new(self) -> None:
        self.outcome = Outcome.BEGIN_NEW
        self.close()

    def _say(self, text: str) -> None:
        self.message.say(text)

    def closeEvent(self, event: QCloseEvent) -> None:
        self._work.finish()
        self._trying.forget()
        event.accept()


class _Restoring:
    def __init__(self, path: Path, copy: Path, at: datetime) -> None:
        self._path, self._copy, self._at = path, copy, at

    def __call__(self, _course: Course) -> Restored:
        # Undo must not lead back to a log that no window can show.
        return restore_log(self._path, self._copy, self._at, can_be_undone=False)
