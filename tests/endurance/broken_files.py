"""Thousands of broken files, seeded: each is refused in words, or line by line, and never by half.

Two kinds of damage. A *known* one breaks lines of a good file in ways whose reason is known, so
exactly those lines must be refused, for that reason, and all others taken in. A *wild* one changes
bytes of a text, a spreadsheet, a FHIR file or an export anyhow; then whatever comes out must add
up, and a file that can't be read must leave the log as it was.

    python -m tests.endurance.broken_files 5000 --seed 1
"""

from __future__ import annotations

import argparse
import random
import shutil
import tempfile
from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path
from uuid import UUID

from logbook.book import Book
from logbook.domain.errors import LogbookError
from logbook.domain.glucose import Glucose, Unit
from logbook.domain.moments import Moment
from logbook.domain.readings import Earlier, Reading
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Slot
from logbook.domain.whole_log import WholeLog
from logbook.exchange.diary_file import FileRead, read_diary
from logbook.exchange.draft import Draft
from logbook.exchange.fhir_bundle import fhir_bundle
from logbook.exchange.first_look import look_at
from logbook.exchange.identity import not_there_yet
from logbook.exchange.layout_files import find_layout
from logbook.exchange.log_export import reading_table, table_archive
from logbook.exchange.refusals import Reason, reason_words
from logbook.exchange.sentences import import_problem_text
from logbook.exchange.sources import self_telling
from tests.exchange.sheets import write_ods, write_xlsx

NOW = datetime(2026, 3, 31, 12, 0, tzinfo=UTC)
HEADINGS = "date,time,value,unit,slot,minutes after,site,note"
LAYOUT = find_layout("readings-mg-dl")
# Each import makes a checked copy of the log; a short log keeps that quick.
_FILES_A_LOG = 40
_FIRST = datetime(2024, 1, 1, 7, 15)

# What stands in the place of a good field, and the reason for which the line is refused.
FIELD_FAULTS: tuple[tuple[int, str, Reason], ...] = (
    (0, "2026-02-30", Reason.DATE_IMPOSSIBLE),
    (0, "soon", Reason.DATE_MISSING_OR_MALFORMED),
    (0, "", Reason.DATE_MISSING_OR_MALFORMED),
    (0, "12026-01-01", Reason.DATE_MISSING_OR_MALFORMED),
    (0, "1969-12-31", Reason.DATE_TOO_EARLY),
    (0, "2199-01-01", Reason.DATE_IN_FUTURE),
    (1, "25:10", Reason.TIME_IMPOSSIBLE),
    (1, "7h", Reason.TIME_MALFORMED),
    (2, "abc", Reason.VALUE_NOT_A_NUMBER),
    (2, "", Reason.VALUE_NOT_A_NUMBER),
    (2, "NaN", Reason.VALUE_NOT_A_NUMBER),
    (2, "-128", Reason.VALUE_NOT_A_NUMBER),
    (2, "1e2", Reason.VALUE_NOT_A_NUMBER),
    (2, "١٢٨", Reason.VALUE_NOT_A_NUMBER),
    (2, "=1+1", Reason.VALUE_NOT_A_NUMBER),
    (2, "9" * 5_000, Reason.VALUE_NOT_A_NUMBER),
    (2, "0", Reason.GLUCOSE_ZERO),
    (2, "5", Reason.VALUE_IMPOSSIBLE),
    (2, "5000", Reason.VALUE_IMPOSSIBLE),
    (2, "128.5", Reason.DECIMALS_NOT_SHOWN),
    (3, "stone", Reason.UNIT_UNKNOWN),
    (4, "brunch", Reason.CODE_UNKNOWN),
    (5, "soon", Reason.MINUTES_NOT_A_NUMBER),
    (6, "left.toe", Reason.SITE_UNKNOWN),
    (7, "nul\x00", Reason.CONTROL_CHARACTERS),
    (7, "x" * 10_001, Reason.LINE_TOO_LONG),
    (7, "a,b", Reason.TOO_MANY_COLUMNS),
    (7, '"a b', Reason.QUOTES_WRONG),
)
_WHOLE_FAULTS = (("2026-03-01", Reason.TOO_FEW_COLUMNS), (",", Reason.TOO_FEW_COLUMNS))

