"""The limits from where on something is found, and the days that are compared, in words."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, timedelta

from logbook.domain.findings.limits import IN_STEPS, limit_of, own_limits, usual_limit
from logbook.domain.findings.named_days import LONGEST_NAME, GroupFault, named_days
from logbook.domain.glucose import Unit
from logbook.domain.settings import LogSettings
from logbook.wording import _, mark, ngettext
from logbook.wording.dates import duration_text, short_weekday_text, weekday_text
from logbook.wording.numbers import days_text, number_text, steps_text

_QUESTIONS = {
    "finding_days": mark("How many days back?"),
    "low_repeat_count": mark("How many lows?"),
    "low_repeat_days": mark("Within how many days?"),
    "near_low_count": mark("How many checks?"),
    "near_low_days": mark("Within how many days?"),
    "high_least_readings": mark("From how many checks?"),
    "high_margin": mark("How far above the limit must the middle value be?"),
    "pairs_needed": mark("From how many meals, or nights?"),
    "meal_rise_above": mark("A rise after the meal of more than"),
    "overnight_fall_from": mark("A fall overnight of at least"),
    "after_meal_from_minutes": mark("After a meal is from so many minutes after the first bite"),
}

_DAYS = ("finding_days", "low_repeat_days", "near_low_days")


def limit_question(name: str) -> str:
    """What is asked about one of the limits."""
    return _(_QUESTIONS[name])


def limit_text(name: str, value: int, unit: Unit) -> str:
    """One of the limits with what it counts: "14 days", "20 mg/dL", "3"."""
    if name in IN_STEPS:
        return steps_text(value, unit)
    if name == "after_meal_from_minutes":
        return duration_text(value)
    return days_text(value) if name in _DAYS else number_text(value)


def limit_choice_text(name: str, value: int, unit: Unit) -> str:
    """The same on a tile, where the usual one is marked."""
    text = limit_text(name, value, unit)
    if value == usual_limit(unit, name):
        return _("{limit} (usual)").format(limit=text)
    return text


def days_back_text(settings: LogSettings) -> str:
    """Over how many days highs, meals and nights are looked at."""
    return _("the last {days}").format(days=days_text(settings.finding_days))


def low_limits_text(settings: LogSettings) -> str:
    """From where on lows are told as close together: "2 lows within 14 days"."""
    return ngettext(
        "{n} low within {days}", "{n} lows within {days}", settings.low_repeat_count
    ).format(n=number_text(settings.low_repeat_count), days=days_text(settings.low_repeat_days))


def near_low_limits_text(settings: LogSettings) -> str:
    """From where on checks close to low are told: "3 checks within 7 days"."""
    return ngettext(
        "{n} check within {days}", "{n} checks within {days}", settings.near_low_count
    ).format(n=number_text(settings.near_low_count), days=days_text(settings.near_low_days))


def high_limits_text(settings: LogSettings) -> str:
    """From where on a time of day is told as above target."""
    least = settings.high_least_readings
    return ngettext(
        "{n} check, middle value {margin} above the limit",
        "{n} checks, middle value {margin} above the limit",
        least,
    ).format(n=number_text(least), margin=_limit(settings, "high_margin"))


def pair_limits_text(settings: LogSettings) -> str:
    """From where on a rise after meals and a fall overnight are told."""
    return _("{n} meals or nights, rise over {rise}, fall of {fall}").format(
        n=number_text(settings.pairs_needed),
        rise=_limit(settings, "meal_rise_above"),
        fall=_limit(settings, "overnight_fall_from"),
    )


def own_limits_sentences(settings: LogSettings) -> list[str]:
    """For the provider's paper: limits that are not the usual ones, and days the person named."""
    told = []
    own = own_limits(settings)
    if own:
        limits = ", ".join(_own_limit_text(settings, name) for name in own)
        told.append(_("Limits chosen for this log: {limits}.").format(limits=limits))
    groups = [
        _("{name} ({days})").format(name=group.name, days=weekdays_text(group.weekdays))
        for group in named_days(settings)
    ]
    if groups:
        told.append(_("Days compared beside weekends: {days}.").format(days=", ".join(groups)))
    return told


_OWN = {
    "finding_days": mark("highs, meals and nights of {limit}"),
    "low_repeat_count": mark("{limit} lows close together"),
    "low_repeat_days": mark("lows within {limit}"),
    "near_low_count": mark("{limit} near-lows"),
    "near_low_days": mark("near-lows within {limit}"),
    "high_least_readings": mark("highs from {limit} checks"),
    "high_margin": mark("middle value {limit} above target"),
    "pairs_needed": mark("{limit} pairs"),
    "meal_rise_above": mark("rise over {limit}"),
    "overnight_fall_from": mark("overnight fall of {limit}"),
    "after_meal_from_minutes": mark("after a meal from {limit}"),
}


def _own_limit_text(settings: LogSettings, name: str) -> str:
    usual = limit_text(name, usual_limit(settings.unit, name), settings.unit)
    own = _(_OWN[name]).format(limit=_limit(settings, name))
    return _("{own} (usual: {usual})").format(own=own, usual=usual)


def _limit(settings: LogSettings, name: str) -> str:
    return limit_text(name, limit_of(settings, name), settings.unit)


# --- days that are compared -----------------------------------------------------------------------


def weekdays_text(weekdays: Iterable[int]) -> str:
    """Days of the week in their order, 0 for Monday: "Mon, Wed, Fri"; "none" for none."""
    return ", ".join(short_weekday_text(_day(each)) for each in sorted(weekdays)) or _("none")


def weekday_name(weekday: int) -> str:
    """One day of the week, 0 for Monday."""
    return weekday_text(_day(weekday))


def compared_days_text(settings: LogSettings) -> str:
    """Which days are compared with the others: "weekend (Sat, Sun), dialysis"."""
    weekend = _("weekend ({days})").format(days=weekdays_text(settings.weekend))
    names = [name for name, _days in settings.day_groups]
    return ", ".join([weekend, *names])


_FAULTS = {
    GroupFault.NO_NAME: mark("These days need a name, such as “work” or “dialysis”."),
    GroupFault.LONG_NAME: mark("Write a shorter name, of up to {n} letters."),
    GroupFault.NAME_TAKEN: mark("Other days have this name already. Write another one."),
    GroupFault.NO_DAY: mark("Choose at least one day of the week."),
    GroupFault.ALL_DAYS: mark("Leave out at least one day, to be compared with."),
}


def group_fault_text(fault: GroupFault) -> str:
    """Why a group of days can't be kept, and what to do."""
    return _(_FAULTS[fault]).format(n=number_text(LONGEST_NAME))


def _day(weekday: int) -> date:
    return date(2024, 1, 1) + timedelta(days=weekday)  # a Monday
