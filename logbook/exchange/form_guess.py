"""In which encoding a text file is written, and what parts its columns: told from the file."""

from __future__ import annotations

import codecs
import csv
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from logbook.domain.errors import CannotRead
from logbook.exchange.layout_check import ENCODINGS
from logbook.exchange.lines import open_text

_BLOCK_BYTES = 256 * 2**10
_HEAD_BYTES = 4096
_LINES = 60
_LONGEST = 2_000  # characters of a line that are looked at
_DELIMITERS = ("\t", ";", ",", "|")
_NAMES = {"\t": "tab", ";": "semicolon", ",": "comma", "|": "pipe", " ": "space"}


@dataclass(frozen=True, slots=True)
class TextForm:
    """By the names that layouts have for them."""

    encoding: str
    delimiter: str
    quote: str


def find_encoding(path: Path) -> str:
    """The encoding of a text file, by its name in layouts.

    UTF-8 is known for certain; of the others, which all read any bytes, the most usual is taken.
    Raises `CannotRead`.
    """
    mark = _mark(path)
    open_text(path, ENCODINGS[mark] if mark else "latin-1").close()
    if mark:
        return mark
    decoder = codecs.getincrementaldecoder("utf-8")()
    decoder_1252 = codecs.getincrementaldecoder("cp1252")()
    is_utf_8, is_1252 = True, True
    with path.open("rb") as binary:
        while block := binary.read(_BLOCK_BYTES):
            is_utf_8 = is_utf_8 and _can(decoder, block)
            is_1252 = is_1252 and _can(decoder_1252, block)
            if not (is_utf_8 or is_1252):
                break
    is_utf_8 = is_utf_8 and _can(decoder, b"", is_last=True)
    return "utf-8" if is_utf_8 else "windows-1252" if is_1252 else "latin-1"


def _can(decoder: codecs.IncrementalDecoder, block: bytes, *, is_last: bool = False) -> bool:
    try:
        decoder.decode(block, is_last)
    except UnicodeDecodeError:
        return False
    return True


def _mark(path: Path) -> str:
    """The encoding that the file's first bytes tell; empty for none."""
    try:
        with path.open("rb") as file:
            head = file.read(_HEAD_BYTES)
    except (OSError, ValueError):
        return ""
    if head.startswith(codecs.BOM_UTF8):
        return "utf-8-sig"
    if head.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        return "utf-16"
    # Letters and figures in UTF-16 have a zero byte each, always on the same side.
    even, odd = head[::2].count(0), head[1::2].count(0)
    if max(even, odd) * 4 > len(head) and min(even, odd) * 20 < max(even, odd):
        return "utf-16-le" if odd > even else "utf-16-be"
    return ""


def find_text_form(path: Path, encoding: str = "") -> TextForm:
    """How a text file is written. Raises `CannotRead` (why as `lines.open_text`, and empty)."""
    encoding = encoding or find_encoding(path)
    lines = _first_lines(path, ENCODINGS[encoding])
    if not lines:
        raise CannotRead(path, why="empty")
    quote = "'" if _is_quoted(lines, "'") and not _is_quoted(lines, '"') else '"'
    delimiter = max(_DELIMITERS, key=lambda sign: _evenness(lines, sign, quote))
    if _evenness(lines, delimiter, quote) == (0, 0):
        delimiter = " " if _evenness(lines, " ", quote)[0] >= 0.9 else ","
    return TextForm(encoding, _NAMES[delimiter], "single" if quote == "'" else "double")


def _first_lines(path: Path, codec: str) -> list[str]:
    found: list[str] = []
    try:
        with open_text(path, codec) as file:
            while len(found) < _LINES and (line := file.readline(_LONGEST)):
                if line.strip():
                    found.append(line.rstrip("\n"))
    except UnicodeError as error:
        raise CannotRead(path, why="encoding", encoding=codec) from error
    except OSError as error:
        raise CannotRead(path, why="disk") from error
    return found


def _is_quoted(lines: Sequence[str], quote: str) -> bool:
    return sum(line.lstrip().startswith(quote) for line in lines) * 2 > len(lines)


def _evenness(lines: Sequence[str], delimiter: str, quote: str) -> tuple[float, int]:
    """Which share of the lines have the same number of columns, and how many that is.

    A comma in "7,1" parts every line too, so a sign that gives more columns as evenly wins.
    """
    counts: Counter[int] = Counter()
    for line in lines:
        try:
            fields = next(csv.reader([line], delimiter=delimiter, quotechar=quote), [])
        except csv.Error:
            continue
        counts[len(fields)] += 1
    usual, times = max(counts.items(), key=lambda item: (item[1], item[0]), default=(0, 0))
    if usual < 2:
        return (0, 0)
    return (round(times / len(lines), 1), usual)
