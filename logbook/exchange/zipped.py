"""The zip file that a spreadsheet is, looked at before anything in it is believed.

A few kilobytes can unpack to more than any memory holds, so what the parts say of their size is
added up first; the zip module gives out no more of a part than that.
"""

from __future__ import annotations

import zipfile
from collections.abc import Iterator
from contextlib import contextmanager
from enum import StrEnum
from pathlib import Path
from xml.parsers import expat

from logbook.domain.errors import CannotRead

# A sheet of 100,000 readings unpacks to about 25 MB. Judgement without a source.
MOST_UNPACKED_BYTES = 150 * 2**20
MOST_SHARED_TEXT_BYTES = 48 * 2**20
_MOST_PARTS = 2_000
_MOST_PACKED_BYTES = 100 * 2**20
_PROLOGUE_BYTES = 64 * 2**10
_OPEN_DOCUMENT = b"application/vnd.oasis.opendocument.spreadsheet"


class TableKind(StrEnum):
    """What a file with a table in it is."""

    TEXT = "text"
    XLSX = "xlsx"
    ODS = "ods"


@contextmanager
def telling_damage(path: Path) -> Iterator[None]:
    """Turn whatever a damaged spreadsheet makes its readers raise into one error.

    Raises `CannotRead` (why=spreadsheet_damaged).
    """
    try:
        yield
    except (CannotRead, MemoryError, GeneratorExit):
        raise
    except OSError as error:
        raise CannotRead(path, why="disk") from error
    except Exception as error:
        # What a library raises over a damaged file is part of no promise of its makers.
        raise CannotRead(path, why="spreadsheet_damaged") from error


def kind_of_zip(path: Path) -> TableKind | None:
    """Which spreadsheet the zip file at `path` is; None for another.

    Raises `CannotRead` (why: spreadsheet_damaged, spreadsheet_too_large, disk).
    """
    with telling_damage(path), zipfile.ZipFile(path) as file:
        parts = {part.filename: part for part in file.infolist()}
        if "xl/workbook.xml" in parts:
            kind = TableKind.XLSX
        elif "content.xml" in parts and _says_spreadsheet(file):
            kind = TableKind.ODS
        else:
            return None
        sizes = [part.file_size for part in parts.values()]
        shared = parts.get("xl/sharedStrings.xml")
        if (
            len(file.infolist()) > _MOST_PARTS
            or sum(sizes) > MOST_UNPACKED_BYTES
            or path.stat().st_size > _MOST_PACKED_BYTES
            or (shared is not None and shared.file_size > MOST_SHARED_TEXT_BYTES)
        ):
            raise CannotRead(path, why="spreadsheet_too_large")
        for part in parts.values():
            if part.filename.endswith((".xml", ".rels")):
                _refuse_entities(file, part)
        return kind


def _says_spreadsheet(file: zipfile.ZipFile) -> bool:
    try:
        with file.open("mimetype") as part:
            return part.read(200).strip().startswith(_OPEN_DOCUMENT)
    except KeyError:
        return False


class _EndOfPrologue(Exception):
    """The first element was reached; nothing that follows can declare an entity."""


def _refuse_entities(file: zipfile.ZipFile, part: zipfile.ZipInfo) -> None:
    """Refuse XML that declares things of its own: spreadsheets never do, attacks do."""
    parser = expat.ParserCreate()

    def declared(*_arguments: object) -> None:
        raise CannotRead(file.filename, why="spreadsheet_damaged")

    def begun(*_arguments: object) -> None:
        raise _EndOfPrologue

    parser.StartDoctypeDeclHandler = declared
    parser.StartElementHandler = begun
    with file.open(part) as content:
        try:
            parser.Parse(content.read(_PROLOGUE_BYTES))
        except _EndOfPrologue:
            return
    if part.file_size:  # so long a prologue, or none that ends
        raise CannotRead(file.filename, why="spreadsheet_damaged")
