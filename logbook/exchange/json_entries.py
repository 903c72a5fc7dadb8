"""The members of one large object of JSON, one after another, with little of it in memory.

Python's own `json` decodes each value; here is only what walks from one to the next. A file of many
years decoded at once takes some ten times its size. Of the readers for JSON in pieces, the usual
one ends the program at a whole number of thousands of digits, which a damaged file may hold.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from decimal import Decimal
from typing import Any, TextIO

# More than any one value that is read: an Observation takes some thousand characters.
LONGEST_VALUE = 1_000_000
_CHUNK = 65_536
_SPACES = " \t\n\r"


class NotJson(Exception):
    """Raised where the text is no JSON, or one value in it is too long to be meant; the line."""

    def __init__(self, line: int) -> None:
        super().__init__(line)
        self.line = line


class NotListed(Exception):
    """Raised where the member that should be a list is something else."""


def members(file: TextIO, listed: str) -> Iterator[tuple[str, Any]]:
    """Name and value of each member of the object in `file`, in their order.

    The member called `listed` is a list and comes item by item, each under that name. Raises
    `NotJson`, `NotListed`, `UnicodeError` for letters of another encoding, and `OSError`.
    """
    text = _Text(file)
    text.expect("{")
    if not text.has_next("}"):
        while True:
            name = text.value()
            if not isinstance(name, str):
                raise text.wrong()
            text.expect(":")
            if name == listed:
                if not text.has_next("["):
                    raise NotListed
                yield from ((name, item) for item in _items(text))
            else:
                yield name, text.value()
            if not text.has_next(","):
                break
        text.expect("}")
    text.expect_end()


def _items(text: _Text) -> Iterator[Any]:
    """The items of a list whose bracket was passed."""
    if text.has_next("]"):
        return
    while True:
        yield text.value()
        if not text.has_next(","):
            text.expect("]")
            return


def _no_number(text: str) -> Any:
    """NaN and the like: Python reads them, JSON has none."""
    raise ValueError(text)


_DECODER = json.JSONDecoder(parse_float=Decimal, parse_constant=_no_number)


class _Text:
    """What was read of the file and not yet passed."""

    def __init__(self, file: TextIO) -> None:
        self._file = file
        self._text = ""
        self._at = 0
        self._lines_passed = 0

    def has_next(self, sign: str) -> bool:
        """Whether `sign` is next, which is then passed; spaces are passed in any case."""
        if self._next() != sign:
            return False
        self._at += 1
        return True

    def expect(self, sign: str) -> None:
        """Pass `sign`, which must be next."""
        if not self.has_next(sign):
            raise self.wrong()

    def expect_end(self) -> None:
        """Nothing but spaces may follow."""
        if self._next():
            raise self.wrong()

    def value(self) -> Any:
        """Decode and pass the next value."""
        self._next()
        while True:
            try:
                value, end = _DECODER.raw_decode(self._text, self._at)
            except (ValueError, RecursionError) as error:
                is_too_long = len(self._text) - self._at >= LONGEST_VALUE
                if is_too_long or isinstance(error, RecursionError) or not self._more():
                    place = error.pos if isinstance(error, json.JSONDecodeError) else self._at
                    raise self.wrong(place) from error
            else:
                # A number that ends where the text read so far ends may go on.
                if end < len(self._text) or not self._more():
                    self._at = end
                    return value

    def wrong(self, place: int | None = None) -> NotJson:
        """What to raise: the text at `place`, or here, is no JSON."""
        before = self._text.count("\n", 0, self._at if place is None else place)
        return NotJson(self._lines_passed + before + 1)

    def _next(self) -> str:
        """The next sign that is no space; empty at the end of the file."""
        while True:
            while self._at < len(self._text):
                if self._text[self._at] not in _SPACES:
                    return self._text[self._at]
                self._at += 1
            if not self._more():
                return ""

    def _more(self) -> bool:
        """Read on, as much again as is waiting, so that a long value is not begun too often."""
        waiting = len(self._text) - self._at
        more = self._file.read(max(_CHUNK, waiting))
        if more:
            self._lines_passed += self._text.count("\n", 0, self._at)
            self._text = self._text[self._at :] + more
            self._at = 0
        return bool(more)
