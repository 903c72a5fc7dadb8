"""What the picture of readings over time is drawn from; it knows no library that draws."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, time

from logbook.domain.glucose import Unit
from logbook.domain.moments import Period
from logbook.domain.picture import BandStep, Marks


@dataclass(frozen=True, slots=True)
class Change:
    """From `day` on something was different, in one or two words."""

    day: date
    text: str


@dataclass(frozen=True, slots=True)
class Shade:
    """Days that were unusual, in one or two words."""

    period: Period
    text: str


@dataclass(frozen=True, slots=True)
class Picture:
    """All that is drawn."""

    period: Period
    day_starts_at: time
    unit: Unit
    marks: Marks
    band: Sequence[BandStep] = ()
    changes: Sequence[Change] = ()
    shades: Sequence[Shade] = ()
