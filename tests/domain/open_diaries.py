"""The open diaries, read by the tests' own reader, which shares nothing with the program's import.

The diaries are not part of the project. They are looked for in the folder that LOGBOOK_OPEN_DATA
names, in `uci-diabetes`: M. Kahn, "Diabetes", UCI Machine Learning Repository, doi 10.24432/C5T59G.
AIM-94 data set provided by Michael Kahn, MD, PhD, Washington University, St. Louis, MO.
"""

from __future__ import annotations

import os
from datetime import datetime
from pathlib import Path

import pytest

FOLDER = Path(os.environ.get("LOGBOOK_OPEN_DATA", "")) / "uci-diabetes"

needs_open_data = pytest.mark.skipif(
    not os.environ.get("LOGBOOK_OPEN_DATA"),
    reason="LOGBOOK_OPEN_DATA names no folder with the open diaries",
)

DIARIES = tuple(f"data-{number:02}" for number in (1, 2, 9, 10, 20, 27, 40, 67, 68, 70))

_GLUCOSE_CODES = range(48, 65)
_ENDS = {"0Lo": "LO", "0Hi": "HI"}


def diary_lines(diary: str) -> list[tuple[datetime, int, str]]:
    """Wall time, code and value as the meter showed it, in order of time.

    Lines whose date, time or value is impossible are left out.
    """
    found = []
    for line in (FOLDER / diary).read_text("ascii").splitlines():
        fields = line.split("\t")
        if len(fields) != 4 or not fields[2].isdigit() or int(fields[2]) not in _GLUCOSE_CODES:
            continue
        day, clock, code, value = fields
        try:
            wall = datetime.strptime(f"{day} {clock}", "%m-%d-%Y %H:%M")
        except ValueError:
            continue
        shown = _ENDS.get(value, value.lstrip("0"))
        if shown.isdigit() or value in _ENDS:
            found.append((wall, int(code), shown))
    return sorted(found, key=lambda line: line[0])
