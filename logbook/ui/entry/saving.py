"""From the draft to the reading: what is read from the log around it, and what it becomes."""

from __future__ import annotations

from uuid import UUID, uuid4

from logbook.book import Book
from logbook.domain.answers import Answer, Asked, Said
from logbook.domain.glucose import Glucose
from logbook.domain.kit.meters import Meter
from logbook.domain.moments import Moment, Period
from logbook.domain.readings import Reading, Source
from logbook.domain.recheck import RecheckDue, recheck_due
from logbook.domain.settings import LogSettings
from logbook.domain.sites import Site, SiteUse
from logbook.domain.slots import Purpose, Slot
from logbook.ui.draft import Draft
from logbook.ui.entry.circumstances import THREE_HOURS


def recent_period(now: Moment, settings: LogSettings, days: int) -> Period:
    """The last days of the person, today and a clock that runs ahead included."""
    return Period.ending(now.day(settings.day_starts_at), days)


def due_recheck(book: Book, now: Moment) -> RecheckDue | None:
    """The check after a low that the log says is due."""
    period = recent_period(now, book.settings, 2)
    return recheck_due(book.series(period), book.happenings(period), book.answers(), now.instant)


def reading_of(
    draft: Draft,
    glucose: Glucose,
    now: Moment,
    *,
    suggested: Site | None,
    settings: LogSettings,
    due: RecheckDue | None,
    purpose: Purpose,
    known: set[UUID],
) -> Reading:
    """The reading that this draft becomes at the moment of Save.

    `known` are ids of readings: the check that a recheck is made for may be a happening, which no
    reading can point to.
    """
    slot, minutes = draft.slot or Slot.OTHER, draft.minutes_after
    if minutes is not None and minutes >= THREE_HOURS:
        slot, minutes = Slot.BETWEEN_MEALS, None
    recheck_of = None
    if purpose is Purpose.RECHECK and due is not None and UUID(due.about) in known:
        recheck_of = UUID(due.about)
    site, use = _site(draft, suggested, settings)
    return Reading(
        id=uuid4(),
        glucose=glucose,
        at=draft.at or now,
        written_at=now.instant,
        slot=slot,
        purpose=purpose,
        source=Source.TYPED,
        minutes_after=minutes if slot.is_after_meal else None,
        site=site,
        site_use=use,
        recheck_of=recheck_of,
        feelings=draft.feelings,
        differences=draft.differences,
        could_not_wash=draft.could_not_wash,
        note=draft.note.strip(),
    )


def answer_of(about: UUID, asked: Asked, said: Said, now: Moment) -> Answer:
    """An answer given now."""
    return Answer(uuid4(), about, asked, said, now.instant)


def meter_in_use(book: Book, now: Moment) -> Meter | None:
    """The meter whose limits hold: the last own one in use; None for the usual limits."""
    unit, today = book.settings.unit, now.wall.date()
    own = [
        meter
        for meter in book.meters()
        if meter.is_own and meter.unit is unit and (meter.in_use_until or today) >= today
    ]
    return own[-1] if own else None


def _site(
    draft: Draft, suggested: Site | None, settings: LogSettings
) -> tuple[Site | None, SiteUse]:
    if not settings.tracks_fingers:
        return None, SiteUse.NOT_NOTED
    if draft.site is not None:
        return draft.site, SiteUse.USED
    if draft.at is not None or suggested is None:
        # Written from memory: the advice of now says nothing about then.
        return None, SiteUse.NOT_NOTED
    is_used = settings.always_follows_advice
    return suggested, SiteUse.USED if is_used else SiteUse.SUGGESTED
