"""Two versions of one record in words: what they differ in, each with what it says there."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, fields
from datetime import date, datetime, time, timedelta
from typing import Any
from uuid import UUID

from logbook.domain.answers import Asked, Said
from logbook.domain.glucose import Glucose, Unit
from logbook.domain.happenings import StripFailure, What
from logbook.domain.kit.dates import AfterOpening, PrintedDate
from logbook.domain.kit.lancets import LancetChangeReason, LancetHabit
from logbook.domain.kit.meter_care import MeterWhat
from logbook.domain.kit.strips import ControlRange, Packing, WhyEnded
from logbook.domain.kit.supplies import ForLows, SupplyKind
from logbook.domain.laboratory import A1CUnit
from logbook.domain.medicine_notes import NotAsPlanned
from logbook.domain.moments import Moment
from logbook.domain.plan.plans import PlannedCheck
from logbook.domain.readings import CrossedOut, Difference, Doubt, Feeling, Source
from logbook.domain.settings import HandsPricked, RotationHabit
from logbook.domain.sites import Hand, Place, Site, SiteUse
from logbook.domain.slots import Purpose, Slot
from logbook.domain.spells import SpellKind
from logbook.domain.targets import Limits, SetBy, TargetKind
from logbook.domain.ticks import About, Told
from logbook.wording import _, mark
from logbook.wording.dates import clock_text, day_text, duration_text, moment_text
from logbook.wording.kit import after_opening_text, depth_number, printed_date_text
from logbook.wording.kit_terms import (
    for_lows_text,
    meter_what_text,
    packing_text,
    supply_kind_text,
    why_ended_text,
)
from logbook.wording.laboratory import a1c_steps_text, a1c_unit_text
from logbook.wording.medicine_notes import not_as_planned_text
from logbook.wording.numbers import glucose_text, number_text, range_text, steps_text, unit_text
from logbook.wording.plan import check_line
from logbook.wording.sites import hand_text, place_text, site_text, site_use_text
from logbook.wording.targets import limits_text
from logbook.wording.terms import (
    asked_text,
    difference_text,
    doubt_text,
    feeling_text,
    hands_pricked_text,
    lancet_habit_text,
    lancet_reason_text,
    purpose_text,
    rotation_habit_text,
    said_text,
    set_by_text,
    slot_text,
    source_text,
    spell_text,
    strip_failure_text,
    target_kind_text,
    what_text,
)
from logbook.wording.ticks import about_name, told_text

# Counted in steps of the unit that stands in the same record.
_IN_STEPS = frozenset(
    {"lowest", "highest", "very_high_above"}
    | {"high_margin", "meal_rise_above", "overnight_fall_from"}
)

# What a person never chose between: when the program wrote it, and what a reading said before.
NOT_SHOWN = frozenset({"id", "written_at", "earlier", "is_damaged"})

_DAY, _NAME, _COUNT = mark("Day"), mark("Name"), mark("How many")
_FROM, _UNTIL, _WHAT = mark("From"), mark("Until"), mark("What")
_LOT, _WHY, _METER = mark("Lot"), mark("Why"), mark("Meter")
_UNIT, _WHO_SET = mark("Unit"), mark("Who set it")

LABELS = {
    "about": mark("About"),
    "after_opening": mark("After opening"),
    "asked": mark("Question"),
    "at": mark("When"),
    "bottle_id": mark("Control solution"),
    "capacity": mark("Room for"),
    "checks": mark("Checks"),
    "clock_ahead": mark("Clock ahead by"),
    "clock_ahead_minutes": mark("Clock ahead, minutes"),
    "closed_on": mark("Closed"),
    "code": mark("Code"),
    "could_not_wash": mark("Could not wash hands"),
    "count": _COUNT,
    "counted": mark("Counted"),
    "counted_on": mark("Counted on"),
    "crossed_out": mark("Crossed out"),
    "crossed_out_at": mark("Crossed out"),
    "day": _DAY,
    "days": mark("Days"),
    "decided": mark("Decided"),
    "depth_tenths": mark("Depth"),
    "did_hurt": mark("Hurt"),
    "differences": mark("What was different"),
    "done_on": mark("Asked on"),
    "doubt": mark("Not believed"),
    "drawn_on": mark("Blood drawn"),
    "edition": mark("Edition"),
    "ended_at": mark("Ended"),
    "ended_on": mark("Ended"),
    "exact_type": mark("Type"),
    "expires": mark("Printed date"),
    "feelings": mark("Feelings"),
    "first": _FROM,
    "glucose": mark("Meter showed"),
    "handed_in_on": mark("Handed in"),
    "highest": mark("Highest it shows"),
    "holds_from": _FROM,
    "holds_until": _UNTIL,
    "ill_every_hours": mark("When ill, every so many hours"),
    "in_use_from": _FROM,
    "in_use_until": _UNTIL,
    "initials": mark("Written by"),
    "is_agreed": mark("Agreed with the provider"),
    "is_foreign": mark("Another meter"),
    "is_own": mark("My own"),
    "is_there": mark("At home"),
    "kind": _WHAT,
    "laboratory": mark("Laboratory found"),
    "last": _UNTIL,
    "left": mark("Strips left"),
    "level": mark("Level"),
    "lot": _LOT,
    "lowest": mark("Lowest it shows"),
    "meter_id": _METER,
    "minutes_after": mark("Minutes after the meal"),
    "minutes_apart": mark("Minutes apart"),
    "name": _NAME,
    "note": mark("Note"),
    "opened_at": mark("Opened"),
    "opened_on": mark("Opened"),
    "packing": mark("Packing"),
    "phone": mark("Phone"),
    "place": mark("Place"),
    "printed": mark("Numbers"),
    "profile_days": mark("Days of 7 checks"),
    "purpose": mark("Purpose"),
    "ranges": mark("Printed ranges"),
    "reason": _WHY,
    "recheck_of": mark("Recheck of"),
    "role": mark("Who it is"),
    "said": mark("Answer"),
    "set_by": _WHO_SET,
    "set_by_name": _WHO_SET,
    "site": mark("Finger"),
    "site_use": mark("Finger noted as"),
    "slot": mark("Time of day"),
    "source": mark("Where it came from"),
    "started_on": mark("Begun"),
    "steps": mark("Number"),
    "strip_failure": mark("Strip failed"),
    "temperature_tenths": mark("Temperature"),
    "text": mark("Text"),
    "told": mark("Answer"),
    "unit": _UNIT,
    "vial_id": mark("Strip pot"),
    "was_enough_blood": mark("Enough blood"),
    "was_fasting": mark("Before eating"),
    "what": _WHAT,
    "who_knows": mark("Who knows how"),
    "why_ended": _WHY,
    "with_whom": mark("With"),
}


def _yes_or_no(value: bool) -> str:  # noqa: FBT001  (it is the value that is said)
    return _("yes") if value else _("no")


def _in_one_line(text: str) -> str:
    return " ".join(text.split()) or _("nothing")


_SAID: dict[type, Callable[[Any], str]] = {
    bool: _yes_or_no,
    date: day_text,
    int: number_text,
    str: _in_one_line,
    A1CUnit: a1c_unit_text,
    About: about_name,
    Asked: asked_text,
    Difference: difference_text,
    Doubt: doubt_text,
    Feeling: feeling_text,
    ForLows: for_lows_text,
    Hand: hand_text,
    HandsPricked: hands_pricked_text,
    LancetChangeReason: lancet_reason_text,
    LancetHabit: lancet_habit_text,
    MeterWhat: meter_what_text,
    NotAsPlanned: not_as_planned_text,
    Packing: packing_text,
    Place: place_text,
    Purpose: purpose_text,
    RotationHabit: rotation_habit_text,
    Said: said_text,
    SetBy: set_by_text,
    SiteUse: site_use_text,
    Slot: slot_text,
    Source: source_text,
    SpellKind: spell_text,
    StripFailure: strip_failure_text,
    SupplyKind: supply_kind_text,
    TargetKind: target_kind_text,
    Told: told_text,
    Unit: unit_text,
    What: what_text,
    WhyEnded: why_ended_text,
    AfterOpening: after_opening_text,
    Glucose: glucose_text,
    Limits: limits_text,
    PlannedCheck: check_line,
    PrintedDate: printed_date_text,
    Site: site_text,
    time: clock_text,
    timedelta: duration_text,
}


@dataclass(frozen=True, slots=True)
class Differing:
    """One thing in which two versions differ, and what each says."""

    label: str
    kept: str
    other: str


def differing(kept: Any, other: Any, now: Moment, setting: str = "") -> list[Differing]:
    """What two versions differ in, in the order of the record's fields.

    `setting` is the one name to look at when both are settings; its label is for the caller.
    """
    found = []
    for field in fields(kept):
        name = field.name
        one, two = getattr(kept, name), getattr(other, name)
        if one == two or (name != setting if setting else name in NOT_SHOWN):
            continue
        label = _(LABELS[name]) if not setting else ""
        texts = _said_of(kept, name, now), _said_of(other, name, now)
        if texts[0] == texts[1]:
            texts = _("as here"), _("another one")
        found.append(Differing(label, *texts))
    return found


def _said_of(record: Any, name: str, now: Moment) -> str:
    """What a record's field says; what is kept in steps or tenths as the number it stands for."""
    value = getattr(record, name)
    unit = getattr(record, "unit", None)
    match name:
        case "crossed_out" | "crossed_out_at" if value is None:
            return _("no")
        case _ if value is None:
            pass
        case "steps" if isinstance(unit, A1CUnit):
            return a1c_steps_text(value, unit)
        case _ if name in _IN_STEPS and isinstance(unit, Unit):
            return steps_text(value, unit)
        case "temperature_tenths":
            return _("{degrees} °C").format(degrees=number_text(value / 10, 1))
        case "depth_tenths":
            return depth_number(value)
    return said_value_text(value, now)


def said_value_text(value: Any, now: Moment) -> str:
    """What a field says, in words."""
    if value is None or value in ("", ()):
        return _("nothing")
    if type(value) in _SAID:
        return _SAID[type(value)](value)
    match value:
        case datetime():
            return moment_text(Moment.at(value, now.zone), now, time.min)
        case Moment():
            return moment_text(value, now, time.min)
        case CrossedOut():
            when = moment_text(Moment.at(value.at, now.zone), now, time.min)
            return f"{when}: {value.reason}" if value.reason else when
        case ControlRange():
            return f"{value.level} {range_text(value.lowest, value.highest, value.unit)}".strip()
        case tuple():
            return ", ".join(said_value_text(one, now) for one in value)
        case UUID():
            return _("one that is noted")
    raise TypeError(value)
