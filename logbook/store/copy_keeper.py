"""When copies are made: while the log is in use, when it is closed, before something risky.

A copy in use is made by a thread of its own, which reads a few pages at a time, so saving goes on
meanwhile. What goes wrong with such a copy never reaches the one who saves: the log itself is safe,
and the check and the date of the last copy tell.
"""

from __future__ import annotations

import threading
from contextlib import suppress
from datetime import datetime, timedelta
from pathlib import Path
from uuid import UUID

from logbook.domain.errors import LogbookError
from logbook.store.copies import make_copy, thin_copies
from logbook.store.copy_scheme import Occasion
from logbook.store.files import Beside
from logbook.store.second_folder import copy_there_when_due

# With the first change after so long without a copy. Common practice, no source.
IN_USE_EVERY = timedelta(hours=1)


class CopyKeeper:
    """Makes the copies of one log that is open for writing since `at`."""

    def __init__(self, path: Path, log_id: UUID, at: datetime) -> None:
        self._path = path
        self._log_id = log_id
        self._last_at = at
        self._changes = 0
        self._copied = 0
        self._thread: threading.Thread | None = None
        self.trouble: Exception | None = None

    def changed(self, at: datetime) -> None:
        """Note a change; a copy begins when the last one is an hour old."""
        self._changes += 1
        # A clock that was set back counts as time gone by.
        if abs(at - self._last_at) >= IN_USE_EVERY and not self._is_busy():
            self._last_at = at
            self._thread = threading.Thread(
                target=self._copy_in_use, args=(at, self._changes), name="copy in use"
            )
            self._thread.start()

    @property
    def is_behind(self) -> bool:
        """Whether something changed since the last copy. Waits for one that is being made."""
        self.finish()
        return self._changes > self._copied

    def make(self, at: datetime, occasion: Occasion) -> Path:
        """Make a copy now, and let go of those that are no longer kept.

        Raises what `make_copy` raises. With the copy at closing the second folder gets one too.
        """
        self.finish()
        changes = self._changes
        made = make_copy(self._path, at, occasion)
        self._last_at, self._copied = at, changes
        with suppress(LogbookError):
            thin_copies(Beside(self._path).copies, self._log_id, at)
        if occasion is Occasion.CLOSE:
            with suppress(LogbookError, OSError):
                copy_there_when_due(self._path, self._log_id, at)
        return made

    def finish(self) -> None:
        """Wait for a copy that is being made."""
        if self._thread is not None:
            self._thread.join()
            self._thread = None

    def _is_busy(self) -> bool:
        return self._thread is not None and self._thread.is_alive()

    def _copy_in_use(self, at: datetime, changes: int) -> None:
        try:
            make_copy(self._path, at, Occasion.USE)
            self._copied = changes
            thin_copies(Beside(self._path).copies, self._log_id, at)
        except Exception as error:  # noqa: BLE001 (kept for whoever asks; the log is safe)
            self.trouble = error
