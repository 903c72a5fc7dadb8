"""Mean, spread, quartiles and shares of glucose values: the formulas alone.

Which readings take part is decided by `summary` and `occasions`. Each formula is told in words,
with its source, in docs/method.md.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import fsum, sqrt
from statistics import NormalDist

from logbook.domain.glucose import HI_STEPS, MG_DL_PER_MMOL_L, Unit
from logbook.domain.series import Series

_FACTOR = float(MG_DL_PER_MMOL_L)

# Two-sided 95 %: 1.959964.
_Z = NormalDist().inv_cdf(0.975)

# With fewer values no SD, CV or middle half is shown, of fewer no percentage: too few to tell.
# Judgement without a source.
LEAST_FOR_SPREAD = 5
LEAST_FOR_SHARE = 5


@dataclass(frozen=True, slots=True)
class Figures:
    """Figures of some values, in `unit`, unrounded.

    `numbers`, `reads_low` and `reads_high` say of how many. Mean, SD (n-1), CV, least and greatest
    are of the numbers alone. Median and quartiles are of all values in order, LO first and HI last;
    one that rests on a LO or HI is None. Without numbers all are None; SD and CV need two.
    """

    unit: Unit
    numbers: int
    reads_low: int
    reads_high: int
    mean: float | None = None
    sd: float | None = None
    cv_percent: float | None = None
    least: float | None = None
    q1: float | None = None
    median: float | None = None
    q3: float | None = None
    greatest: float | None = None

    @property
    def count(self) -> int:
        """Of how many values, LO and HI included."""
        return self.numbers + self.reads_low + self.reads_high

    @property
    def is_complete(self) -> bool:
        """No LO or HI among them: only then are mean, SD and CV shown on screen and paper."""
        return self.reads_low == 0 and self.reads_high == 0

    @property
    def is_enough(self) -> bool:
        """Enough values for SD, CV and the middle half to be shown on screen and paper."""
        return self.count >= LEAST_FOR_SPREAD


@dataclass(frozen=True, slots=True)
class Share:
    """So many out of so many."""

    part: int
    of: int

    @property
    def percent(self) -> float | None:
        """As a percentage, unrounded; None of nothing."""
        return 100 * self.part / self.of if self.of else None

    @property
    def is_enough(self) -> bool:
        """Of enough for a percentage and its interval to be shown on screen and paper."""
        return self.of >= LEAST_FOR_SHARE

    @property
    def interval_percent(self) -> tuple[float, float] | None:
        """The 95 % interval of the percentage by Wilson's score method; None of nothing.

        Source: Wilson, J Am Stat Assoc 1927;22:209 (from memory); SciPy and statsmodels agree.
        """
        if not self.of:
            return None
        z_squared = _Z * _Z
        centre = self.part + z_squared / 2
        half_width = _Z * sqrt(self.part * (self.of - self.part) / self.of + z_squared / 4)
        whole = self.of + z_squared
        # At none and at all the end is 0 and 1 exactly; rounding must not put it beside them.
        low = 0.0 if self.part == 0 else 100 * (centre - half_width) / whole
        high = 100.0 if self.part == self.of else 100 * (centre + half_width) / whole
        return low, high


def figures_of(unit: Unit, own: Iterable[int], other: Iterable[int] = ()) -> Figures:
    """Figures in `unit` of values in steps: `own` of that unit, `other` of the other unit.

    `LO_STEPS` and `HI_STEPS` stand for LO and HI. Values of the other unit are converted with
    18.0156 and not rounded. With values of one unit alone, sums are of whole numbers and exact.
    """
    own_numbers, own_low, own_high = _without_ends(own)
    other_numbers, other_low, other_high = _without_ends(other)
    reads_low, reads_high = own_low + other_low, own_high + other_high
    if other_numbers:
        return _figures_of_mixed(unit, own_numbers, other_numbers, reads_low, reads_high)
    numbers = len(own_numbers)
    if not numbers:
        return Figures(unit, 0, reads_low, reads_high)
    total = sum(own_numbers)
    squares = sum(steps * steps for steps in own_numbers)
    scale = unit.steps_per_one
    mean = total / (numbers * scale)
    sd = None
    if numbers > 1:
        spread = numbers * squares - total * total
        sd = sqrt(spread / (numbers * (numbers - 1) * scale * scale))
    return Figures(
        unit,
        numbers,
        reads_low,
        reads_high,
        mean=mean,
        sd=sd,
        cv_percent=None if sd is None else 100 * sd / mean,
        least=_in_unit(own_numbers[0], scale),
        q1=_quartile(own_numbers, reads_low, reads_high, 1, scale),
        median=_quartile(own_numbers, reads_low, reads_high, 2, scale),
        q3=_quartile(own_numbers, reads_low, reads_high, 3, scale),
        greatest=_in_unit(own_numbers[-1], scale),
    )


def figures_of_readings(series: Series, indices: Iterable[int], unit: Unit) -> Figures:
    """Figures in `unit` of the readings of `series` at `indices`."""
    by_unit = steps_by_unit(series, indices)
    return figures_of(unit, by_unit[unit], by_unit[unit.other])


def steps_by_unit(series: Series, indices: Iterable[int]) -> dict[Unit, list[int]]:
    """The values at `indices`, in steps, apart by the unit in which they were written."""
    steps, units = series.steps, series.units
    chosen = indices if isinstance(indices, Sequence) else tuple(indices)
    by_unit: dict[Unit, list[int]] = {unit: [] for unit in Unit}
    if not chosen:
        return by_unit
    # As a rule one unit holds them all, and no second look is needed.
    first = units[chosen[0]]
    by_unit[first] = [steps[index] for index in chosen if units[index] is first]
    if len(by_unit[first]) < len(chosen):
        other = first.other
        by_unit[other] = [steps[index] for index in chosen if units[index] is other]
    return by_unit


def unrounded(steps: int, unit: Unit, into: Unit) -> float:
    """A number in steps of `unit` as a value in `into`, for reckoning: never rounded."""
    if unit is into:
        return _in_unit(steps, unit.steps_per_one)
    value = steps / unit.steps_per_one
    return value * _FACTOR if into is Unit.MG_DL else value / _FACTOR


def _figures_of_mixed(
    unit: Unit, own: Sequence[int], other: Sequence[int], reads_low: int, reads_high: int
) -> Figures:
    own_values = {steps: unrounded(steps, unit, unit) for steps in set(own)}
    other_values = {steps: unrounded(steps, unit.other, unit) for steps in set(other)}
    values = sorted([own_values[steps] for steps in own] + [other_values[steps] for steps in other])
    numbers = len(values)
    mean = fsum(values) / numbers
    sd = None
    if numbers > 1:
        sd = sqrt(fsum((value - mean) ** 2 for value in values) / (numbers - 1))
    return Figures(
        unit,
        numbers,
        reads_low,
        reads_high,
        mean=mean,
        sd=sd,
        cv_percent=None if sd is None else 100 * sd / mean,
        least=values[0],
        q1=_quartile(values, reads_low, reads_high, 1),
        median=_quartile(values, reads_low, reads_high, 2),
        q3=_quartile(values, reads_low, reads_high, 3),
        greatest=values[-1],
    )


def _without_ends(steps: Iterable[int]) -> tuple[list[int], int, int]:
    """The numbers in order, and how many LO and HI there were."""
    ordered = sorted(steps)
    first = bisect_left(ordered, 0)
    end = bisect_left(ordered, HI_STEPS)
    return ordered[first:end], first, len(ordered) - end


def _quartile(
    numbers: Sequence[float], reads_low: int, reads_high: int, quarter: int, scale: int = 1
) -> float | None:
    """Type 7 of Hyndman and Fan (Am Stat 1996;50:361): linear between order statistics.

    The position is (n - 1) * quarter / 4, counted from 0. None when a LO or HI would be weighed in.
    """
    whole, rest = divmod((reads_low + len(numbers) + reads_high - 1) * quarter, 4)
    place = whole - reads_low
    last_place = place + 1 if rest else place
    if place < 0 or last_place >= len(numbers):
        return None
    if not rest:
        return _in_unit(numbers[place], scale)
    between = 4 * numbers[place] + rest * (numbers[last_place] - numbers[place])
    return between / (4 * scale)


def _in_unit(steps: float, scale: int) -> float:
    return steps if scale == 1 else steps / scale
