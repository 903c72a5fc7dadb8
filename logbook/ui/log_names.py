"""Whose log a file is: the name in it, read without opening it for writing."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from pathlib import Path

from logbook.book import Book
from logbook.domain.errors import LogbookError


def name_of_log(path: Path, clock: Callable[[], datetime]) -> str:
    """The person's name in the log at `path`; empty where there is none or it can't be read."""
    try:
        with Book.open(path, clock, read_only=True) as book:
            return book.settings.person_name
    except LogbookError:
        return ""
