"""The lines of a text file and the fields in each, whatever is in the file.

Memory stays bounded: a line of any length is read in pieces, and a quotation mark that is never
closed does not swallow the rest of the file. What the fields mean is in `line_reader`.
"""

from __future__ import annotations

import csv
import errno
import re
import stat
from collections import deque
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date, datetime, time
from pathlib import Path
from typing import TextIO

from logbook.domain.errors import CannotRead
from logbook.exchange.layout import Layout
from logbook.exchange.refusals import Reason

LONGEST_LINE = 10_000  # characters
LONGEST_KEPT_TEXT = 1_000  # characters of a refused line
_MOST_LINES_IN_A_FIELD = 20

# Tab is a separator; the line feed stands inside quoted fields of several lines.
_CONTROL = re.compile("[\x00-\x08\x0b-\x1f\x7f\x80-\x84\x86-\x9f\ufffe\uffff]")

_UTF_16_MARKS = (b"\xff\xfe", b"\xfe\xff")
_UTF_8_MARK = b"\xef\xbb\xbf"
ZIP = b"PK\x03\x04"
_OTHER_FILES = (ZIP, b"\xd0\xcf\x11\xe0", b"%PDF", b"SQLite format 3\x00", b"\x89PNG", b"\x1f\x8b")
# HTML and XML are text, but no table; some programs name such a page .xls.
_MARKUP = re.compile(rb"\s*<[a-z!?]", re.IGNORECASE)
_HEAD_BYTES = 4096


@dataclass(frozen=True, slots=True)
class Row:
    """One line (or several that one quoted field spans), with its fields or what is wrong.

    `moments` holds, by the place of the field, what a spreadsheet knows to be a date or a time.
    """

    number: int
    text: str
    fields: list[str]
    reason: Reason | None = None
    moments: Mapping[int, datetime | date | time] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class _Line:
    number: int
    text: str
    is_whole: bool


def open_text(path: Path, encoding: str) -> TextIO:
    """Open a text file for reading in `encoding`, one of a layout's.

    Raises `CannotRead` with the fact `why`: missing, directory, special_file, permission, disk,
    not_text (a spreadsheet, a picture, ...) or encoding.
    """
    try:
        mode = path.stat().st_mode
        if stat.S_ISDIR(mode):
            raise CannotRead(path, why="directory")
        if not stat.S_ISREG(mode):  # a pipe would be waited for
            raise CannotRead(path, why="special_file")
        with path.open("rb") as file:
            head = file.read(_HEAD_BYTES)
        _check_head(path, head, encoding)
        codec = "utf-8-sig" if encoding == "utf-8" else encoding
        return path.open(encoding=codec, errors="strict", newline=None)
    except (FileNotFoundError, NotADirectoryError) as error:
        raise CannotRead(path, why="missing") from error
    except PermissionError as error:
        raise CannotRead(path, why="permission") from error
    except (OSError, ValueError) as error:
        is_no_name = isinstance(error, OSError) and error.errno == errno.ENAMETOOLONG
        raise CannotRead(path, why="missing" if is_no_name else "disk") from error


def _check_head(path: Path, head: bytes, encoding: str) -> None:
    """Tell a file of another encoding, or no text at all, by its first bytes."""
    if head.startswith(_OTHER_FILES) or _MARKUP.match(head.removeprefix(_UTF_8_MARK)):
        raise CannotRead(path, why="not_text")
    is_utf_16 = head.startswith(_UTF_16_MARKS)
    is_bare_utf_16 = encoding in ("utf-16-le", "utf-16-be")
    is_wrong = (
        is_utf_16 != (encoding == "utf-16")
        or (head.startswith(_UTF_8_MARK) and not encoding.startswith("utf-8"))
        or (not (is_utf_16 or is_bare_utf_16) and head.count(0) * 4 > len(head))
    )
    if head and is_wrong:
        raise CannotRead(path, why="encoding", encoding=encoding)


def kept_text(text: str) -> str:
    """What is kept of the text of a refused line."""
    return text if len(text) <= LONGEST_KEPT_TEXT else text[:LONGEST_KEPT_TEXT] + "…"


def has_control_characters(text: str) -> bool:
    """Whether a text holds what is no text."""
    return _CONTROL.search(text) is not None


def rows(path: Path, file: TextIO, layout: Layout) -> Iterator[Row]:
    """The rows of an open file after the layout's first lines. Lines are numbered from 1.

    Lines without any text are left out. Raises `CannotRead` (why=encoding) where the bytes are no
    text in the layout's encoding.
    """
    lines = _lines(path, file, layout.encoding)
    for _passed in zip(range(layout.lines_before), lines, strict=False):
        pass
    delimiter, quote = layout.delimiter, layout.quote
    waiting: deque[_Line] = deque()
    while (line := waiting.popleft() if waiting else next(lines, None)) is not None:
        if not line.is_whole:
            yield Row(line.number, line.text, [], Reason.LINE_TOO_LONG)
        elif has_control_characters(line.text):
            yield Row(line.number, line.text, [], Reason.CONTROL_CHARACTERS)
        elif not quote or quote not in line.text:
            fields = line.text.split(delimiter)
            if any(map(str.strip, fields)):
                yield Row(line.number, line.text, fields)
        else:
            yield _quoted_row(line, lines, waiting, delimiter, quote)


def _quoted_row(
    line: _Line, lines: Iterator[_Line], waiting: deque[_Line], delimiter: str, quote: str
) -> Row:
    """The row that begins with `line`; lines that don't belong to it go to `waiting`."""
    text = line.text
    taken: list[_Line] = []
    while True:
        feed = _Feed(text)
        try:
            fields = next(csv.reader(feed, delimiter=delimiter, quotechar=quote, strict=True), [])
        except csv.Error:
            fields = []
        if not feed.was_open:
            break
        following = waiting.popleft() if waiting else next(lines, None)
        if following is not None:
            taken.append(following)
        if (
            following is None
            or not following.is_whole
            or _CONTROL.search(following.text)
            or len(taken) > _MOST_LINES_IN_A_FIELD
            or len(text) + len(following.text) > LONGEST_LINE
        ):
            fields = []
            break
        text = f"{text}\n{following.text}"
    if fields:
        return Row(line.number, text, fields)
    # The first line is refused alone; those read after it are read again for themselves.
    waiting.extendleft(reversed(taken))
    return Row(line.number, line.text, [], Reason.QUOTES_WRONG)


class _Feed:
    """Hands one text to the csv module and notices when it asks for more."""

    def __init__(self, text: str) -> None:
        self.text: str | None = text
        self.was_open = False

    def __iter__(self) -> _Feed:
        return self

    def __next__(self) -> str:
        if self.text is None:
            self.was_open = True
            raise StopIteration
        text, self.text = self.text, None
        return text


def _lines(path: Path, file: TextIO, encoding: str) -> Iterator[_Line]:
    number = 0
    try:
        while text := file.readline(LONGEST_LINE + 1):
            number += 1
            is_whole = text.endswith("\n") or len(text) <= LONGEST_LINE
            if not is_whole:
                # A line of exactly the longest length may still end here.
                rest = file.readline(LONGEST_LINE)
                while rest and not rest.endswith("\n"):
                    rest = file.readline(LONGEST_LINE)
            yield _Line(number, text.removesuffix("\n"), is_whole)
    except UnicodeError as error:
        raise CannotRead(path, why="encoding", encoding=encoding) from error
    except OSError as error:
        raise CannotRead(path, why="disk") from error
