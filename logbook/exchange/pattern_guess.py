"""How a column writes its dates and times, told from many of its cells."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, time
from functools import cache
from itertools import pairwise

from logbook.exchange.written_moments import Pattern, date_of, time_of

_DATES = (
    "%Y-%m-%d", "%Y/%m/%d", "%Y.%m.%d", "%d.%m.%Y", "%d.%m.%y", "%m/%d/%Y", "%d/%m/%Y", "%m-%d-%Y",
    "%d-%m-%Y", "%m/%d/%y", "%d/%m/%y", "%m-%d-%y", "%d-%m-%y", "%d %b %Y", "%d-%b-%Y",
    "%d-%b-%y", "%b %d, %Y", "%b %d %Y", "%Y%m%d",
)  # fmt: skip
_TIMES = (
    "%H:%M", "%H:%M:%S", "%I:%M %p", "%I:%M%p", "%I:%M:%S %p", "%I:%M:%S%p", "%H.%M", "%Hh%M",
)  # fmt: skip
_BETWEEN = (" ", "T", ", ", "  ", " at ")
# As computers write them for each other (ISO 8601), with parts of a second and the offset to UTC.
_OF_COMPUTERS = tuple(
    f"%Y-%m-%d{between}%H:%M{more}"
    for between in ("T", " ")
    for more in ("%z", ":%S%z", ":%S.%f", ":%S.%f%z", ":%S %z")
)
_MOMENTS = (
    *(f"{day}{between}{clock}" for day in _DATES for between in _BETWEEN for clock in _TIMES),
    *_OF_COMPUTERS,
)

# From this share of a column on it is taken for one of dates or times. Judgement without a source.
ENOUGH = 0.8
_ENOUGH_WHERE_SAID = 0.5
# An order of dates that rises or falls all the way is told from so many. Judgement, no source.
_ORDER_NEEDS = 8


@dataclass(frozen=True, slots=True)
class Written:
    """How a column is written: the pattern, and which share of its cells it reads.

    `is_order_open` tells that day and month might stand the other way round.
    """

    pattern: str
    share: float
    is_order_open: bool = False


def dates_written(
    cells: Sequence[str], *, is_day_first: bool | None = None, is_said: bool = False
) -> Written | None:
    """How the cells write dates; None for a column that is none of dates.

    `is_said` tells that a heading or the person calls it one: then half of the cells are enough.
    """
    return _written(_DATES, cells, is_day_first=is_day_first, is_said=is_said)


def times_written(cells: Sequence[str], *, is_said: bool = False) -> Written | None:
    """How the cells write times of day."""
    return _written(_TIMES, cells, is_day_first=None, is_said=is_said)


def moments_written(
    cells: Sequence[str], *, is_day_first: bool | None = None, is_said: bool = False
) -> Written | None:
    """How the cells write date and time together."""
    return _written(_MOMENTS, cells, is_day_first=is_day_first, is_said=is_said)


def _written(
    patterns: Sequence[str], cells: Sequence[str], *, is_day_first: bool | None, is_said: bool
) -> Written | None:
    said = [cell.strip() for cell in cells if cell.strip()]
    if not said:
        return None
    probe = said[:5]
    found: list[tuple[float, str, list[datetime]]] = []
    for written in patterns:
        if any(_read(written, cell) for cell in probe):
            moments = [moment for cell in said if (moment := _read(written, cell)) is not None]
            found.append((len(moments) / len(said), written, moments))
    if not found:
        return None
    best = max(share for share, _written, _moments in found)
    if best < (_ENOUGH_WHERE_SAID if is_said else ENOUGH):
        return None
    equal = [one for one in found if one[0] == best]
    # Half of 03/04 and half of 04/03 would come in with day and month the wrong way round.
    if best < ENOUGH and any(_is_day_first(written) is not None for _s, written, _m in equal):
        return None
    orders = {_is_day_first(written) for _share, written, _moments in equal} - {None}
    if len(orders) < 2:
        return Written(equal[0][1], best)
    if is_day_first is not None:
        chosen = next(one for one in equal if _is_day_first(one[1]) in (is_day_first, None))
        return Written(chosen[1], best)
    ordered = [one for one in equal if _is_in_order(one[2])]
    if len(ordered) == 1:
        return Written(ordered[0][1], best)
    return Written(equal[0][1], best, is_order_open=True)


def _is_day_first(pattern: str) -> bool | None:
    """Whether the day stands before the month, both as numbers; None where that is plain."""
    if "%m" not in pattern or pattern.startswith("%Y") or "." in pattern.partition(" ")[0]:
        return None
    return pattern.index("%d") < pattern.index("%m")


def _is_in_order(moments: Sequence[datetime]) -> bool:
    if len(moments) < _ORDER_NEEDS:
        return False
    rises = all(one <= other for one, other in pairwise(moments))
    falls = all(one >= other for one, other in pairwise(moments))
    return rises or falls


@cache
def _compiled(written: str) -> Pattern:
    return Pattern.compile(written)


def _read(written: str, text: str) -> datetime | None:
    parts = _compiled(written).read(text)
    if parts is None:
        return None
    numbers = date_of(parts) if "day" in parts else (2000, 1, 1)
    clock = time_of(parts) if "minute" in parts else (0, 0, 0)
    if numbers is None or clock is None:
        return None
    try:
        return datetime.combine(datetime(*numbers), time(*clock))  # noqa: DTZ001  (a wall time)
    except ValueError:
        return None
