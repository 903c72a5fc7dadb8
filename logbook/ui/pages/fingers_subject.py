"""What the page *Fingers* is about just now, and what the log holds of punctures."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta

from logbook.domain.kit.depths import LATELY, next_depth
from logbook.domain.kit.lancets import LancetInDevice, lancet_in_device
from logbook.domain.kit.pricks import Prick, pricks_of, sites_of
from logbook.domain.moments import Moment, Period
from logbook.domain.punctures import Puncture, puncture_moments, punctures_of
from logbook.domain.sites import Hand, Place, Site
from logbook.ui.desk import Desk

# Far enough back for rest and use; what is older is taken for never used.
_LOOKS_BACK_DAYS = 60


@dataclass
class FingerSubject:
    """The finger, or side of it, that was chosen, or the hand that is to be left out."""

    site: Site = Site(Hand.LEFT, Place.MIDDLE)  # noqa: RUF009  (frozen, so it can be shared)
    hand: Hand | None = None


def punctures_lately(desk: Desk, now: Moment) -> list[Puncture]:
    """The punctures of the last weeks, oldest first."""
    today = now.day(desk.book.settings.day_starts_at)
    period = Period.ending(today + timedelta(days=1), _LOOKS_BACK_DAYS)
    book = desk.book
    return punctures_of(book.readings(period), book.happenings(period), book.puncture_notes())


def pricks_lately(desk: Desk, now: Moment) -> list[Prick]:
    """The punctures of the last weeks that can be told about, oldest first."""
    today = now.day(desk.book.settings.day_starts_at)
    period = Period.ending(today + timedelta(days=1), _LOOKS_BACK_DAYS)
    return pricks_of(desk.book.readings(period), desk.book.happenings(period))


def depth_for(desk: Desk, site: Site, now: Moment) -> int | None:
    """The depth to offer for a finger, in tenths; None when none is known to work."""
    notes = desk.book.puncture_notes()
    if not notes:
        return None
    first = min(note.at for note in notes)
    starts_at = desk.book.settings.day_starts_at
    today = now.day(starts_at)
    day = Moment.at(max(first, now.instant - LATELY), now.zone).day(starts_at)
    period = Period(min(day, today), today + timedelta(days=1))
    pricks = pricks_of(desk.book.readings(period), desk.book.happenings(period))
    return next_depth(site, notes, sites_of(pricks), now.instant)


def lancet_now(desk: Desk, now: Moment) -> LancetInDevice:
    """The lancet in the device, with the punctures since it was put in."""
    changes = desk.book.lancet_changes()
    if not changes:
        return LancetInDevice(None, None)
    starts_at = desk.book.settings.day_starts_at
    first = max(change.at.instant for change in changes)
    since = next(change.at for change in changes if change.at.instant == first)
    today = now.day(starts_at)
    period = Period(min(since.day(starts_at), today), today + timedelta(days=1))
    moments = puncture_moments(desk.book.readings(period), desk.book.happenings(period))
    return lancet_in_device(moments, changes)
