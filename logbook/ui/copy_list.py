"""The copies that can be gone back to, the newest first, each only after it was read and is good.

It serves the page of copies and the page of a log that can't be opened. Copies are read one after
the other off the main thread, so rows are only ever added below those that are there.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from logbook.book import forget_rebuild, prove_copy, try_rebuild
from logbook.domain.copies import OfferedCopy, ProvedCopy, TriedRebuild
from logbook.domain.moments import Moment
from logbook.ui.parts.big_button import BigButton
from logbook.ui.parts.columns import Columns
from logbook.ui.parts.paragraph import Paragraph
from logbook.ui.parts.subject_button import SubjectButton
from logbook.ui.theme import GAP, Look
from logbook.ui.work import Course, Work
from logbook.wording import _, ngettext
from logbook.wording.copies import copy_moment_text, copy_state_text
from logbook.wording.numbers import number_text

_AT_ONCE = 8


class CopyList(QWidget):
    """`chosen` carries the copy (a `ProvedCopy`) that was pressed, `proved_first` the newest one.

    `grown` tells that a row came, `settled` that nothing more is read now.
    """

    chosen = Signal(object)
    proved_first = Signal(object)
    grown = Signal()
    settled = Signal()

    def __init__(self, look: Look, work: Work, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look, self._work = look, work
        self._now: Moment | None = None
        self._waiting: list[OfferedCopy] = []
        self._proved: list[ProvedCopy] = []
        self._damaged = 0
        self._course: Course | None = None
        self._reads_until = _AT_ONCE
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GAP)
        self._rows = Columns(look, most=2, least_width=16)
        column.addWidget(self._rows)
        self.state = Paragraph(look)
        column.addWidget(self.state)
        self.more = BigButton(look, _("Show older copies"))
        self.more.clicked.connect(self._show_more)
        column.addWidget(self.more)
        self.state.hide()
        self.more.hide()

    def offer(self, copies: Sequence[OfferedCopy], now: Moment) -> None:
        """Begin to read these, and show those that are good."""
        self.stop()
        self._now = now
        self._waiting = list(copies)
        self._proved.clear()
        self._damaged = 0
        self._reads_until = _AT_ONCE
        self._rows.clear()
        self._go_on()

    def stop(self) -> None:
        """Read no further."""
        if self._course is not None:
            self._course.cancel()
            self._course = None

    @property
    def proved(self) -> tuple[ProvedCopy, ...]:
        """Those that are shown."""
        return tuple(self._proved)

    @property
    def is_reading(self) -> bool:
        """Whether a copy is being read now."""
        return self._course is not None

    def _go_on(self) -> None:
        if self._waiting and len(self._proved) < self._reads_until:
            copy = self._waiting.pop(0)
            self._course = self._work.prepare()
            self._course.done.connect(self._take)
            self._course.failed.connect(self._not_read)
            self._work.start(self._course, _Proving(copy))
        else:
            self._course = None
        self._tell()
        if self._course is None:
            self.settled.emit()

    def _take(self, proved: ProvedCopy | None) -> None:
        if proved is None:
            self._damaged += 1
        else:
            assert self._now is not None
            button = SubjectButton(
                self._look,
                copy_moment_text(proved.copy, self._now),
                copy_state_text(proved, self._now),
            )
            button.setProperty("place", len(self._proved))
            button.clicked.connect(self._choose)
            self._proved.append(proved)
            self._rows.add(button)
            if len(self._proved) == 1:
                self.proved_first.emit(proved)
        self._go_on()
        self.grown.emit()

    def _not_read(self, error: Exception) -> None:
        self._take(None)
        raise error

    def _choose(self) -> None:
        self.chosen.emit(self._proved[int(self.sender().property("place"))])

    def _show_more(self) -> None:
        self._reads_until += _AT_ONCE
        self._go_on()

    def _tell(self) -> None:
        told = []
        if self._course is not None:
            told.append(_("Reading the copies ..."))
        elif not self._proved:
            told.append(_("No good copy was found."))
        if self._damaged:
            told.append(
                ngettext(
                    "{n} copy is damaged and is not offered.",
                    "{n} copies are damaged and are not offered.",
                    self._damaged,
                ).format(n=number_text(self._damaged))
            )
        self.state.say(" ".join(told))
        self.more.setVisible(self._course is None and bool(self._waiting))


class _Proving:
    """The job that reads one copy."""

    def __init__(self, copy: OfferedCopy) -> None:
        self._copy = copy

    def __call__(self, _course: Course) -> ProvedCopy | None:
        return prove_copy(self._copy)


class Trying:
    """The job that makes a log from the journal beside `path`; `forget` removes what it made."""

    def __init__(self, path: Path) -> None:
        self._path = path
        self._is_wanted = True
        self.tried: TriedRebuild | None = None

    def __call__(self, _course: Course) -> TriedRebuild:
        self.tried = tried = try_rebuild(self._path)
        if not self._is_wanted:
            self.forget()
        return tried

    def forget(self) -> None:
        """It is in use, or no longer wanted."""
        self._is_wanted = False
        tried, self.tried = self.tried, None
        if tried is not None:
            forget_rebuild(tried)
