"""Reading the fingerstick readings out of a file of HL7 FHIR R4: one Observation, or a Bundle.

Each entry becomes a reading, is left out because it is something else, or is refused with its
reason. How one Observation is understood is in `fhir_observations`.
"""

from __future__ import annotations

import json
import stat
from collections import Counter
from collections.abc import Iterator
from datetime import datetime
from decimal import Decimal
from pathlib import Path
from typing import Any

from logbook.domain.errors import CannotRead
from logbook.domain.readings import Reading
from logbook.exchange.diary_file import MOST_READINGS, MOST_REFUSED, FileRead
from logbook.exchange.fhir_observations import ObservationReader
from logbook.exchange.fhir_values import LeftOut
from logbook.exchange.lines import LONGEST_KEPT_TEXT
from logbook.exchange.refusals import LineRefused, RefusedLine

# Some 100,000 readings as this program writes them. The whole file is in memory while it is read.
LARGEST_FILE_BYTES = 150_000_000

_HEAD_BYTES = 4096
_MARK = b"\xef\xbb\xbf"


def is_json_file(path: Path) -> bool:
    """Whether the file at `path` begins like an object of JSON; false for one that can't be read.

    Whoever reads it next tells why it can't.
    """
    try:
        if not stat.S_ISREG(path.stat().st_mode):
            return False
        with path.open("rb") as file:
            head = file.read(_HEAD_BYTES)
    except (OSError, ValueError):
        return False
    return head.removeprefix(_MARK).lstrip().startswith(b"{")


def read_fhir(path: Path, home_zone: str, now: datetime) -> FileRead:
    """Read the file at `path`.

    `home_zone` is the IANA zone of times without one; `now` (aware) is when the readings are
    written down; a date more than a day later is refused. Lines are counted as entries.

    Raises `CannotRead` (why: missing, directory, special_file, permission, disk, too_large,
    encoding, not_json, not_fhir, no_observations, too_many_readings, too_many_refused).
    """
    reader = ObservationReader(home_zone, now)
    readings: list[Reading] = []
    refused: list[RefusedLine] = []
    skipped: Counter[str] = Counter()
    count = 0
    for count, resource in enumerate(_resources(path, _content(path)), start=1):
        try:
            readings.append(reader.read(resource))
        except LeftOut as other:
            skipped[other.word] += 1
        except LineRefused as refusal:
            refused.append(RefusedLine(count, refusal.reason, _kept(resource)))
        if len(readings) > MOST_READINGS:
            raise CannotRead(path, why="too_many_readings", most=MOST_READINGS)
        if len(refused) > MOST_REFUSED:
            raise CannotRead(path, why="too_many_refused", most=MOST_REFUSED)
    if count == 0:
        raise CannotRead(path, why="no_observations")
    return FileRead(count, tuple(readings), dict(skipped), tuple(refused))


def _content(path: Path) -> Any:
    try:
        mode = path.stat().st_mode
        if stat.S_ISDIR(mode):
            raise CannotRead(path, why="directory")
        if not stat.S_ISREG(mode):
            raise CannotRead(path, why="special_file")
        if path.stat().st_size > LARGEST_FILE_BYTES:
            raise CannotRead(path, why="too_large")
        text = path.read_bytes().decode("utf-8-sig")
        return json.loads(text, parse_float=Decimal, parse_constant=_no_number)
    except (FileNotFoundError, NotADirectoryError) as error:
        raise CannotRead(path, why="missing") from error
    except PermissionError as error:
        raise CannotRead(path, why="permission") from error
    except UnicodeDecodeError as error:
        raise CannotRead(path, why="encoding", encoding="utf-8") from error
    except (ValueError, RecursionError) as error:
        line = error.lineno if isinstance(error, json.JSONDecodeError) else 1
        raise CannotRead(path, why="not_json", line=line) from error
    except OSError as error:
        raise CannotRead(path, why="disk") from error


def _no_number(text: str) -> None:
    raise ValueError(text)


def _resources(path: Path, content: Any) -> Iterator[Any]:
    """The resource of each entry, in their order."""
    kind = content.get("resourceType") if isinstance(content, dict) else None
    if kind == "Bundle":
        entries = content.get("entry", [])
        if not isinstance(entries, list):
            raise CannotRead(path, why="not_fhir")
        for entry in entries:
            yield entry.get("resource") if isinstance(entry, dict) else None
    elif kind == "Observation":
        yield content
    else:
        raise CannotRead(path, why="no_observations" if isinstance(kind, str) else "not_fhir")


def _kept(resource: Any) -> str:
    try:
        text = json.dumps(resource, ensure_ascii=False, default=str, separators=(",", ":"))
    except RecursionError:
        return "…"
    text = text.encode("utf-8", "replace").decode()
    return text if len(text) <= LONGEST_KEPT_TEXT else text[:LONGEST_KEPT_TEXT] + "…"
