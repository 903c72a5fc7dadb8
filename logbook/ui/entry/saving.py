"""From the draft to the reading: what is read from the log around it, and what it becomes."""

from __future__ import annotations

from uuid import UUID, uuid4

from logbook.book import Book
from logbook.domain.answers import Answer, Asked, Said
from logbook.domain.glucose import Glucose
from logbook.domain.kit.meters import Meter, own_meters
from logbook.domain.moments import Moment, Period
from logbook.domain.readings import Reading, Source
from logbook.domain.settings import LogSettings
from logbook.domain.sites import Site, SiteUse
from logbook.domain.slots import Purpose, Slot
from logbook.ui.draft import Draft
from logbook.ui.entry.circumstances import THREE_HOURS

# So far back the meter of the latest readings is looked for.
_READINGS_LOOKED_AT = 20


def recent_period(now: Moment, settings: LogSettings, days: int) -> Period:
    """The last days of the person, today and a clock that runs ahead included."""
    return Period.ending(now.day(settings.day_starts_at), days)


def reading_of(
    draft: Draft,
    glucose: Glucose,
    now: Moment,
    *,
    suggested: Site | None,
    settings: LogSettings,
    purpose: Purpose,
    recheck_of: UUID | None,
    meter: Meter | None,
) -> Reading:
    """The reading that this draft becomes at the moment of Save.

    `recheck_of` is the low reading that a recheck checks again, where it was a reading. `meter` is
    the one that showed the number.
    """
    slot, minutes = draft.slot or Slot.OTHER, draft.minutes_after
    if minutes is not None and minutes >= THREE_HOURS:
        slot, minutes = Slot.BETWEEN_MEALS, None
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
        meter_id=None if meter is None else meter.id,
        site=site,
        site_use=use,
        recheck_of=recheck_of if purpose is Purpose.RECHECK else None,
        feelings=draft.feelings,
        differences=draft.differences,
        could_not_wash=draft.could_not_wash,
        note=draft.note.strip(),
    )


def answer_of(about: UUID, asked: Asked, said: Said, now: Moment) -> Answer:
    """An answer given now."""
    return Answer(uuid4(), about, asked, said, now.instant)


def meters_in_use(book: Book, now: Moment) -> tuple[Meter, ...]:
    """The person's own meters of the log's unit that are in use, in the order of the log."""
    own = own_meters(book.meters(), now.wall.date())
    return tuple(meter for meter in own if meter.unit is book.settings.unit)


def meter_in_use(book: Book, now: Moment) -> Meter | None:
    """The own meter of a check made now; None when no meter is on record.

    Of several, it is the one that the latest readings name, or else the one written down last.
    """
    own = meters_in_use(book, now)
    if len(own) > 1:
        by_id = {meter.id: meter for meter in own}
        for reading in book.readings(newest_first=True, limit=_READINGS_LOOKED_AT):
            if reading.meter_id in by_id:
                return by_id[reading.meter_id]
    return own[-1] if own else None


def meter_of(draft: Draft, book: Book, now: Moment) -> Meter | None:
    """The meter that showed this draft: the one that was chosen, or the one in use."""
    chosen = [meter for meter in book.meters() if meter.id == draft.meter_id]
    return chosen[0] if chosen else meter_in_use(book, draft.at or now)


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
