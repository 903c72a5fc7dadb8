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
from logbook.exchange.safe_cells import formula_safe
from logbook.whole_file import written_aside


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
