"""What is odd about a number before it is saved: codes and facts, never sentences.

What is impossible at all is refused by `Glucose`; `explain_refusal` tells why. Everything here is a
doubt, not a fault. A low is never questioned first: it is saved at once, and a doubt about it is
one quiet line afterwards.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from logbook.domain.errors import DecimalsNotShown, ImpossibleGlucose, LogbookError, NotANumber
from logbook.domain.glucose import POSSIBLE_STEPS, Glucose, Kind, Unit, converted_steps
from logbook.domain.levels import LOW_BELOW, METER_LIMITS
from logbook.domain.lows import to_microseconds
from logbook.domain.meters import Meter
from logbook.domain.moments import Moment
from logbook.domain.series import Series

# The usual is told from this many days, and only from this many numbers. Judgement without a
# source, as are the distances below: 100 mg/dL above, 50 below (in mmol/L 5.6 and 2.8).
USUAL_DAYS = 90
USUAL_NEEDS = 10
FAR_ABOVE = {Unit.MG_DL: 100, Unit.MMOL_L: 56}
FAR_BELOW = {Unit.MG_DL: 50, Unit.MMOL_L: 28}

_MICROSECONDS_A_DAY = 24 * 60 * 60 * 1_000_000


class Odd(StrEnum):
    """What is odd about a reading."""

    BELOW_METER = "below_meter"
    ABOVE_METER = "above_meter"
    TENFOLD = "tenfold"
    OTHER_UNIT = "other_unit"
    FAR_FROM_USUAL = "far_from_usual"
    FUTURE = "future"
    CLOCK_BEHIND = "clock_behind"


@dataclass(frozen=True, slots=True)
class Oddity:
    """One odd thing.

    `asks_first` says whether to ask before saving; else it is told, and saving goes on. `meant` is
    the value that may have been meant (ten-fold, other unit), `limit` the meter's last number.
    """

    odd: Odd
    asks_first: bool
    meant: Glucose | None = None
    limit: Glucose | None = None


@dataclass(frozen=True, slots=True)
class Usual:
    """The lowest and highest of the person's recent numbers, in steps of `unit`."""

    unit: Unit
    lowest: int
    highest: int

    def covers(self, glucose: Glucose) -> bool:
        """Whether a value of the same unit lies among them."""
        return glucose.unit is self.unit and self.lowest <= glucose.order_steps <= self.highest


@dataclass(frozen=True, slots=True)
class Refusal:
    """Why typed text is no possible reading.

    `meant` is the same text read in the other unit, when that is a possible reading.
    """

    why: type[LogbookError]
    meant: Glucose | None


def usual_of(series: Series, unit: Unit, now: datetime) -> Usual | None:
    """The person's usual range from the numbers of the last 90 days; None from under 10 of them."""
    until = to_microseconds(now)
    since = until - USUAL_DAYS * _MICROSECONDS_A_DAY
    least, most = POSSIBLE_STEPS[unit]
    recent = [
        series.steps[index]
        for index in series.counted()
        if since <= series.instants[index] <= until
        and series.units[index] is unit
        and least <= series.steps[index] <= most
    ]
    return Usual(unit, min(recent), max(recent)) if len(recent) >= USUAL_NEEDS else None


def explain_refusal(text: str, unit: Unit) -> Refusal | None:
    """Why `text` can't be a reading in `unit`; None when it can."""
    try:
        Glucose.parse(text, unit)
    except (DecimalsNotShown, ImpossibleGlucose, NotANumber) as refusal:
        try:
            meant = Glucose.parse(text, unit.other)
        except (DecimalsNotShown, ImpossibleGlucose, NotANumber):
            meant = None
        return Refusal(type(refusal), meant)
    return None


def find_oddities(
    glucose: Glucose,
    at: Moment,
    now: datetime,
    *,
    usual: Usual | None = None,
    meter: Meter | None = None,
    last_written_at: datetime | None = None,
) -> tuple[Oddity, ...]:
    """What is odd about a typed reading, in the order in which to tell it.

    `now` and `last_written_at` (when the latest entry was written) are aware. Without a `meter` the
    usual limits of meters hold. For LO and HI only the moments are looked at. Of ten-fold, other
    unit and far from usual at most one is told, in this order.
    """
    is_low = glucose.order_steps < LOW_BELOW[glucose.unit]
    found = []
    if glucose.kind is Kind.NUMBER:
        found += [
            *_outside_meter(glucose, meter, asks_first=not is_low),
            *_unlike_usual(glucose, usual, asks_first=not is_low),
        ]
    if at.instant > now:
        found.append(Oddity(Odd.FUTURE, asks_first=not is_low))
    if last_written_at is not None and now < last_written_at:
        # A clock that was set back is told of, never a reason not to save.
        found.append(Oddity(Odd.CLOCK_BEHIND, asks_first=False))
    return tuple(found)


def _outside_meter(glucose: Glucose, meter: Meter | None, *, asks_first: bool) -> Iterator[Oddity]:
    unit = glucose.unit
    lowest, highest = METER_LIMITS[unit]
    if meter is not None and meter.unit is unit:
        lowest, highest = meter.lowest, meter.highest
    if glucose.order_steps < lowest:
        yield Oddity(Odd.BELOW_METER, asks_first, limit=Glucose.number(lowest, unit))
    elif glucose.order_steps > highest:
        yield Oddity(Odd.ABOVE_METER, asks_first, limit=Glucose.number(highest, unit))


def _unlike_usual(glucose: Glucose, usual: Usual | None, *, asks_first: bool) -> Iterator[Oddity]:
    unit, steps = glucose.unit, glucose.order_steps
    if usual is None or usual.unit is not unit or usual.covers(glucose):
        return
    tenfold = steps // 10 if steps > usual.highest else steps * 10
    if usual.lowest <= tenfold <= usual.highest and tenfold in {steps * 10, steps / 10}:
        yield Oddity(Odd.TENFOLD, asks_first, meant=Glucose.number(tenfold, unit))
        return
    refusal = explain_refusal(glucose.text, unit.other)
    if refusal is None:
        meant = Glucose.parse(glucose.text, unit.other)
        if usual.lowest <= converted_steps(meant.order_steps, unit.other, unit) <= usual.highest:
            yield Oddity(Odd.OTHER_UNIT, asks_first, meant=meant)
            return
    if steps > usual.highest + FAR_ABOVE[unit] or steps < usual.lowest - FAR_BELOW[unit]:
        yield Oddity(Odd.FAR_FROM_USUAL, asks_first)
