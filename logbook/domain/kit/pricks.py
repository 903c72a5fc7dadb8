"""The punctures that can be told about: each belongs to a reading or to a failed strip.

What was told is in `depths`; which fingers count as pricked is in `logbook.domain.punctures`.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from uuid import UUID

from logbook.domain.happenings import Happening
from logbook.domain.moments import Moment
from logbook.domain.punctures import is_pricked_again
from logbook.domain.readings import Reading
from logbook.domain.sites import Site, SiteUse


@dataclass(frozen=True, slots=True)
class Prick:
    """One puncture and the record it belongs to.

    `site` is None where nobody noted the finger; `was_suggested` where it is the one that was
    suggested and nobody said whether it was used.
    """

    about: UUID
    at: Moment
    site: Site | None
    was_suggested: bool = False


def pricks_of(readings: Iterable[Reading], happenings: Iterable[Happening] = ()) -> list[Prick]:
    """The punctures of the readings, and those after a failed strip, oldest first."""
    found = [
        Prick(
            reading.id,
            reading.at,
            None if reading.site_use is SiteUse.NOT_NOTED else reading.site,
            reading.site_use is SiteUse.SUGGESTED,
        )
        for reading in readings
        if reading.has_puncture and not reading.is_damaged
    ]
    found += [Prick(one.id, one.at, one.site) for one in happenings if is_pricked_again(one)]
    return sorted(found, key=lambda prick: prick.at.instant)


def sites_of(pricks: Iterable[Prick]) -> dict[UUID, Site]:
    """Where each puncture was, by the record it belongs to; without those nobody noted."""
    return {prick.about: prick.site for prick in pricks if prick.site is not None}
