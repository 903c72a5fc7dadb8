"""How many values lie where: by the fixed limits, and by the target of their own day."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from logbook.domain.figures import Share
from logbook.domain.glucose import Unit
from logbook.domain.levels import HIGH_ABOVE, HIGHER_ABOVE, LOW_BELOW, VERY_LOW_BELOW


@dataclass(frozen=True, slots=True)
class Bands:
    """Readings by fixed limits, LO in the lowest and HI in the highest.

    Names and limits are in mg/dL; a value in mmol/L is held against the twins 3.0, 3.9, 10.0 and
    13.9 as they are printed, never converted.
    """

    below_54: int
    from_54_to_69: int
    from_70_to_180: int
    from_181_to_250: int
    above_250: int

    @property
    def below_70(self) -> int:
        """Low and very low together."""
        return self.below_54 + self.from_54_to_69

    @property
    def counts(self) -> tuple[int, int, int, int, int]:
        """The counts from the lowest band to the highest."""
        return (
            self.below_54,
            self.from_54_to_69,
            self.from_70_to_180,
            self.from_181_to_250,
            self.above_250,
        )

    @property
    def shares(self) -> tuple[Share, ...]:
        """Each band's share of all, from the lowest to the highest."""
        of = sum(self.counts)
        return tuple(Share(count, of) for count in self.counts)


@dataclass(frozen=True, slots=True)
class TargetCounts:
    """Values held against the target of their own day, each counted once.

    `low` are all below 70, whatever was agreed; `above_target` takes very high and HI in.
    """

    low: int
    below_target_not_low: int
    in_target: int
    above_target: int

    @property
    def judged(self) -> int:
        """All values held against a target."""
        return self.low + self.below_target_not_low + self.in_target + self.above_target

    @property
    def below_share(self) -> Share:
        """Below target, lows included."""
        return Share(self.low + self.below_target_not_low, self.judged)

    @property
    def in_target_share(self) -> Share:
        """In target; a low is not in target."""
        return Share(self.in_target, self.judged)

    @property
    def above_share(self) -> Share:
        """Above target."""
        return Share(self.above_target, self.judged)


def bands_of(by_unit: Mapping[Unit, Sequence[int]]) -> Bands:
    """How many values lie in each band, each compared in its own unit. LO and HI by their steps."""
    counts = [0] * 5
    for unit, values in by_unit.items():
        ordered = sorted(values)
        edges = [
            0,
            bisect_left(ordered, VERY_LOW_BELOW[unit]),
            bisect_left(ordered, LOW_BELOW[unit]),
            bisect_right(ordered, HIGH_ABOVE[unit]),
            bisect_right(ordered, HIGHER_ABOVE[unit]),
            len(ordered),
        ]
        for band, (start, end) in enumerate(pairwise(edges)):
            counts[band] += end - start
    return Bands(*counts)
