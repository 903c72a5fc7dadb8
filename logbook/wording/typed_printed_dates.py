"""Dates as they are printed on packs and bottles: a month and a year, or a whole day."""

from __future__ import annotations

import re
from datetime import date

from logbook.domain.errors import BadMoment
from logbook.domain.kit.dates import PrintedDate
from logbook.wording.dates import day_text
from logbook.wording.typed_days import Toward, month_number, read_day

_MONTH_FIRST = re.compile(r"\s*([0-9]{1,2})\s*[/.\-\s]\s*([0-9]{4})\s*", re.ASCII)
_YEAR_FIRST = re.compile(r"\s*([0-9]{4})\s*[/.\-\s]\s*([0-9]{1,2})\s*", re.ASCII)
_NAME_FIRST = re.compile(r"\s*([^\W\d_]+)\.?\s+([0-9]{4})\s*")


def read_printed_date(text: str, today: date) -> PrintedDate:
    """A printed date: "03/2027", "2027-03", "March 2027" are months; "15 March 2027" is a day.

    Raises `BadMoment` when it is neither.
    """
    for form, month_place, year_place in ((_MONTH_FIRST, 1, 2), (_YEAR_FIRST, 2, 1)):
        found = form.fullmatch(text)
        if found is not None:
            return _month(text, int(found[year_place]), int(found[month_place]))
    found = _NAME_FIRST.fullmatch(text)
    if found is not None and (month := month_number(found[1])) is not None:
        return _month(text, int(found[2]), month)
    return PrintedDate(read_day(text, today, Toward.FUTURE))


def typed_printed_text(printed: PrintedDate | None) -> str:
    """A printed date as `read_printed_date` takes it: "03/2027"; empty for none."""
    if printed is None:
        return ""
    day = printed.last_day
    return f"{day.month:02d}/{day.year:04d}" if printed.is_month else day_text(day)


def _month(text: str, year: int, month: int) -> PrintedDate:
    if not (1 <= month <= 12 and 2000 <= year <= 2099):
        raise BadMoment(text, why="date_impossible")
    return PrintedDate.from_code(f"{year:04d}-{month:02d}")
