"""Another clock than at home, in words."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import timedelta

from logbook.domain.moments import Period
from logbook.domain.travel import Elsewhere, TravelQuestion, ZoneChange, place_name
from logbook.wording import _
from logbook.wording.dates import duration_text, short_day_text
from logbook.wording.numbers import readings_text


def ahead_text(ahead: timedelta, than: str) -> str:
    """ "6 hours ahead of home", "5 hours behind home"."""
    text = _("{time} ahead of {than}") if ahead > timedelta(0) else _("{time} behind {than}")
    return text.format(time=duration_text(ahead), than=than)


def travel_question_text(question: TravelQuestion, change: ZoneChange) -> str:
    """The one sentence that is asked after the clock changed, with why."""
    if question is TravelQuestion.ARE_YOU_HOME:
        return _("The clock is the one at home again. Is your journey over?")
    ahead = ahead_text(change.ahead, _("your last entry"))
    return _("This clock is {ahead}. Are you travelling?").format(ahead=ahead)


def travel_short_text(question: TravelQuestion) -> str:
    """The same for a button beside the list of pages."""
    if question is TravelQuestion.ARE_YOU_HOME:
        return _("Is your journey over?")
    return _("Are you travelling?")


def travel_details() -> tuple[str, ...]:
    """What goes by which clock while away."""
    return (
        _("Your plan goes by the clock where you are."),
        _("A check after a low, and after a meal, goes by the minutes that pass."),
        _("The meter's clock does not change by itself. Write down the time on a clock here."),
    )


def meter_elsewhere_text() -> str:
    """Why to look at the meter's clock after a change of place."""
    return _("The clock here is another one. Does the meter show the right time and date?")


def elsewhere_text(elsewhere: Iterable[Elsewhere], period: Period) -> str:
    """Which readings were made by another clock, in one line of text; empty for none."""
    told = [_one(one, period) for one in elsewhere]
    if not told:
        return ""
    return _("By the clock there: {list}.").format(list="; ".join(told))


def _one(one: Elsewhere, period: Period) -> str:
    first = short_day_text(one.first, with_year=one.first.year != period.last.year)
    last = short_day_text(one.last, with_year=one.last.year != period.last.year)
    days = first if one.first == one.last else _("{first} to {last}").format(first=first, last=last)
    return _("{days}, {place} ({ahead}), {readings}").format(
        days=days,
        place=place_name(one.zone),
        ahead=ahead_text(one.ahead, _("home")),
        readings=readings_text(one.count),
    )
