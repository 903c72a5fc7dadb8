"""When the program itself is at fault: what was typed is kept, and it is said once, in plain words.

Notes for whoever mends it go to a file in the state folder. They hold the kind of the error and the
lines of code, never a value: an error's text may repeat what a person typed.
"""

from __future__ import annotations

import contextlib
import os
import sys
import traceback
from pathlib import Path
from types import TracebackType

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from logbook.domain.errors import LogbookError
from logbook.ui.desk import Desk
from logbook.ui.parts.big_button import BigButton, ButtonKind
from logbook.ui.parts.texts import Words
from logbook.ui.theme import Look
from logbook.wording import _
from logbook.wording.problems import unexpected_text

NOTES_NAME = "problems.txt"
_LARGEST_NOTES = 200_000


class Problems(QObject):
    """Takes what no slot caught. `met` asks others to keep what was typed, at once."""

    met = Signal()

    def __init__(self, desk: Desk, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._before = sys.excepthook
        self._told: set[str] = set()

    def install(self) -> None:
        """Take uncaught errors from now on."""
        self._before = sys.excepthook
        sys.excepthook = self.take

    def restore(self) -> None:
        """Leave them to whoever took them before."""
        sys.excepthook = self._before

    def take(
        self, kind: type[BaseException], error: BaseException, trace: TracebackType | None
    ) -> None:
        """One uncaught error."""
        if issubclass(kind, KeyboardInterrupt):
            self._before(kind, error, trace)
            return
        self.met.emit()
        if isinstance(error, LogbookError):
            self._desk.told(error)
            return
        frames = traceback.extract_tb(trace)
        where = f"{kind.__name__} {frames[-1].filename}:{frames[-1].lineno}" if frames else ""
        write_notes(self._desk.state_folder, kind, frames)
        if where not in self._told:
            self._told.add(where)
            self._desk.say(unexpected_text(str(self._desk.state_folder)))


def write_notes(folder: Path, kind: type[BaseException], frames: traceback.StackSummary) -> None:
    """Add an error to the notes, without any value. A full disk is no further problem."""
    lines = [f"{kind.__name__}"]
    lines += [f"  {frame.filename}:{frame.lineno} {frame.name}" for frame in frames]
    path = folder / NOTES_NAME
    with contextlib.suppress(OSError):
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        flags = os.O_WRONLY | os.O_CREAT | os.O_APPEND
        if path.exists() and path.stat().st_size > _LARGEST_NOTES:
            flags |= os.O_TRUNC
        with os.fdopen(os.open(path, flags, 0o600), "a", encoding="utf-8") as file:
            file.write("\n".join(lines) + "\n")


class ProblemWindow(QWidget):
    """What keeps the log from opening, in words, when there is no page to say it on."""

    def __init__(self, look: Look, text: str) -> None:
        super().__init__()
        self.setObjectName("window")
        self.setWindowTitle(_("Fingerstick Logbook"))
        self.setStyleSheet(look.sheet_rules())
        self.setAttribute(Qt.WidgetAttribute.WA_StyledBackground)
        column = QVBoxLayout(self)
        column.setContentsMargins(32, 32, 32, 32)
        column.setSpacing(16)
        column.addWidget(Words(look, _("The logbook can't be opened"), "title"))
        column.addWidget(Words(look, text))
        column.addStretch(1)
        self.close_button = BigButton(look, _("Close"), ButtonKind.MAIN)
        self.close_button.clicked.connect(self.close)
        row = QHBoxLayout()
        row.addStretch(1)
        row.addWidget(self.close_button)
        column.addLayout(row)
        self.resize(800, 400)
