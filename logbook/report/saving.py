"""Putting a finished file in its place: whole or not at all, readable by its owner alone."""

from __future__ import annotations

import os
import tempfile
from contextlib import suppress
from pathlib import Path

from logbook.domain.errors import CannotWrite


def write_whole(out: Path, content: bytes) -> None:
    """Write `content` to `out` so that there is either all of it or what was there before.

    It is written under a temporary name in the same folder, brought to the disk, then renamed;
    only its owner can read it (0600). Raises `CannotWrite`.
    """
    if out.is_dir():
        raise CannotWrite(out, why="directory")
    temporary: Path | None = None
    try:
        handle, name = tempfile.mkstemp(prefix=f".{out.name[:40]}.", suffix=".part", dir=out.parent)
        temporary = Path(name)
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        temporary.replace(out)
    except OSError as error:
        if temporary is not None:
            with suppress(OSError):
                temporary.unlink()
        raise CannotWrite(out, why="system", errno=error.errno) from error
    _sync_folder(out.parent)


def _sync_folder(folder: Path) -> None:
    # Not every system lets a folder be opened; there the rename itself has to do.
    with suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
