"""Days as people type them, read forgivingly and never guessed at.

"25 Nov", "Nov 25, 2026", "11/25", "2026-11-25", "Tuesday" and "tomorrow" are days. Month and
weekday names are those of the manner in use, and of English. Whoever asks shows in words what was
understood. No clock is read: today is handed in.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from datetime import date, timedelta
from enum import Enum
from functools import lru_cache
from typing import Literal

from babel.dates import get_day_names, get_month_names

from logbook.domain.errors import BadMoment
from logbook.wording import _
from logbook.wording.manner import find_locale, manner

_LONGEST = 60
_ISO = re.compile(r"(\d{4})[-/. ](\d{1,2})[-/. ](\d{1,2})", re.ASCII)
_NUMBERS = re.compile(r"(\d{1,2})[-/. ]+(\d{1,2})(?:[-/. ]+(\d{4}|\d{2}))?\.?", re.ASCII)
_WORD = re.compile(r"[^\W\d_]+")
_DAY_WITH_ENDING = re.compile(r"(\d{1,2})(?:st|nd|rd|th)?", re.ASCII)


class Toward(Enum):
    """Where a day without its year, or a weekday, is looked for. Today counts for both."""

    PAST = "past"
    FUTURE = "future"


def read_day(text: str, today: date, toward: Toward = Toward.FUTURE) -> date:
    """The day that `text` names.

    Two numbers stand in the order of the manner's locale, unless only the other order is a day.

    Raises:
        BadMoment: `date_malformed` for what is no day, `date_impossible` for February 30.
    """
    plain = _plain(text)
    if not plain or len(plain) > _LONGEST:
        raise BadMoment(text.strip(), why="date_malformed")
    if named := _near_day(plain, today):
        return named
    if weekday := _weekday(plain):
        return _next_weekday(weekday - 1, today, toward)
    if iso := _ISO.fullmatch(plain):
        return _day(text, int(iso[1]), int(iso[2]), int(iso[3]))
    if numbers := _NUMBERS.fullmatch(plain):
        first, second = int(numbers[1]), int(numbers[2])
        year = _year(numbers[3])
        month, day = (first, second) if _month_first() else (second, first)
        if month > 12 >= day:
            month, day = day, month
        return _placed(text, year, month, day, today, toward)
    return _with_month_name(text, plain, today, toward)


def month_number(word: str) -> int | None:
    """The month that a name, or its beginning, means: 3 for "March" or "mar"; None for none."""
    return _match(_plain(word).rstrip("."), _month_names(manner().locale))


def _plain(text: str) -> str:
    """Small letters, without marks over them, single spaces, no spaces at the ends."""
    letters = unicodedata.normalize("NFKD", text.casefold())
    kept = "".join(letter for letter in letters if not unicodedata.combining(letter))
    return " ".join(kept.split())


def _near_day(plain: str, today: date) -> date | None:
    words = {
        _plain(_("today")): 0,
        _plain(_("tomorrow")): 1,
        _plain(_("yesterday")): -1,
    }
    return today + timedelta(days=words[plain]) if plain in words else None


def _weekday(plain: str) -> int | None:
    """Monday is 1; None for what is no weekday."""
    found = _WORD.fullmatch(plain.rstrip("."))
    return None if found is None else _match(found[0], _weekday_names(manner().locale))


def _next_weekday(weekday: int, today: date, toward: Toward) -> date:
    ahead = (weekday - today.weekday()) % 7
    if toward is Toward.PAST:
        return today - timedelta(days=(-ahead) % 7)
    return today + timedelta(days=ahead)


def _with_month_name(text: str, plain: str, today: date, toward: Toward) -> date:
    """A day with its month as a word, in any order; a weekday beside it must be the right one."""
    month = day = year = weekday = None
    for word in re.split(r"[\s,./-]+", plain):
        if not word or word in _fillers(manner().locale):
            continue
        number = _DAY_WITH_ENDING.fullmatch(word)
        if number and day is None:
            day = int(number[1])
        elif re.fullmatch(r"\d{4}", word, re.ASCII) and year is None:
            year = int(word)
        elif month is None and (found := _match(word, _month_names(manner().locale))):
            month = found
        elif weekday is None and (found := _match(word, _weekday_names(manner().locale))):
            weekday = found
        else:
            raise BadMoment(text.strip(), why="date_malformed")
    if month is None or day is None:
        raise BadMoment(text.strip(), why="date_malformed")
    result = _placed(text, year, month, day, today, toward)
    if weekday is not None and result.isoweekday() != weekday:
        raise BadMoment(text.strip(), why="date_impossible")
    return result


def _placed(text: str, year: int | None, month: int, day: int, today: date, toward: Toward) -> date:
    """The day in `year`; without one, the next or the last such day that exists, today included."""
    if year is not None:
        return _day(text, year, month, day)
    step = 1 if toward is Toward.FUTURE else -1
    for years in range(9):  # eight years always hold a February 29
        try:
            candidate = date(today.year + step * years, month, day)
        except ValueError:
            continue
        if (candidate - today).days * step >= 0:
            return candidate
    raise BadMoment(text.strip(), why="date_impossible")


def _day(text: str, year: int, month: int, day: int) -> date:
    try:
        return date(year, month, day)
    except ValueError as error:
        raise BadMoment(text.strip(), why="date_impossible") from error


def _year(digits: str | None) -> int | None:
    if digits is None:
        return None
    # Nobody writes down an appointment or a target of the last century.
    return int(digits) + 2000 if len(digits) == 2 else int(digits)


def _month_first() -> bool:
    pattern = str(find_locale(manner().locale).date_formats["short"].pattern)
    return pattern.find("M") < pattern.find("d")


def _match(word: str, names: dict[str, int]) -> int | None:
    """The number of a name, or of its beginning when that is three letters or more of one only."""
    if word in names:
        return names[word]
    found = {number for name, number in names.items() if len(word) >= 3 and name.startswith(word)}
    return found.pop() if len(found) == 1 else None


@lru_cache(maxsize=8)
def _fillers(locale: str) -> frozenset[str]:
    """Words that a whole date holds besides its parts: "de" in "1 de enero de 2027"."""
    pattern = str(find_locale(locale).date_formats["long"].pattern)
    return frozenset({"of", *(_plain(word) for word in re.findall(r"'([^']+)'", pattern))})


@lru_cache(maxsize=8)
def _month_names(locale: str) -> dict[str, int]:
    return {
        _plain(name).rstrip("."): number
        for written, width in _locales(locale)
        for number, name in get_month_names(width, locale=written).items()
    }


@lru_cache(maxsize=8)
def _weekday_names(locale: str) -> dict[str, int]:
    return {
        _plain(name).rstrip("."): number + 1
        for written, width in _locales(locale)
        for number, name in get_day_names(width, locale=written).items()
    }


def _locales(locale: str) -> Iterator[tuple[str, Literal["abbreviated", "wide"]]]:
    for written in ("en", str(find_locale(locale))):
        yield written, "abbreviated"
        yield written, "wide"
