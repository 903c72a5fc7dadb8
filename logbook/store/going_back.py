"""The note of the last going back, so that *Undo* can take it back for as long as nothing changed.

Going back is no change of the log: the whole file is another one. So it is noted among the copies
beside the log, with the number of the last change; after the next change the note says nothing.
"""

from __future__ import annotations

import json
from datetime import datetime
from pathlib import Path
from uuid import uuid4

from logbook.domain.copies import GoneBack
from logbook.store.copies import UNFINISHED
from logbook.store.files import Beside, make_folder, write_durably

_NOTE = "gone-back.json"


def note_going_back(path: Path, noted: GoneBack, changes: int) -> None:
    """Note it for the log at `path`, which has so many changes now. Raises the disk's errors."""
    copies = Beside(path).copies
    make_folder(copies)
    told = {
        "set_aside": Path(noted.set_aside).name,
        "at": noted.at.isoformat(),
        "is_taken_back": noted.is_taken_back,
        "changes": changes,
    }
    unfinished = copies / f"{UNFINISHED}{uuid4().hex}"
    write_durably(unfinished, copies / _NOTE, json.dumps(told).encode())


def forget_going_back(path: Path) -> None:
    """There is nothing to be taken back with *Undo*."""
    (Beside(path).copies / _NOTE).unlink(missing_ok=True)


def read_going_back(path: Path, changes: int) -> GoneBack | None:
    """The note, if the log at `path` still has only so many changes. Never raises."""
    try:
        told = json.loads((Beside(path).copies / _NOTE).read_text("utf-8"))
        set_aside = path.with_name(Path(str(told["set_aside"])).name)
        at = datetime.fromisoformat(told["at"])
        if told["changes"] != changes or at.tzinfo is None or not set_aside.is_file():
            return None
        return GoneBack(str(set_aside), at, bool(told["is_taken_back"]))
    except (OSError, ValueError, KeyError, TypeError):
        return None
