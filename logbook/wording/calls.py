"""When to call the provider, in words: what happened, how soon, and whether the person called."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, time

from logbook.domain.answers import Said
from logbook.domain.call_reasons import HIGH_FROM, CallReason, Urgency
from logbook.domain.calls import Call, ListedCall
from logbook.domain.glucose import Unit
from logbook.domain.levels import VERY_HIGH_ABOVE
from logbook.domain.moments import DAY_STARTS_AT, person_day
from logbook.wording import _, mark, ngettext
from logbook.wording.dates import relative_day_text, short_day_text
from logbook.wording.numbers import number_text, steps_text, times_text

_URGENCY = {
    Urgency.NOW: mark("Call your provider now, day or night."),
    Urgency.TODAY: mark("Call your provider today."),
    Urgency.THIS_WEEK: mark("Call your provider this week."),
}


def urgency_text(urgency: Urgency) -> str:
    """How soon to call."""
    return _(_URGENCY[urgency])


def call_text(call: Call, unit: Unit) -> str:
    """What happened, without a full stop; limits in `unit`, the log's own."""
    return _WHAT[call.reason](call.count).format(
        n=number_text(call.count),
        times=times_text(call.count),
        high=steps_text(HIGH_FROM[unit], unit),
        very_high=steps_text(VERY_HIGH_ABOVE[unit], unit),
    )


# For page 1, where all reasons of a period share a line or two.
_NAME = {
    CallReason.HELPED: mark("helped low"),
    CallReason.STILL_LOW_AFTER_THREE: mark("still low after 3 treatments"),
    CallReason.VERY_LOW: mark("very low"),
    CallReason.LOWS_REPEATED: mark("lows within 7 days"),
    CallReason.LOW_AT_NIGHT: mark("low at night"),
    CallReason.NEAR_LOWS: mark("near-lows"),
    CallReason.HIGH_WHILE_ILL: mark("{high} or more twice in 24 h"),
    CallReason.HIGH_TWO_DAYS: mark("above {very_high} on 2 days running"),
    CallReason.METER_SHOWED_HI: mark("HI"),
    CallReason.CANNOT_EAT_OR_DRINK: mark("could not eat, drink or take medicines"),
}


def call_name(reason: CallReason, unit: Unit) -> str:
    """The reason in a few of a provider's words: "very low", "low at night"."""
    return _(_NAME[reason]).format(
        high=steps_text(HIGH_FROM[unit], unit),
        very_high=steps_text(VERY_HIGH_ABOVE[unit], unit),
    )


_WHAT: dict[CallReason, Callable[[int], str]] = {
    CallReason.HELPED: lambda n: ngettext(
        "Someone had to help with a low", "Someone had to help with {n} lows", n
    ),
    CallReason.STILL_LOW_AFTER_THREE: lambda _n: _("Still low after 3 treatments"),
    CallReason.VERY_LOW: lambda n: ngettext(
        "A low that was very low", "{n} lows that were very low", n
    ),
    CallReason.LOWS_REPEATED: lambda _n: _("{n} lows, less than 7 days apart"),
    CallReason.LOW_AT_NIGHT: lambda n: ngettext("A low at night", "{n} lows at night", n),
    CallReason.NEAR_LOWS: lambda _n: _(
        "{n} numbers close to low, before breakfast, at bedtime or at night"
    ),
    CallReason.HIGH_WHILE_ILL: lambda _n: _("{high} or more {times}, while ill or after a change"),
    CallReason.HIGH_TWO_DAYS: lambda _n: _("Above {very_high} on 2 days running"),
    CallReason.METER_SHOWED_HI: lambda n: ngettext(
        "The meter showed HI", "The meter showed HI {n} times", n
    ),
    CallReason.CANNOT_EAT_OR_DRINK: lambda _n: _(
        "Eating, drinking or taking medicines was not possible"
    ),
}


def call_line(call: Call, unit: Unit, today: date, day_starts_at: time = DAY_STARTS_AT) -> str:
    """One row of the list on Write down: how soon, what, and when it happened last."""
    day = person_day(call.at.replace(tzinfo=None), day_starts_at)
    return _("{when} {what} ({day}).").format(
        when=urgency_text(call.urgency),
        what=call_text(call, unit),
        day=relative_day_text(day, today),
    )


def said_about_call_text(said: Said | None) -> str:
    """Whether the person called, for page 1."""
    if said is Said.YES:
        return _("called")
    return _("not called yet") if said is None else _("put off")


def called_about_text(said: Said | None) -> str:
    """What stands before the reasons to which the person said the same, on page 1."""
    if said is Said.YES:
        return _("Called about:")
    return _("Not called about:") if said is None else _("Put off calling about:")


def listed_call_text(listed: ListedCall, unit: Unit, day_starts_at: time = DAY_STARTS_AT) -> str:
    """One call for page 1: what happened, the latest day of it, and whether the person called."""
    day = person_day(listed.call.at.replace(tzinfo=None), day_starts_at)
    return _("{what} ({day}): {said}").format(
        what=call_text(listed.call, unit),
        day=short_day_text(day),
        said=said_about_call_text(listed.said),
    )
