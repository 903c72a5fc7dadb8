"""Which sites were pricked, and when: what rotation, rest and evenness count.

Punctures are counted, not readings: a finger pricked again after a failed strip was pricked twice.
Only a site that was used counts; one that was merely suggested counts only if the person says
that they always follow the advice.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from logbook.domain.happenings import Happening, StripFailure
from logbook.domain.kit.depths import PunctureNote
from logbook.domain.moments import Moment
from logbook.domain.readings import Reading
from logbook.domain.settings import LogSettings
from logbook.domain.sites import Hand, Place, Site, SiteUse

# Uses and evenness look back over this many of the person's days, today included.
RECENT_DAYS = 30

# A finger of one hand, or another place of one side.
Finger = tuple[Hand, Place]


@dataclass(frozen=True, slots=True)
class Puncture:
    """One prick of one site; a side of None on a finger means that nobody noted it.

    `did_hurt` is true only where the person said so.
    """

    site: Site
    at: Moment
    use: SiteUse = SiteUse.USED
    did_hurt: bool = False


def finger_of(site: Site) -> Finger:
    """The finger, or other place, whatever the side."""
    return site.hand, site.place


def may_be(pricked: Site, site: Site) -> bool:
    """Whether a puncture noted as `pricked` was one of `site`, or may have been (no side noted)."""
    return pricked == site or (pricked.side is None and finger_of(pricked) == finger_of(site))


def punctures_of(
    readings: Iterable[Reading],
    happenings: Iterable[Happening] = (),
    notes: Iterable[PunctureNote] = (),
) -> list[Puncture]:
    """The punctures a log knows of, in order of time; what was only suggested is marked so.

    A finger pricked again after a failed strip is the one noted there, else it is taken for that of
    the reading it is about. Readings of someone else's meter, and damaged ones, tell of no site. A
    crossed-out reading was a puncture all the same. `notes` tell which punctures hurt.
    """
    hurt = {note.about for note in notes if note.did_hurt}
    of_reading = {
        reading.id: Puncture(reading.site, reading.at, reading.site_use, reading.id in hurt)
        for reading in readings
        if reading.site is not None
        and reading.site_use is not SiteUse.NOT_NOTED
        and reading.has_puncture
        and not reading.is_damaged
    }
    found = list(of_reading.values())
    for happening in happenings:
        if not is_pricked_again(happening):
            continue
        known = None if happening.about is None else of_reading.get(happening.about)
        did_hurt = happening.id in hurt
        if happening.site is not None:
            found.append(Puncture(happening.site, happening.at, did_hurt=did_hurt))
        elif known is not None:
            found.append(Puncture(known.site, happening.at, known.use, did_hurt))
    return sorted(found, key=lambda puncture: puncture.at.instant)


def puncture_moments(
    readings: Iterable[Reading], happenings: Iterable[Happening] = ()
) -> list[Moment]:
    """When the person was pricked, wherever it was: what a lancet's uses are counted from."""
    moments = [reading.at for reading in readings if reading.has_puncture]
    moments += [happening.at for happening in happenings if is_pricked_again(happening)]
    return sorted(moments, key=lambda moment: moment.instant)


def is_pricked_again(happening: Happening) -> bool:
    """Whether it cost one more puncture: a failed strip, pricked again, not crossed out."""
    return happening.counts and happening.strip_failure is StripFailure.PRICKED_AGAIN


def counted(punctures: Iterable[Puncture], settings: LogSettings) -> list[Puncture]:
    """Those that count as punctures of their site, in order of time."""
    uses = {SiteUse.USED}
    if settings.always_follows_advice:
        uses.add(SiteUse.SUGGESTED)
    return sorted(
        (puncture for puncture in punctures if puncture.use in uses),
        key=lambda puncture: puncture.at.instant,
    )


def recent(
    punctures: Iterable[Puncture], settings: LogSettings, now: Moment, days: int = RECENT_DAYS
) -> list[Puncture]:
    """Those that count and lie in the last `days` of the person's days, today included."""
    first = now.day(settings.day_starts_at) - timedelta(days=days - 1)
    return Past(counted(punctures, settings), now, settings).since(first)


class Past:
    """Punctures that count, in order of time, asked by site and by finger as of now.

    Order is told by the place in `punctures`, not by the clock, so that two of the same minute
    have an order too.
    """

    def __init__(self, punctures: Sequence[Puncture], now: Moment, settings: LogSettings) -> None:
        self.punctures = punctures
        self.today = now.day(settings.day_starts_at)
        self._now = now
        self._starts_at = settings.day_starts_at
        self._last_of_site: dict[Site, int] = {}
        self._last_of_finger: dict[Finger, int] = {}
        self._last_hurt: dict[Finger, int] = {}
        for place, puncture in enumerate(punctures):
            self._last_of_site[puncture.site] = place
            self._last_of_finger[finger_of(puncture.site)] = place
            if puncture.did_hurt:
                self._last_hurt[finger_of(puncture.site)] = place

    def last_of_site(self, site: Site) -> int:
        """Where the last puncture lies that was, or may have been, of `site`; -1 for none."""
        sideless = Site(site.hand, site.place)
        return max(self._last_of_site.get(known, -1) for known in (site, sideless))

    def last_of_finger(self, site: Site) -> int:
        """Where the last puncture of any side of its finger lies; -1 for none."""
        return self._last_of_finger.get(finger_of(site), -1)

    def is_finger_pricked_within(self, site: Site, rest: timedelta) -> bool:
        """Whether its finger was pricked less than `rest` ago, in real time."""
        place = self.last_of_finger(site)
        return place >= 0 and self._now.instant - self.punctures[place].at.instant < rest

    def did_finger_hurt_within(self, site: Site, rest: timedelta) -> bool:
        """Whether a prick of its finger hurt less than `rest` ago, in real time."""
        place = self._last_hurt.get(finger_of(site), -1)
        return place >= 0 and self._now.instant - self.punctures[place].at.instant < rest

    def days_of_rest(self, site: Site) -> int | None:
        """Whole days of the person since `site` was last pricked, 0 for today; None for never."""
        place = self.last_of_site(site)
        if place < 0:
            return None
        return max((self.today - self.punctures[place].at.day(self._starts_at)).days, 0)

    def since(self, first: date) -> list[Puncture]:
        """Those of the person's days from `first` on."""
        return [p for p in self.punctures if p.at.day(self._starts_at) >= first]
