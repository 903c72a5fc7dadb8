"""The lock of the one writer: held from opening to closing, gone with the process that held it."""

from __future__ import annotations

import errno
from pathlib import Path

from filelock import FileLock, Timeout

from logbook.domain.errors import LogInUse, LogReadOnly
from logbook.store.engine import system_error
from logbook.store.files import FILE_MODE, Beside


class WriterLock:
    """Held by the one process that may write the log."""

    def __init__(self, log: Path) -> None:
        self._log = log
        self._path = Beside(log).lock
        # Not thread-local: the Book may be closed by another thread than the one that opened it.
        self._lock = FileLock(self._path, mode=FILE_MODE, thread_local=False)

    def take(self) -> None:
        """Take it at once. Raises `LogInUse` when another has it, `LogReadOnly` and the disk's."""
        try:
            self._lock.acquire(timeout=0)
            self._path.chmod(FILE_MODE)
        except Timeout:
            raise LogInUse(self._log) from None
        except OSError as error:
            if error.errno in (errno.EACCES, errno.EPERM, errno.EROFS):
                raise LogReadOnly(self._log, why="folder") from error
            raise system_error(error, self._log) from error

    def release(self) -> None:
        """Let go of it; harmless when it is not held."""
        self._lock.release()