Importer = Callable[[Path, Book], FileRead]
"""Reads a file and takes in what is new."""


@dataclass(frozen=True, slots=True)
class Broken:
    """A broken file, and for a known damage the lines that must be refused and the count of all."""

    path: Path
    refused: dict[int, Reason] | None = None
    lines: int = 0


def take_in(path: Path, book: Book) -> FileRead:
    """What the program does: by the named layout, and by what a file tells of itself."""
    if (telling := self_telling(path)) is not None:
        found = telling.read(path, "UTC", NOW)
        book.take_in(not_there_yet(book, found.readings), path.name)
        return found
    layout = LAYOUT
    if path.stem.endswith("guessed"):
        draft = Draft.of(look_at(path))
        if draft.lacks():
            return FileRead(0, (), {}, ())
        layout = draft.layout("guessed")
    found = read_diary(path, layout, "UTC", NOW)
    book.take_in(not_there_yet(book, found.readings), path.name)
    return found


def _good_lines(chance: random.Random, count: int) -> list[list[str]]:
    start = _FIRST + timedelta(minutes=chance.randrange(1_000_000))
    moments = [start + timedelta(minutes=97 * n) for n in range(count)]
    return [
        [f"{at:%Y-%m-%d}", f"{at:%H:%M}", str(chance.randrange(70, 250)), "", "fasting", "", "", ""]
        for at in moments
    ]


def _known(chance: random.Random, folder: Path) -> Broken:
    lines = _good_lines(chance, chance.randrange(2, 25))
    refused: dict[int, Reason] = {}
    texts = []
    for number, fields in enumerate(lines, start=2):
        text = ",".join(fields)
        if chance.random() < 0.3:
            if chance.random() < 0.1:
                text, reason = chance.choice(_WHOLE_FAULTS)
                text = text if text != "," else "2026-03-01,07:15"
            else:
                place, bad, reason = chance.choice(FIELD_FAULTS)
                text = ",".join([*fields[:place], bad, *fields[place + 1 :]])
            refused[number] = reason
        texts.append(text)
    path = folder / "known.csv"
    path.write_text("\n".join([HEADINGS, *texts]) + "\n", encoding="utf-8")
    return Broken(path, refused, len(lines))


def _wild(chance: random.Random, folder: Path) -> Broken:
    rows = [HEADINGS.split(","), *_good_lines(chance, chance.randrange(2, 12))]
    kind = chance.choice(("csv", "xlsx", "ods", "json", "zip", "table"))
    guessed = chance.choice(("", "guessed"))
    path = folder / f"wild{guessed}.{kind}"
    if kind == "csv":
        path.write_text("\n".join(",".join(row) for row in rows), encoding="utf-8")
    elif kind in ("xlsx", "ods"):
        (write_xlsx if kind == "xlsx" else write_ods)(path, {"one": rows})
    else:
        write = {"json": _fhir, "zip": table_archive, "table": reading_table}[kind]
        path.write_bytes(write(_log_of(chance, rows[1:])))
    content = bytearray(path.read_bytes())
    for _ in range(chance.choice((1, 1, 2, 5, 50))):
        _hurt(chance, content)
    path.write_bytes(bytes(content))
    return Broken(path)


def _log_of(chance: random.Random, rows: list[list[str]]) -> WholeLog:
    """The same rows as readings, some of them corrected or checked again."""
    readings: list[Reading] = []
    for day, clock, value, *_rest in rows:
        at = Moment.from_wall(datetime.fromisoformat(f"{day} {clock}"), "UTC")
        glucose = Glucose.parse(value, Unit.MG_DL)
        readings.append(
            Reading(
                UUID(int=chance.getrandbits(128), version=4),
                glucose,
                at,
                at.instant,
                Slot.FASTING,
                recheck_of=readings[-1].id if readings and chance.random() < 0.3 else None,
                earlier=(Earlier(glucose, at, Slot.OTHER, at.instant, "slip"),)
                if chance.random() < 0.3
                else (),
            )
        )
    return WholeLog(LogSettings(home_zone="UTC"), tuple(readings))


