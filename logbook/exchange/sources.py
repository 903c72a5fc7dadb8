"""Files that need no layout, because they tell themselves how they are written.

They are FHIR files, and the tables of readings that an export of this program wrote.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Protocol

from logbook.exchange.diary_file import FileRead, Told
from logbook.exchange.fhir_file import is_json_file, read_fhir
from logbook.exchange.reading_table_file import is_reading_table, read_reading_table
from logbook.wording import _


class _Read(Protocol):
    def __call__(
        self, path: Path, home_zone: str, now: datetime, told: Told | None = None
    ) -> FileRead: ...


@dataclass(frozen=True, slots=True)
class SelfTelling:
    """Such a kind of file: its name for the person, and what reads one.

    `read` is as `read_fhir`.
    """

    name: str
    read: _Read


def self_telling(path: Path) -> SelfTelling | None:
    """What reads the file at `path`; None for one that needs a layout. Raises `CannotRead`."""
    if is_json_file(path):
        return SelfTelling(_("FHIR file"), read_fhir)
    if is_reading_table(path):
        return SelfTelling(_("Readings of an export"), read_reading_table)
    return None
