"""What records other than readings are called on the buttons Undo and Put back, in a few words."""

from __future__ import annotations

from dataclasses import fields

from logbook.domain.kit.meters import Meter
from logbook.domain.settings import LogSettings
from logbook.domain.spells import Spell
from logbook.domain.targets import Target
from logbook.domain.visits import Appointment, Contact, Medicine, Question
from logbook.wording import _, mark
from logbook.wording.dates import short_day_text
from logbook.wording.terms import spell_text

_LONGEST_NAME = 20
_ANY_SETTING = mark("settings")
_FINDINGS = mark("the limits for findings")
_SETTINGS = {
    "unit": mark("the meter's unit"),
    "person_name": mark("my name"),
    "born": mark("my date of birth"),
    "day_starts_at": mark("my day's start"),
    "very_high_above": mark("the very high limit"),
    "country": mark("my country"),
    "emergency_number": mark("my emergency number"),
    "can_have_lows": mark("medicines that cause lows"),
    "hand_with_device": mark("the hand with the device"),
    "hands_pricked": mark("the hands in use"),
    "fingers_in_use": mark("the fingers in use"),
    "rotation_habit": mark("the finger habit"),
    "left_out": mark("fingers left out"),
    "sore": mark("sore fingers"),
    "lancet_habit": mark("the lancet habit"),
    "home_zone": mark("my time zone"),
    "tracks_fingers": mark("keeping track of fingers"),
    "always_follows_advice": mark("following the finger advice"),
    "other_places_in_use": mark("the other places in use"),
    "has_control_solution": mark("having control solution"),
    "control_interval_days": mark("the days between control tests"),
    "strip_reserve": mark("the reserve of strips"),
    "delivery_days": mark("the days for a delivery"),
    "earliest_refill": mark("the earliest refill"),
    "pen_needles_a_day": mark("pen needles a day"),
    "finding_days": _FINDINGS,
    "low_repeat_count": _FINDINGS,
    "low_repeat_days": _FINDINGS,
    "near_low_count": _FINDINGS,
    "near_low_days": _FINDINGS,
    "high_least_readings": _FINDINGS,
    "high_margin": _FINDINGS,
    "pairs_needed": _FINDINGS,
    "meal_rise_above": _FINDINGS,
    "overnight_fall_from": _FINDINGS,
    "after_meal_from_minutes": mark("the time after a meal"),
    "weekend": mark("my weekend"),
    "day_groups": mark("my groups of days"),
    "low_plan": mark("my own plan"),
    "high_plan": mark("my own plan"),
    "sick_day_plan": mark("my own plan"),
    "helpers": mark("who writes here"),
    "has_simple_page": mark("the simple page"),
    "tells_how_kept": mark("how the log is kept"),
}


def plan_record_text(record: object) -> str | None:
    """A few words for a record of the pages *Visit* and *My plan*; None for any other."""
    match record:
        case Question():
            return _("question")
        case Appointment():
            return _("appointment on {day}").format(day=short_day_text(record.day))
        case Target():
            return _("targets from {day}").format(day=short_day_text(record.holds_from))
        case Medicine():
            return _("medicine")
        case Spell():
            return _("{kind} from {day}").format(
                kind=spell_text(record.kind), day=short_day_text(record.first)
            )
        case Contact():
            return _("people to phone")
        case Meter():
            return _("meter {name}").format(name=record.name[:_LONGEST_NAME])
        case _:
            return None


def changed_settings_text(earlier: object, later: object) -> str:
    """Which setting was changed, in a few words; "settings" for several at once."""
    if not isinstance(earlier, LogSettings) or not isinstance(later, LogSettings):
        return _(_ANY_SETTING)
    names = {
        _SETTINGS.get(field.name, _ANY_SETTING)
        for field in fields(LogSettings)
        if getattr(earlier, field.name) != getattr(later, field.name)
    }
    return _(names.pop()) if len(names) == 1 else _(_ANY_SETTING)