def _fhir(log: WholeLog) -> bytes:
    return fhir_bundle(log, NOW)


def _hurt(chance: random.Random, content: bytearray) -> None:
    if not content:
        return
    place = chance.randrange(len(content))
    match chance.randrange(6):
        case 0:
            content[place] = chance.randrange(256)
        case 1:
            del content[place:]
        case 2:
            del content[place : place + chance.randrange(1, 40)]
        case 3:
            content[place:place] = chance.randbytes(chance.randrange(1, 40))
        case 4:
            content[place:place] = content[place : place + chance.randrange(1, 200)]
        case _:
            content[:0] = chance.choice((b"\xff\xfe", b"\xef\xbb\xbf", b"\x00", b"PK\x03\x04"))


def faults_found(importer: Importer, count: int, seed: int) -> list[str]:
    """Import `count` broken files one after the other into one log; what went wrong, in words."""
    chance = random.Random(seed)
    found: list[str] = []
    with tempfile.TemporaryDirectory() as name:
        for start in range(0, count, _FILES_A_LOG):
            folder = Path(name) / str(start)
            folder.mkdir()
            numbers = range(start, min(start + _FILES_A_LOG, count))
            settings = LogSettings(home_zone="UTC")
            with Book.create(folder / "a.logbook", settings, lambda: NOW) as book:
                for number in numbers:
                    make = _known if chance.random() < 0.6 else _wild
                    broken = make(chance, folder)
                    fault = _fault_of(importer, broken, book)
                    if fault:
                        found.append(f"file {number} ({broken.path.name}): {fault}")
                    broken.path.unlink()
            shutil.rmtree(folder)
    return found


def _state(book: Book) -> set[str]:
    return set(book.series().ids)


def _fault_of(importer: Importer, broken: Broken, book: Book) -> str:
    before = _state(book)
    undoable = book.undoable
    try:
        read = importer(broken.path, book)
    except LogbookError as error:
        if not import_problem_text(error):
            return "no words"
        if broken.refused is not None:
            return f"a file with good lines was refused as a whole: {error!r} {error.facts}"
        return "half-written" if _state(book) != before else ""
    except Exception as error:  # noqa: BLE001  (that is what is looked for)
        return f"{type(error).__name__}: {error}"
    fault = _fault_of_reading(read, broken)
    after = _state(book)
    gained = after - before
    if gained != {str(one.id) for one in read.readings} - before:
        return fault or "the log holds other readings than the file told"
    if gained:
        book.undo()
        if _state(book) != before:
            return fault or "undo did not take all of it back"
    elif book.undoable != undoable:
        return fault or "an action that did nothing can be undone"
    return fault


def _fault_of_reading(read: FileRead, broken: Broken) -> str:
    parts = len(read.readings) + len(read.refused) + sum(read.skipped.values()) + read.noted
    if read.lines != parts:
        return f"{read.lines} lines, but {parts} told of"
    if any(line.number < 1 or not reason_words(line.reason) for line in read.refused):
        return "a refused line without number or reason"
    if broken.refused is None:
        return ""
    told = {line.number: line.reason for line in read.refused}
    if told != broken.refused:
        return f"refused {told}, should be {broken.refused}"
    return "" if read.lines == broken.lines else f"{read.lines} lines of {broken.lines}"


def main() -> None:
    parser = argparse.ArgumentParser()
    parser.add_argument("count", type=int, nargs="?", default=5_000)
    parser.add_argument("--seed", type=int, default=1)
    wanted = parser.parse_args()
    found = faults_found(take_in, wanted.count, wanted.seed)
    for line in found[:20]:
        print(line)
    print(f"{wanted.count} broken files, seed {wanted.seed}: {len(found)} faults")
    raise SystemExit(bool(found))


if __name__ == "__main__":
    main()
