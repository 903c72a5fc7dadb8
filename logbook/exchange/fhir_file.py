"""Reading the fingerstick readings out of a file of HL7 FHIR R4: one Observation, or a Bundle.

Each entry becomes a reading, is left out because it is something else, or is refused with its
reason. How one Observation is understood is in `fhir_observations`.
"""

from __future__ import annotations

import json
import re
import stat
from collections import Counter
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path
from typing import Any

from logbook.domain.errors import CannotRead
from logbook.domain.readings import Reading
from logbook.exchange.diary_file import MOST_READINGS, MOST_REFUSED, TOLD_EVERY, FileRead, Told
from logbook.exchange.fhir_circumstances import dicts
from logbook.exchange.fhir_observations import ObservationReader
from logbook.exchange.fhir_values import LeftOut
from logbook.exchange.json_entries import LONGEST_VALUE, NotJson, NotListed, members
from logbook.exchange.lines import kept_text, open_text
from logbook.exchange.refusals import LineRefused, RefusedLine

# The most readings that are taken in need some 300 million as this program writes them.
LARGEST_FILE_BYTES = 400_000_000

_HEAD_BYTES = 4096
_JSON = re.compile(rb"(?:\[\s*)?\{")
_MARK = b"\xef\xbb\xbf"
_ENTRY, _LINK = "entry", "link"


def is_json_file(path: Path) -> bool:
    """Whether the file at `path` begins like an object of JSON, or a list of them.

    False for one that can't be read; whoever reads it next tells why it can't.
    """
    return _JSON.match(_head(path)) is not None


def _head(path: Path) -> bytes:
    try:
        if not stat.S_ISREG(path.stat().st_mode):
            return b""
        with path.open("rb") as file:
            head = file.read(_HEAD_BYTES)
    except (OSError, ValueError):
        return b""
    return head.removeprefix(_MARK).lstrip()


def read_fhir(path: Path, home_zone: str, now: datetime, told: Told | None = None) -> FileRead:
    """Read the file at `path`.

    `home_zone` is the IANA zone of times without one; `now` (aware) is when the readings are
    written down; a date more than a day later is refused. Lines are counted as entries. `told`
    hears how far it is, as with `diary_file.read_diary`.

    Raises `CannotRead` (why: missing, directory, special_file, permission, disk, too_large,
    encoding, not_json, not_fhir, no_observations, too_many_readings, too_many_refused).
    """
    reader = ObservationReader(home_zone, now)
    readings: list[Reading] = []
    refused: list[RefusedLine] = []
    skipped: Counter[str] = Counter()
    count, has_more_pages = 0, False
    for name, value, share in _parts(path):
        if name == _LINK:
            has_more_pages = has_more_pages or _leads_on(value)
        if name != _ENTRY:
            continue
        count += 1
        resource = value.get("resource") if isinstance(value, dict) else None
        if told is not None and count % TOLD_EVERY == 0:
            told(count, share)
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
    return FileRead(
        count,
        tuple(readings),
        dict(skipped),
        tuple(refused),
        has_more_pages=has_more_pages,
    )


def _leads_on(links: Any) -> bool:
    """Whether a Bundle links to a next one, as the answer of a server that gives pages does."""
    return any(link.get("relation") == "next" for link in dicts(links))


def _parts(path: Path) -> Iterator[tuple[str, Any, float]]:
    """The members of a Bundle, entry by entry; an Observation alone is the one entry there is."""
    if _head(path).startswith(b"["):
        raise CannotRead(path, why="not_fhir")
    kind = next((value for name, value, _share in _members(path) if name == "resourceType"), None)
    if kind == "Bundle":
        yield from _members(path)
    elif kind == "Observation" and path.stat().st_size <= LONGEST_VALUE:
        yield _ENTRY, {"resource": {name: value for name, value, _s in _members(path)}}, 1.0
    elif isinstance(kind, str):
        raise CannotRead(path, why="no_observations")
    else:
        raise CannotRead(path, why="not_fhir")


def _members(path: Path) -> Iterator[tuple[str, Any, float]]:
    """The members of the file's object, the entries of a bundle one by one."""
    try:
        with open_text(path, "utf-8") as file:
            size = path.stat().st_size
            if size > LARGEST_FILE_BYTES:
                raise CannotRead(path, why="too_large")
            for name, value in members(file, listed=_ENTRY):
                yield name, value, file.buffer.tell() / size
    except UnicodeError as error:
        raise CannotRead(path, why="encoding", encoding="utf-8") from error
    except NotJson as error:
        raise CannotRead(path, why="not_json", line=error.line) from error
    except NotListed as error:
        raise CannotRead(path, why="not_fhir") from error
    except OSError as error:
        raise CannotRead(path, why="disk") from error


def _kept(resource: Any) -> str:
    try:
        text = json.dumps(resource, ensure_ascii=False, default=str, separators=(",", ":"))
    except RecursionError:
        return "…"
    return kept_text(text.encode("utf-8", "replace").decode())
