"""The settings of a log as rows, one row a name, and back."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from dataclasses import fields
from datetime import date, time
from typing import Any

from logbook.domain.glucose import Unit
from logbook.domain.kit.lancets import LancetHabit
from logbook.domain.settings import HandsPricked, LogSettings, RotationHabit
from logbook.domain.sites import Hand, Place
from logbook.store.row_parts import Row, canonical_json, plain_to_row

# What makes a setting from its JSON value, where that is not the value itself.
_SETTINGS: dict[str, Callable[[Any], object]] = {
    "unit": Unit,
    "day_starts_at": time.fromisoformat,
    "hand_with_device": Hand,
    "hands_pricked": HandsPricked,
    "fingers_in_use": lambda codes: tuple(Place(code) for code in codes),
    "other_places_in_use": lambda codes: tuple(Place(code) for code in codes),
    "rotation_habit": RotationHabit,
    "left_out": lambda pairs: tuple((code, why) for code, why in pairs),
    "sore": lambda pairs: tuple((code, day) for code, day in pairs),
    "lancet_habit": LancetHabit,
    "earliest_refill": lambda day: None if day is None else date.fromisoformat(day),
    "weekend": tuple,
    "day_groups": lambda pairs: tuple((name, weekdays) for name, weekdays in pairs),
    "helpers": lambda pairs: tuple((initials, name) for initials, name in pairs),
}


def settings_to_rows(settings: LogSettings) -> dict[str, Row]:
    """Every setting as a row, by name."""
    rows = {}
    for name, value in plain_to_row(settings).items():
        plain = value.isoformat() if isinstance(value, date | time) else value
        rows[name] = {"name": name, "value": canonical_json(plain)}
    return rows


def settings_from_rows(values: Mapping[str, str]) -> LogSettings:
    """The settings of their JSON values; a name that is missing has its default.

    A name this version does not know is left alone: a newer version wrote it.
    """
    known: dict[str, Any] = {}
    for field in fields(LogSettings):
        if field.name in values:
            value = json.loads(values[field.name])
            make = _SETTINGS.get(field.name)
            known[field.name] = value if make is None else make(value)
    return LogSettings(**known)
