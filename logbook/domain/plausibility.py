"""What is odd about a number before it is saved: codes and facts, never sentences.

What is impossible at all is refused by `Glucose`; `explain_refusal` tells why. Everything here is a
doubt, not a fault. A low is never questioned first: it is saved at once, and a doubt about it is
one quiet line afterwards. No doubt comes twice in a row: when the number before was far from the
usual on the same side, the next is not doubted for it. That is told from the log, so a restart
changes nothing.
"""

from __future__ import annotations

import statistics
from collections.abc import Container, Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from enum import Enum, StrEnum

from logbook.domain.errors import DecimalsNotShown, ImpossibleGlucose, LogbookError, NotANumber
from logbook.domain.glucose import POSSIBLE_STEPS, Glucose, Kind, Unit, converted_steps
from logbook.domain.kit.meters import Meter
from logbook.domain.levels import LOW_BELOW, METER_LIMITS
from logbook.domain.lows import to_microseconds
from logbook.domain.moments import Moment
from logbook.domain.other_log import SavedNumber
from logbook.domain.series import Mark, Series

# The usual is told from this many days, and only from this many numbers. Judgement without a
# source.
USUAL_DAYS = 90
USUAL_NEEDS = 10
# Far is this many times the distance between the quartiles beyond them (J. W. Tukey, Exploratory
# Data Analysis, 1977: "far out"; from memory, not checked), and at least 50 mg/dL (2.8 mmol/L)
# beyond most of the numbers, which is judgement without a source.
FAR_QUARTILES = 3
FAR_AT_LEAST = {Unit.MG_DL: 50, Unit.MMOL_L: 28}
# Numbers outside these are rare in anyone: the lower end holds always, because a lost figure lands
# there, the upper one until the person's own usual is known. Judgement without a source.
RARE_UP_TO = {Unit.MG_DL: 40, Unit.MMOL_L: 22}
RARE_ABOVE = {Unit.MG_DL: 400, Unit.MMOL_L: 222}

_MICROSECONDS_A_DAY = 24 * 60 * 60 * 1_000_000
_MICROSECONDS_A_MINUTE = 60 * 1_000_000


class Odd(StrEnum):
    """What is odd about a reading."""

    BELOW_METER = "below_meter"
    ABOVE_METER = "above_meter"
    TENFOLD = "tenfold"
    OTHER_UNIT = "other_unit"
    FAR_FROM_USUAL = "far_from_usual"
    RARE = "rare"
    FUTURE = "future"
    CLOCK_BEHIND = "clock_behind"
    OTHER_LOG = "other_log"


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
    """Where most of the person's recent numbers lie, in steps of `unit`.

    Most lie from `lowest` to `highest`, both included: the highest and the lowest number of all
    are left out, so that one wild number opens nothing, and of the others the outer twentieths.
    Below `far_below` and above `far_above` a number is far from them.
    """

    unit: Unit
    lowest: int
    highest: int
    far_below: int
    far_above: int

    def covers(self, glucose: Glucose) -> bool:
        """Whether a value of the same unit lies among most of them."""
        return glucose.unit is self.unit and self.lowest <= glucose.order_steps <= self.highest


@dataclass(frozen=True, slots=True)
class Before:
    """The number written down last, in steps, and the usual as it was told before it.

    `steps` has LO and HI as in `Series`; several when they were written in one minute, none when
    it was in the other unit or when nobody typed it.
    """

    steps: tuple[int, ...] = ()
    usual: Usual | None = None


NOTHING_BEFORE = Before()


@dataclass(frozen=True, slots=True)
class Refusal:
    """Why typed text is no possible reading.

    `meant` is the same text read in the other unit, when that is a possible reading.
    """

    why: type[LogbookError]
    meant: Glucose | None


def usual_of(series: Series, unit: Unit, now: datetime) -> Usual | None:
    """The person's usual range from the numbers of the last 90 days; None from under 10 of them."""
    return _usual_until(series, unit, to_microseconds(now))


def _usual_until(
    series: Series, unit: Unit, until: int, without: Container[int] = ()
) -> Usual | None:
    since = until - USUAL_DAYS * _MICROSECONDS_A_DAY
    least, most = POSSIBLE_STEPS[unit]
    recent = [
        series.steps[index]
        for index in series.counted()
        if since <= series.instants[index] <= until
        and series.units[index] is unit
        and least <= series.steps[index] <= most
        and index not in without
    ]
    return usual_of_steps(recent, unit) if len(recent) >= USUAL_NEEDS else None


def usual_of_steps(steps: Sequence[int], unit: Unit) -> Usual:
    """The same from at least four numbers, in steps of `unit`."""
    twentieths = statistics.quantiles(sorted(steps)[1:-1], n=20, method="inclusive")
    lowest, q1, q3, highest = (twentieths[index] for index in (0, 4, 14, 18))
    far, least = FAR_QUARTILES * (q3 - q1), FAR_AT_LEAST[unit]
    return Usual(
        unit,
        round(lowest),
        round(highest),
        far_below=round(min(q1 - far, lowest - least)),
        far_above=round(max(q3 + far, highest + least)),
    )


