"""The file of refused lines: number, reason and the line itself, for a spreadsheet or an editor.

It appears whole or not at all, readable by its owner alone, and only once the import is done.
"""

from __future__ import annotations

import csv
import errno
import os
import tempfile
from collections.abc import Iterable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from logbook.domain.errors import CannotWrite
from logbook.exchange.refusals import RefusedLine, reason_words

# A spreadsheet would take a cell that begins with one of these for a formula (OWASP, "CSV
# injection", from memory).
_FORMULA_SIGNS = ("=", "+", "-", "@", "\t", "\r")


def formula_safe(text: str) -> str:
    """The text, with an apostrophe before it where a spreadsheet would calculate it."""
    return f"'{text}" if text.lstrip(" ").startswith(_FORMULA_SIGNS) else text


@contextmanager
def refused_lines_file(out: Path | None, refused: Iterable[RefusedLine]) -> Iterator[None]:
    """Write the refused lines to `out`, put in place when the block has gone well.

    The file is written before the block, so that a full disk shows before anything is taken in.
    Nothing is done without `out`. Raises `CannotWrite`.
    """
    if out is None:
        yield
        return
    temporary = _written_aside(out, refused)
    try:
        yield
        try:
            temporary.replace(out)
        except OSError as error:
            raise _cannot_write(out, error) from error
    finally:
        with suppress(OSError):
            temporary.unlink()


def _written_aside(out: Path, refused: Iterable[RefusedLine]) -> Path:
    if out.is_dir():
        raise CannotWrite(out, why="directory")
    temporary: Path | None = None
    try:
        handle, name = tempfile.mkstemp(prefix=f".{out.name[:40]}.", suffix=".part", dir=out.parent)
        temporary = Path(name)
        with os.fdopen(handle, "w", encoding="utf-8", newline="") as file:
            writer = csv.writer(file)
            writer.writerow(("number", "reason", "in words", "line"))
            for line in refused:
                words = reason_words(line.reason)
                writer.writerow((line.number, line.reason.value, words, formula_safe(line.text)))
            file.flush()
            os.fsync(file.fileno())
    except (OSError, ValueError) as error:
        if temporary is not None:
            with suppress(OSError):
                temporary.unlink()
        raise _cannot_write(out, error) from error
    return temporary


def _cannot_write(out: Path, error: Exception) -> CannotWrite:
    reasons = {
        errno.ENOENT: "missing",
        errno.ENOTDIR: "missing",
        errno.EACCES: "permission",
        errno.EPERM: "permission",
        errno.EROFS: "permission",
        errno.ENOSPC: "full",
        errno.EDQUOT: "full",
        errno.EFBIG: "full",
    }
    number = error.errno if isinstance(error, OSError) else None
    return CannotWrite(out, why=reasons.get(number or 0, "system"))
