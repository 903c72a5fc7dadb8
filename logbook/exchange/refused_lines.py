"""The file of refused lines: number, reason and the line itself, for a spreadsheet or an editor.

It appears whole or not at all, readable by its owner alone, and only once the import is done.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path

from logbook.exchange.refusals import RefusedLine, reason_words
from logbook.whole_file import written_aside

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
    with written_aside(out, _table_of(refused)):
        yield


def _table_of(refused: Iterable[RefusedLine]) -> bytes:
    text = io.StringIO(newline="")
    writer = csv.writer(text)
    writer.writerow(("number", "reason", "in words", "line"))
    for line in refused:
        words = reason_words(line.reason)
        writer.writerow((line.number, line.reason.value, words, formula_safe(line.text)))
    return text.getvalue().encode()