def number_before(series: Series, unit: Unit) -> Before:
    """The number of `unit` that was written down last.

    Imported numbers were asked about by nobody and are left out, as is what takes no part in
    figures.
    """
    imported = int(Mark.IMPORTED)
    minutes = {
        index: series.instants[index] // _MICROSECONDS_A_MINUTE
        + series.written_minutes[index]
        - series.wall_minutes[index]
        for index in series.counted()
        if not series.marks[index] & imported
    }
    latest = max(minutes.values(), default=0)
    last = [index for index, minute in minutes.items() if minute == latest]
    steps = tuple(series.steps[index] for index in last if series.units[index] is unit)
    if not steps:
        return NOTHING_BEFORE
    until = (latest + 1) * _MICROSECONDS_A_MINUTE
    return Before(steps, _usual_until(series, unit, until, without=last))


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
    before: Before = NOTHING_BEFORE,
    meter: Meter | None = None,
    last_written_at: datetime | None = None,
    elsewhere: Iterable[SavedNumber] = (),
) -> tuple[Oddity, ...]:
    """What is odd about a typed reading, in the order in which to tell it.

    `now` and `last_written_at` (when the latest entry was written) are aware. What the number
    before it (`number_before`) stood out by is not told again. Without a `meter` the usual limits
    of meters hold. `elsewhere` is what this program saved in other logs just now. For LO and HI
    only the moments are looked at. A number far from the usual, or rare in anyone, gives one doubt:
    ten-fold or other unit where that would explain it.
    """
    is_low = glucose.order_steps < LOW_BELOW[glucose.unit]
    found = []
    if any(one.is_same(glucose, at, now) for one in elsewhere):
        found.append(Oddity(Odd.OTHER_LOG, asks_first=not is_low))
    if glucose.kind is Kind.NUMBER:
        found += [
            *_outside_meter(glucose, meter, before, asks_first=not is_low),
            *_unlike_usual(glucose, usual, before, asks_first=not is_low),
        ]
    if at.instant > now:
        found.append(Oddity(Odd.FUTURE, asks_first=not is_low))
    if last_written_at is not None and now < last_written_at:
        # A clock that was set back is told of, never a reason not to save.
        found.append(Oddity(Odd.CLOCK_BEHIND, asks_first=False))
    return tuple(found)


def first_to_tell(oddities: Iterable[Oddity]) -> Oddity | None:
    """The one to tell of when there is room for one: it names what may have been meant, if any."""
    told = list(oddities)
    return next((oddity for oddity in told if oddity.meant is not None), told[0] if told else None)


def _outside_meter(
    glucose: Glucose, meter: Meter | None, before: Before, *, asks_first: bool
) -> Iterator[Oddity]:
    unit = glucose.unit
    lowest, highest = METER_LIMITS[unit]
    if meter is not None and meter.unit is unit:
        lowest, highest = meter.lowest, meter.highest
    if glucose.order_steps < lowest:
        yield Oddity(Odd.BELOW_METER, asks_first, limit=Glucose.number(lowest, unit))
    elif glucose.order_steps > highest:
        possible = POSSIBLE_STEPS[unit][1]
        if not any(highest < was <= possible for was in before.steps):
            yield Oddity(Odd.ABOVE_METER, asks_first, limit=Glucose.number(highest, unit))


def _unlike_usual(
    glucose: Glucose, usual: Usual | None, before: Before, *, asks_first: bool
) -> Iterator[Oddity]:
    unit, steps = glucose.unit, glucose.order_steps
    if usual is not None and usual.unit is not unit:
        usual = None
    side = _side(steps, unit, usual)
    if side is None or any(_side(was, unit, before.usual) is side for was in before.steps):
        return
    if usual is not None and not usual.covers(glucose):
        tenfold = steps // 10 if steps > usual.highest else steps * 10
        if usual.lowest <= tenfold <= usual.highest and tenfold in {steps * 10, steps / 10}:
            yield Oddity(Odd.TENFOLD, asks_first, meant=Glucose.number(tenfold, unit))
            return
        if explain_refusal(glucose.text, unit.other) is None:
            meant = Glucose.parse(glucose.text, unit.other)
            converted = converted_steps(meant.order_steps, unit.other, unit)
            if usual.lowest <= converted <= usual.highest:
                yield Oddity(Odd.OTHER_UNIT, asks_first, meant=meant)
                return
    is_far = usual is not None and not usual.far_below <= steps <= usual.far_above
    yield Oddity(Odd.FAR_FROM_USUAL if is_far else Odd.RARE, asks_first)


class _Side(Enum):
    ABOVE = 1
    BELOW = 2


def _side(steps: int, unit: Unit, usual: Usual | None) -> _Side | None:
    """The side on which a number is far from the usual, or rare in anyone."""
    if steps > (RARE_ABOVE[unit] if usual is None else usual.far_above):
        return _Side.ABOVE
    if steps <= RARE_UP_TO[unit] or (usual is not None and steps < usual.far_below):
        return _Side.BELOW
    return None
