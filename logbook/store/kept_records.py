"""Records of which a log has few, kept in memory after they were read, as long as they hold.

One Save asks for the settings forty times, for meters, plans and vials a few times each, and twice
for the readings of the last weeks. What was read and verified once is handed out again until this
program writes records of that kind, or until the file is another: its time, its size and its place
on the disk are looked at each time. The file is never opened for that, since closing it would let
go of SQLite's locks.
"""

from __future__ import annotations

import threading
from collections.abc import Callable, Collection, Hashable
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any, TypeVar

T = TypeVar("T")

Mark = tuple[int, int, int, int]
"""How often this program wrote, and the file's time of change, size and place."""


# So many results are kept at most, the oldest goes first: one Save needs some thirty.
_MOST = 60


@dataclass(frozen=True, slots=True)
class _Kept:
    mark: Mark
    of: str
    found: Any


class KeptRecords:
    """What was read of the log at `path`. For several threads."""

    def __init__(self, path: Path) -> None:
        self._path = path
        self._turn = threading.Lock()
        self._writes = 0
        self._kept: dict[Hashable, _Kept] = {}

    def get(self, name: Hashable, read: Callable[[], T], *, of: str = "") -> T:
        """What `read` finds, now or before; of one kind of records, or any write makes it old.

        It is handed out as it is: nobody may alter it.
        """
        mark = self.mark()
        kept = self._kept.get(name)
        if kept is not None and kept.mark == mark:
            found: T = kept.found
            return found
        found = read()
        if mark is not None:
            # Of the moment before reading: a change in between makes it old at once.
            with self._turn:
                self._kept.pop(name, None)
                if len(self._kept) >= _MOST:
                    del self._kept[next(iter(self._kept))]
                self._kept[name] = _Kept(mark, of, found)
        return found

    def mark(self) -> Mark | None:
        """What the file is known by now; None when it can't be looked at."""
        try:
            state = self._path.stat()
        except OSError:
            return None
        return self._writes, state.st_mtime_ns, state.st_size, state.st_ino

    def wrote(self, before: Mark | None, kind_names: Collection[str]) -> None:
        """This program wrote records of these kinds; `before` is the mark of the moment before.

        What is kept of other kinds holds on.
        """
        with self._turn:
            self._writes += 1
            mark = self.mark()
            self._kept = {
                name: replace(kept, mark=mark)
                for name, kept in self._kept.items()
                if mark is not None
                and kept.mark == before
                and kept.of
                and kept.of not in kind_names
            }
