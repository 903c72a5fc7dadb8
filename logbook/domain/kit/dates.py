"""How long a thing of the kit may be used: the printed date, and the time after opening.

Leaflets differ (90 days, 3 months, 180 days, or the printed date alone), so both are kept as they
are printed and nothing is assumed. A printed month means its last day; "3 months" are calendar
months that clamp at a month's end, and are not 90 days.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date, timedelta

from dateutil.relativedelta import relativedelta

from logbook.domain.errors import BadMoment
from logbook.domain.moments import parse_day

_MONTH = re.compile(r"[0-9]{4}-[0-9]{2}", re.ASCII)
_AFTER_OPENING = re.compile(r"([0-9]{1,4})([dm])", re.ASCII)


@dataclass(frozen=True, slots=True)
class PrintedDate:
    """The date on a label: a day, or a month, which lasts to its last day."""

    last_day: date
    is_month: bool = False

    @classmethod
    def from_code(cls, code: str) -> PrintedDate:
        """From `2027-03` or `2027-03-15`. Raises `BadMoment`."""
        if not _MONTH.fullmatch(code):
            return cls(parse_day(code))
        first = parse_day(f"{code}-01")
        return cls(first + relativedelta(months=1) - timedelta(days=1), is_month=True)

    @property
    def code(self) -> str:
        """As it is kept: `2027-03` for a month, `2027-03-15` for a day."""
        return self.last_day.isoformat()[: 7 if self.is_month else 10]


@dataclass(frozen=True, slots=True)
class AfterOpening:
    """How long a thing lasts once it is open: so many days, or so many calendar months."""

    count: int
    in_months: bool

    @classmethod
    def from_code(cls, code: str) -> AfterOpening:
        """From `90d` or `3m`. Raises `BadMoment`."""
        found = _AFTER_OPENING.fullmatch(code)
        if found is None or not int(found[1]):
            raise BadMoment(code, why="date_malformed")
        return cls(int(found[1]), found[2] == "m")

    @property
    def code(self) -> str:
        """As it is kept: `90d`, `3m`."""
        return f"{self.count}{'m' if self.in_months else 'd'}"

    def end(self, opened_on: date) -> date:
        """The last day of use after opening on `opened_on`."""
        if self.in_months:
            return opened_on + relativedelta(months=self.count)
        return opened_on + timedelta(days=self.count)


def use_until(
    expires: PrintedDate | None, after_opening: AfterOpening | None, opened_on: date | None
) -> date | None:
    """The last day of use: the earlier of the printed date and the time after opening.

    None when neither is known.
    """
    ends = [] if expires is None else [expires.last_day]
    if after_opening is not None and opened_on is not None:
        ends.append(after_opening.end(opened_on))
    return min(ends, default=None)
