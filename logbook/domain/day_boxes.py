"""Each time of day as a box of its own: where it lies in the day, middle half, and every value.

For the picture of the day and for the small picture of one time of day, on screen and paper. The
figures are those of the summary; how a box looks is for those who draw.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from statistics import median_low

from logbook.domain.figures import Figures
from logbook.domain.glucose import HI_STEPS, LO_STEPS, Unit, converted_steps
from logbook.domain.moments import MINUTES_A_DAY
from logbook.domain.series import Series
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Slot
from logbook.domain.summary import SlotSummary, Summary


@dataclass(frozen=True, slots=True)
class Dot:
    """A value that occurred `count` times, in steps of the log's unit (LO and HI keep theirs)."""

    steps: int
    count: int


@dataclass(frozen=True, slots=True)
class SlotBox:
    """One time of day. `minute` is its usual one, counted since the person's day began.

    `dots` are its values in order, lowest first. A quartile in `figures` is None where a LO or HI
    would be weighed in: there the box is open to that end.
    """

    slot: Slot
    minute: int
    figures: Figures
    dots: tuple[Dot, ...]

    @property
    def is_enough(self) -> bool:
        """Enough values for a box; with fewer there are only the dots."""
        return self.figures.is_enough


def day_boxes(series: Series, summary: Summary, settings: LogSettings) -> tuple[SlotBox, ...]:
    """A box for every slot of `summary`, in the order in which they come in this person's day.

    `series` is the one that was summarised.
    """
    boxes = [
        SlotBox(
            slot=slot.slot,
            minute=_usual_minute(series, slot, settings),
            figures=slot.figures,
            dots=spread_of(series, slot.indices, summary.unit),
        )
        for slot in summary.slots
    ]
    # The order of the sort keeps that of tables where two times of day are usual at one minute.
    return tuple(sorted(boxes, key=lambda box: box.minute))


def spread_of(series: Series, indices: Iterable[int], unit: Unit) -> tuple[Dot, ...]:
    """The values at `indices` in order, each with how often it occurred, in steps of `unit`.

    A value of the other unit lies at its rounded place, as it would be shown.
    """
    own_steps, units = series.steps, series.units
    found: Counter[int] = Counter()
    other: Counter[int] = Counter()
    for index in indices:
        (found if units[index] is unit else other)[own_steps[index]] += 1
    for steps, count in other.items():
        is_end = steps in (LO_STEPS, HI_STEPS)
        found[steps if is_end else converted_steps(steps, unit.other, unit)] += count
    return tuple(Dot(steps, found[steps]) for steps in sorted(found))


def _usual_minute(series: Series, slot: SlotSummary, settings: LogSettings) -> int:
    start = settings.day_starts_at.hour * 60 + settings.day_starts_at.minute
    walls = series.wall_minutes
    return median_low((walls[index] - start) % MINUTES_A_DAY for index in slot.indices)
