"""Keeps the draft on disk within a second of a key, so that it is there again after a fall.

One small file for each log in the state folder of this computer, for this person's eyes only. A
damaged draft is no draft.
"""

from __future__ import annotations

import contextlib
import hashlib
import json
import os
import tempfile
from collections.abc import Callable
from dataclasses import fields
from datetime import datetime
from pathlib import Path
from typing import Any
from uuid import UUID

from PySide6.QtCore import QObject, QTimer

from logbook.domain.errors import LogbookError
from logbook.domain.glucose import Kind
from logbook.domain.moments import Moment
from logbook.domain.readings import Difference, Feeling
from logbook.domain.sites import Site
from logbook.domain.slots import Slot
from logbook.ui.draft import Draft

AUTOSAVE_MILLISECONDS = 400
# What reading damaged text as a draft can raise.
UNREADABLE = (
    ArithmeticError,
    AttributeError,
    LogbookError,
    LookupError,
    OSError,
    RecursionError,
    TypeError,
    ValueError,
)


class DraftFile(QObject):
    """Keeps one draft: soon after `keep`, at once with `keep_now`."""

    def __init__(self, folder: Path, log_path: Path, parent: QObject | None = None) -> None:
        super().__init__(parent)
        name = hashlib.sha256(str(log_path).encode()).hexdigest()[:16]
        self.path = folder / f"draft-{name}.json"
        self._draft: Draft | None = None
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(AUTOSAVE_MILLISECONDS)
        self._timer.timeout.connect(self.keep_now)

    def keep(self, draft: Draft) -> None:
        """Keep this draft in a moment."""
        self._draft = draft
        if not self._timer.isActive():
            self._timer.start()

    def keep_now(self) -> None:
        """Write what is to be kept; an empty draft leaves no file. A full disk stops no typing."""
        self._timer.stop()
        draft, self._draft = self._draft, None
        if draft is None:
            return
        with contextlib.suppress(OSError):
            if draft.is_empty and not draft.note:
                self.path.unlink(missing_ok=True)
            else:
                _write(self.path, _to_plain(draft))

    def forget(self) -> None:
        """The reading is saved: there is nothing to keep."""
        self._timer.stop()
        self._draft = None
        with contextlib.suppress(OSError):
            self.path.unlink(missing_ok=True)

    def found(self) -> Draft | None:
        """The draft that was left, if it can be read."""
        try:
            return _from_plain(json.loads(self.path.read_text(encoding="utf-8")))
        except UNREADABLE:
            return None


def _write(path: Path, plain: dict[str, Any]) -> None:
    # Unlike `whole_file`, not synced: whoever types must never wait for the disk.
    path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    descriptor, aside = tempfile.mkstemp(dir=path.parent, prefix=path.name)  # made with 0600
    try:
        with os.fdopen(descriptor, "w", encoding="utf-8") as file:
            json.dump(plain, file)
        Path(aside).replace(path)
    except OSError:
        Path(aside).unlink(missing_ok=True)
        raise


def _to_plain(draft: Draft) -> dict[str, Any]:
    plain: dict[str, Any] = {one.name: getattr(draft, one.name) for one in fields(Draft)}
    plain["first_typed_at"] = draft.first_typed_at and draft.first_typed_at.isoformat()
    plain["at"] = draft.at and [draft.at.instant.isoformat(), draft.at.zone]
    plain["site"] = draft.site and draft.site.code
    plain["meter_id"] = draft.meter_id and str(draft.meter_id)
    return plain


def _from_plain(plain: dict[str, Any]) -> Draft:
    at = plain["at"]
    return Draft(
        kind=Kind(plain["kind"]),
        text=_text(plain["text"]),
        first_typed_at=_read(datetime.fromisoformat, plain["first_typed_at"]),
        at=None if at is None else Moment.at(datetime.fromisoformat(at[0]), _text(at[1])),
        # Time has passed: only a time that was told is still sure.
        is_when_told=at is not None,
        slot=_read(Slot, plain["slot"]),
        is_slot_touched=bool(plain["is_slot_touched"]),
        minutes_after=_read(int, plain["minutes_after"]),
        site=_read(Site.from_code, plain["site"]),
        meter_id=_read(UUID, plain.get("meter_id")),
        feelings=tuple(map(Feeling, plain["feelings"])),
        differences=tuple(map(Difference, plain["differences"])),
        could_not_wash=bool(plain["could_not_wash"]),
        note=_text(plain["note"]),
    )


def _read(read: Callable[[Any], Any], plain: object) -> Any:
    return None if plain is None else read(plain)


def _text(plain: object) -> str:
    if not isinstance(plain, str):
        raise TypeError(plain)
    return plain
