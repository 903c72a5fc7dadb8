"""Groups of days of the week that the person named: work days, days of dialysis, of day care.

They are kept in `LogSettings.day_groups` and compared with the other days by `comparisons`.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum

from logbook.domain.settings import LogSettings

WEEKEND = "weekend"
DAYS_OF_A_WEEK = 7
LONGEST_NAME = 30


@dataclass(frozen=True, slots=True)
class NamedDays:
    """Days of the week (0 for Monday) under one name."""

    name: str
    weekdays: frozenset[int]


class GroupFault(StrEnum):
    """Why a group of days can't be kept."""

    NO_NAME = "no_name"
    LONG_NAME = "long_name"
    NAME_TAKEN = "name_taken"
    NO_DAY = "no_day"
    ALL_DAYS = "all_days"


def named_days(settings: LogSettings) -> tuple[NamedDays, ...]:
    """The groups in the order in which they were named."""
    return tuple(
        NamedDays(name, frozenset(int(day) for day in days if day.isdigit()))
        for name, days in settings.day_groups
    )


def fault_of(group: NamedDays, settings: LogSettings, *, instead_of: str = "") -> GroupFault | None:
    """What is wrong with a group that is to be kept, in place of another one; None for nothing."""
    name = group.name.strip()
    taken = {WEEKEND, *(one.name for one in named_days(settings) if one.name != instead_of)}
    if not name:
        return GroupFault.NO_NAME
    if len(name) > LONGEST_NAME:
        return GroupFault.LONG_NAME
    if name.casefold() in {each.casefold() for each in taken}:
        return GroupFault.NAME_TAKEN
    if not group.weekdays:
        return GroupFault.NO_DAY
    return GroupFault.ALL_DAYS if len(group.weekdays) == DAYS_OF_A_WEEK else None


def with_named_days(
    settings: LogSettings, group: NamedDays, *, instead_of: str = ""
) -> LogSettings:
    """The settings with one more group, or with it in the place of another one."""
    kept = (group.name.strip(), "".join(str(day) for day in sorted(group.weekdays)))
    names = [name for name, _days in settings.day_groups]
    groups = list(settings.day_groups)
    if instead_of in names:
        groups[names.index(instead_of)] = kept
    else:
        groups.append(kept)
    return replace(settings, day_groups=tuple(groups))


def without_named_days(settings: LogSettings, name: str) -> LogSettings:
    """The settings without the group of this name."""
    groups = tuple(group for group in settings.day_groups if group[0] != name)
    return replace(settings, day_groups=groups)
