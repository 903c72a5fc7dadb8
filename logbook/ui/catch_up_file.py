"""Keeps the rows of catching up on disk, so that a long list survives a fall of the computer.

One small file for each log, for this person's eyes only. Rows that can't be read are no rows.
"""

from __future__ import annotations

import contextlib
import hashlib
import json
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any
from uuid import UUID

from logbook.domain.catch_up import From, Row
from logbook.domain.errors import LogbookError
from logbook.domain.glucose import Glucose, Kind, Unit
from logbook.domain.moments import Moment
from logbook.domain.slots import Slot
from logbook.places import private_folder
from logbook.ui.draft_file import UNREADABLE
from logbook.whole_file import write_whole


@dataclass(frozen=True, slots=True)
class Kept:
    """What was kept."""

    origin: From
    rows: tuple[Row, ...]


def path_of(folder: Path, log_path: Path) -> Path:
    """Where the rows for a log are kept."""
    name = hashlib.sha256(str(log_path).encode()).hexdigest()[:16]
    return folder / f"catch-up-{name}.json"


def keep_rows(path: Path, origin: From, rows: Sequence[Row]) -> None:
    """Keep the new rows; none leaves no file. A full disk stops no typing."""
    new = [_to_plain(row) for row in rows if row.is_new]
    with contextlib.suppress(OSError, LogbookError):
        if not new:
            path.unlink(missing_ok=True)
            return
        private_folder(path.parent)
        write_whole(path, json.dumps({"from": origin.value, "rows": new}).encode())


def kept_rows(path: Path) -> Kept | None:
    """The rows that were left; None for none."""
    try:
        plain = json.loads(path.read_text(encoding="utf-8"))
        rows = tuple(_from_plain(row) for row in plain["rows"])
        return Kept(From(plain["from"]), rows) if rows else None
    except UNREADABLE:
        return None


def _to_plain(row: Row) -> dict[str, object]:
    return {
        "id": str(row.id),
        "shown": row.shown.isoformat(),
        "at": row.at.instant.isoformat(),
        "zone": row.at.zone,
        "unit": row.glucose.unit.value,
        "kind": row.glucose.kind.value,
        "steps": row.glucose.steps,
        "written": row.glucose.written,
        "slot": row.slot.value,
        "note": row.note,
        "is_about": row.is_about,
    }


def _from_plain(plain: dict[str, Any]) -> Row:
    steps = plain["steps"]
    glucose = Glucose(
        Unit(plain["unit"]),
        Kind(plain["kind"]),
        None if steps is None else int(steps),
        str(plain["written"]),
    )
    at = Moment.at(datetime.fromisoformat(plain["at"]), plain["zone"])
    shown = datetime.fromisoformat(plain["shown"])
    return Row(
        UUID(plain["id"]),
        shown,
        at,
        glucose,
        Slot(plain["slot"]),
        note=str(plain.get("note", "")),
        is_about=bool(plain.get("is_about")),
    )
