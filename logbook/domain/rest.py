"""How long each site has rested, how often it was used, and how evenly the work is shared."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from logbook.domain.moments import Moment
from logbook.domain.punctures import Past, Puncture, counted, may_be, recent
from logbook.domain.rotation import noted_for, sore_since
from logbook.domain.settings import LogSettings
from logbook.domain.sites import Site, SiteUse

# From these values of J on, the share of the work is called even, or fairly even. Of six sites, one
# used twice as often as the rest gives 0.97, one never used 0.90. Judgement without a source.
EVEN_FROM = 0.95
FAIRLY_EVEN_FROM = 0.85


class Sharing(StrEnum):
    """How evenly the fingers share the work, for words instead of a figure."""

    EVEN = "even"
    FAIRLY_EVEN = "fairly_even"
    UNEVEN = "uneven"
    TOO_FEW = "too_few"


class SiteState(StrEnum):
    """How a site stands. `USED` is the site of the last puncture of all.

    `SUGGESTED`: it was suggested after its last use, and nobody said that it was used.
    """

    USED = "used"
    RESTED = "rested"
    NEVER_USED = "never_used"
    SUGGESTED = "suggested"
    SORE = "sore"
    LEFT_OUT = "left_out"


@dataclass(frozen=True, slots=True)
class SiteRest:
    """How one site stands.

    `days` are whole days of the person since the last puncture, 0 for today, None when there was
    none; `uses` are punctures of this very side in the last 30 of the person's days.
    """

    site: Site
    days: int | None
    uses: int
    state: SiteState
    sore_since: date | None = None
    left_out_because: str | None = None


def rest_of(
    site: Site, punctures: Iterable[Puncture], settings: LogSettings, now: Moment
) -> SiteRest:
    """How one site stands; any site, in use or not."""
    return rests_of((site,), punctures, settings, now)[0]


def rests_of(
    sites: Iterable[Site], punctures: Iterable[Puncture], settings: LogSettings, now: Moment
) -> tuple[SiteRest, ...]:
    """How each of `sites` stands, in their order."""
    everything = sorted(punctures, key=lambda puncture: puncture.at.instant)
    past = Past(counted(everything, settings), now, settings)
    uses = [puncture.site for puncture in recent(everything, settings, now)]
    return tuple(
        SiteRest(
            site,
            past.days_of_rest(site),
            uses.count(site),
            _state(site, everything, past, settings),
            sore_since(site, settings),
            noted_for(site, settings.left_out),
        )
        for site in sites
    )


def evenness(punctures: Iterable[Puncture], sites: Sequence[Site]) -> float | None:
    """Pielou's J of how often each of `sites` was pricked: 1.0 when all share alike.

    Every one of `punctures` is counted, so hand in those of the last 30 days (`recent`); those of
    other sites are left aside. A puncture whose side is not known counts half for either side.
    None for fewer than two sites, and while there are fewer punctures than sites: then even a
    perfect share would look uneven. Pielou, J Theor Biol 1966;13:131 (from memory, not checked).
    """
    uses = dict.fromkeys(sites, 0.0)
    for puncture in punctures:
        touched = [site for site in uses if may_be(puncture.site, site)]
        for site in touched:
            uses[site] += 1 / len(touched)
    return evenness_of_uses(tuple(uses.values()))


def evenness_of_uses(uses: Sequence[float]) -> float | None:
    """Pielou's J of uses per site, one number for each site in use; see `evenness`."""
    total = math.fsum(uses)
    if len(uses) < 2 or total < len(uses):
        return None
    shares = [count / total for count in uses if count]
    entropy = -math.fsum(share * math.log(share) for share in shares)
    # Rounding may take a perfect share a hair above one.
    return min(1.0, max(0.0, entropy / math.log(len(uses))))


def sharing_of(measured: float | None) -> Sharing:
    """What an evenness is called."""
    if measured is None:
        return Sharing.TOO_FEW
    if measured >= EVEN_FROM:
        return Sharing.EVEN
    return Sharing.FAIRLY_EVEN if measured >= FAIRLY_EVEN_FROM else Sharing.UNEVEN


def _state(
    site: Site, everything: Sequence[Puncture], past: Past, settings: LogSettings
) -> SiteState:
    if noted_for(site, settings.left_out) is not None:
        return SiteState.LEFT_OUT
    if noted_for(site, settings.sore) is not None:
        return SiteState.SORE
    if past.punctures and may_be(past.punctures[-1].site, site):
        return SiteState.USED
    last_noted = next((p for p in reversed(everything) if may_be(p.site, site)), None)
    # Whoever always follows the advice has used what was suggested, and it is among the past.
    if (
        last_noted is not None
        and last_noted.use is SiteUse.SUGGESTED
        and not settings.always_follows_advice
    ):
        return SiteState.SUGGESTED
    return SiteState.NEVER_USED if past.days_of_rest(site) is None else SiteState.RESTED
