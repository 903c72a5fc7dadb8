"""Files for others: written whole or not at all, readable by their owner alone.

Reports and lists go this way, wherever a person wants them. The log itself has its own, stricter
way in the store. A leaf: it knows errors and nothing else of the project.
"""

from __future__ import annotations

import errno
import os
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from logbook.domain.errors import CannotWrite

_WHY = {
    errno.ENOENT: "missing",
    errno.ENOTDIR: "missing",
    errno.EACCES: "permission",
    errno.EPERM: "permission",
    errno.EROFS: "permission",
    errno.ENOSPC: "full",
    errno.EDQUOT: "full",
    errno.EFBIG: "full",
}


def write_whole(out: Path, content: bytes) -> None:
    """Write `content` to `out` so that there is either all of it or what was there before.

    Only its owner can read it (0600). Raises `CannotWrite` (directory, missing, permission, full,
    system).
    """
    with written_aside(out, content):
        pass


def read_back(file: Path) -> bytes:
    """What was written, from the disk or stick itself where the system can do that."""
    with file.open("rb") as content:
        if hasattr(os, "posix_fadvise"):
            with suppress(OSError):
                os.posix_fadvise(content.fileno(), 0, 0, os.POSIX_FADV_DONTNEED)
        return content.read()


@contextmanager
def written_aside(out: Path, content: bytes) -> Iterator[None]:
    """The same, in two steps: on the disk before the block, in its place after it has gone well.

    So a full disk shows before the block does anything.
    """
    if out.is_dir():
        raise CannotWrite(out, why="directory")
    temporary: Path | None = None
    try:
        try:
            handle, name = tempfile.mkstemp(
                prefix=f".{out.name[:40]}.", suffix=".part", dir=out.parent
            )
            temporary = Path(name)
            with os.fdopen(handle, "wb") as file:
                file.write(content)
                file.flush()
                os.fsync(file.fileno())
        except (OSError, ValueError) as error:
            raise _cannot_write(out, error) from error
        yield
        try:
            temporary.replace(out)
        except OSError as error:
            raise _cannot_write(out, error) from error
        _sync_folder(out.parent)
    finally:
        if temporary is not None:
            with suppress(OSError):
                temporary.unlink(missing_ok=True)


def _cannot_write(out: Path, error: Exception) -> CannotWrite:
    number = error.errno if isinstance(error, OSError) else None
    return CannotWrite(out, why=_WHY.get(number or 0, "system"))


def _sync_folder(folder: Path) -> None:
    # Not every system lets a folder be opened; there the rename itself has to do.
    with suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
