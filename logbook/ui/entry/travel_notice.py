"""The one question after the clock became another one: a journey, or a new home."""

from __future__ import annotations

from dataclasses import replace
from uuid import UUID, uuid4

from logbook.domain.moments import Moment
from logbook.domain.spells import Spell, SpellKind
from logbook.domain.travel import (
    TravelQuestion,
    ZoneChange,
    ended,
    journey_of,
    place_name,
    travel_question,
    zone_change,
)
from logbook.ui.desk import Desk
from logbook.ui.entry.notices import Answered, Notice
from logbook.wording import _
from logbook.wording.terms import spell_text
from logbook.wording.travel import travel_details, travel_question_text, travel_short_text

# So many readings back an earlier clock is looked for: some days of many checks.
_READINGS_LOOKED_AT = 60
# The question is about the clock, which is no record.
_NO_RECORD = UUID(int=0)


def last_zone_change(desk: Desk, now: Moment) -> ZoneChange | None:
    """The last change of the clock that the newest readings tell of."""
    return zone_change(desk.book.readings(newest_first=True, limit=_READINGS_LOOKED_AT), now)


def travel_notice(desk: Desk, now: Moment) -> Notice | None:
    """What is asked about the clock now, or None."""
    change = last_zone_change(desk, now)
    question = travel_question(
        change,
        desk.book.spells(),
        now,
        desk.today(),
        home_zone=desk.book.settings.home_zone,
        settled_zone=desk.preferences.settled_zone,
    )
    if question is None or change is None:
        return None
    choices: tuple[tuple[Answered, str], ...] = (
        (Answered.JOURNEY_OVER, _("Yes, I am home")),
        (Answered.CLOCK_IS_RIGHT, _("No, not yet")),
    )
    if question is TravelQuestion.ARE_YOU_TRAVELLING:
        choices = (
            (Answered.TRAVELLING, _("Yes, I am travelling")),
            (Answered.LIVES_HERE, _("No, I live here now")),
            (Answered.CLOCK_IS_RIGHT, _("Neither")),
        )
    return Notice(
        short=travel_short_text(question),
        text=travel_question_text(question, change),
        details=travel_details(),
        about=_NO_RECORD,
        choices=choices,
        asks_first=True,
    )


def settles_travel(answered: Answered) -> bool:
    """Whether this is an answer to the question about the clock."""
    return answered in _ANSWERS


def settle_travel(desk: Desk, answered: Answered) -> bool:
    """Keep what the person pressed; whether it could be kept."""
    book, zone, today = desk.book, desk.zone(), desk.today()
    match answered:
        case Answered.TRAVELLING:
            spell = Spell(uuid4(), SpellKind.TRAVEL, today, note=place_name(zone))
            if desk.write(book.add, spell) is None:
                return False
            words = _("{kind}, from today. End it under My plan.")
            desk.say(words.format(kind=spell_text(spell.kind)))
        case Answered.LIVES_HERE:
            settings = replace(book.settings, home_zone=zone)
            if desk.write(book.save_settings, settings) is None:
                return False
            desk.say(_("Home is where this clock is now."))
        case Answered.JOURNEY_OVER:
            spells = journey_of(book.spells(), today)
            if spells is not None and desk.write(book.replace, ended(spells, today)) is None:
                return False
            desk.prefer(zone="")
            desk.say(_("Welcome home. Today was the last day of the journey."))
        case _:
            desk.prefer(settled_zone=zone)
    return True


_ANSWERS = frozenset(
    {
        Answered.TRAVELLING,
        Answered.LIVES_HERE,
        Answered.JOURNEY_OVER,
        Answered.CLOCK_IS_RIGHT,
    }
)
