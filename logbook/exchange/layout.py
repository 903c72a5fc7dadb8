"""What a diary file looks like: where each thing stands in it and how it is written.

A person writes a layout as a TOML file; `layout_files` finds and checks it, `diary_file` reads
a file by it. The keys are explained in `docs/handbook/layouts.md`.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field

from logbook.domain.glucose import Unit
from logbook.domain.sites import Site
from logbook.domain.slots import Slot
from logbook.exchange.written_moments import Pattern

COLUMNS = (
    "date",
    "time",
    "moment",
    "value",
    "unit",
    "slot",
    "minutes_after",
    "site",
    "note",
    "kind",
)


@dataclass(frozen=True, slots=True)
class Layout:
    """A checked layout.

    `columns` maps the names of `COLUMNS` to a number (from 1) or a heading; those in `optional` may
    be missing from the headings of a file. `unit` is the unit of
    lines without one, `zone` the IANA zone or empty for the log's own. `slots`, `units` and `sites`
    map what stands in the file to what it means; texts are compared without regard to case.
    `skip` maps a column to the texts that leave a line out, each with a word for it; `notes` does
    the same for lines that become part of a reading's note. `sheet` names the sheet of a
    spreadsheet, empty for the first. `kinds` are the texts of the column of kinds that are
    readings; None for all that neither `skip` nor `notes` names.
    """

    name: str
    delimiter: str
    encoding: str
    quote: str
    has_header: bool
    lines_before: int
    column_count: int | None
    unit: Unit | None
    zone: str
    columns: Mapping[str, int | str]
    optional: frozenset[str]
    date: Pattern | None
    time: Pattern | None
    moment: Pattern | None
    low_texts: frozenset[str]
    high_texts: frozenset[str]
    units: Mapping[str, Unit]
    slots: Mapping[str, Slot]
    sites: Mapping[str, Site]
    skip: Mapping[str, Mapping[str, str]] = field(default_factory=dict)
    notes: Mapping[str, Mapping[str, str]] = field(default_factory=dict)
    sheet: str = ""
    kinds: frozenset[str] | None = None


_WITH_UNIT = re.compile(r"([0-9.,]+) ?([A-Za-z][A-Za-z/]*)", re.ASCII)


def number_and_unit(text: str) -> tuple[str, str] | None:
    """A number and the word right behind it, as in "128 mg/dL"; None for any other text."""
    found = _WITH_UNIT.fullmatch(text)
    return None if found is None else (found[1], found[2])


def plain_text(text: str) -> str:
    """How texts of slots, units, sites and the like are compared: trimmed, without case."""
    return text.strip().casefold()
