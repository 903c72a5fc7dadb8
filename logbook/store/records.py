"""The registry of record kinds: table, canonical form and digest of each.

A change is a list of steps, each one record before and after; what applies a change, takes it back
and puts it back is one function in `changes`, for which a record is only its stored row. Two texts
are made of a stored row:

- the *row text*, a JSON array of the kind and every column, over which the digest is taken. SQLite
  makes the same text, so a row is verified without leaving the statement that reads it;
- the *record text*, a JSON object without what is empty, which stands in changes and journal.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

from sqlalchemy import Column, Integer, Table
from sqlalchemy.types import TypeDecorator

from logbook.domain.answers import Answer
from logbook.domain.disagreements import Disagreement
from logbook.domain.errors import NotSaved
from logbook.domain.happenings import Happening
from logbook.domain.kit.control import ControlBottle, ControlTest
from logbook.domain.kit.depths import PunctureNote
from logbook.domain.kit.lancets import LancetChange
from logbook.domain.kit.meter_care import LabComparison, MeterAverage, MeterEvent
from logbook.domain.kit.meters import Meter
from logbook.domain.kit.sharps import SharpsContainer
from logbook.domain.kit.strips import StripCount, Vial
from logbook.domain.kit.supplies import LowSupply, Supply
from logbook.domain.laboratory import LabA1C
from logbook.domain.medicine_notes import MedicineNote
from logbook.domain.plan.plans import CheckPlan, MealStart, Pause, PutAside
from logbook.domain.readings import Reading
from logbook.domain.settings import LogSettings
from logbook.domain.spells import Spell
from logbook.domain.targets import Target
from logbook.domain.ticks import Tick
from logbook.domain.visits import Appointment, Contact, Medicine, Question
from logbook.store import kit_rows, kit_tables, plan_tables, rows, tables
from logbook.store.row_parts import (
    MOMENT,
    Part,
    Row,
    canonical_json,
    composed,
    value_part,
)

_Convert = Callable[[Any, Any], Any]

Stored = dict[str, int | str | None]
"""A row as the file holds it, without its digest; the columns in the table's order."""


@dataclass(frozen=True)
class RecordKind:
    """One kind of record: where it is kept and how it is written."""

    name: str
    record_type: type
    table: Table
    to_row: Callable[[Any], Row]
    from_row: Callable[[Mapping[str, Any]], Any]
    key: str = "id"
    columns: tuple[Column[Any], ...] = field(init=False)

    def __post_init__(self) -> None:
        columns = tuple(c for c in self.table.columns if c.name != "digest")
        object.__setattr__(self, "columns", columns)

    @cached_property
    def _to_store(self) -> tuple[tuple[str, _Convert | None], ...]:
        return tuple(
            (c.name, c.type.process_bind_param if isinstance(c.type, TypeDecorator) else None)
            for c in self.columns
        )

    @cached_property
    def _from_store(self) -> tuple[tuple[str, _Convert | None], ...]:
        return tuple(
            (c.name, c.type.process_result_value if isinstance(c.type, TypeDecorator) else None)
            for c in self.columns
        )

    @cached_property
    def empty(self) -> Stored:
        """What each column holds when there is nothing to say."""
        return {
            c.name: None if c.nullable else (0 if _is_whole_number(c) else "") for c in self.columns
        }

    def stored(self, record: object) -> Stored:
        """A record as the file holds it.

        Raises `NotSaved` (why=text) when a text holds a character that no file of text can hold.
        """
        row = self.to_row(record)
        stored: Stored = {
            name: row[name] if convert is None else convert(row[name], None)
            for name, convert in self._to_store
        }
        texts = [value for value in stored.values() if isinstance(value, str)]
        if not _can_be_kept("".join(texts)):
            text = next(text for text in texts if not _can_be_kept(text))
            raise NotSaved(text.replace("\0", ""), why="text")
        return stored

    def record(self, stored: Mapping[str, Any]) -> Any:
        """The record of a stored row that was verified."""
        row = {
            name: stored[name] if convert is None else convert(stored[name], None)
            for name, convert in self._from_store
        }
        return self.from_row(row)

    def row_text(self, stored: Stored) -> str:
        """The text over which a row's digest is taken."""
        return json.dumps([self.name, *stored.values()], ensure_ascii=False, separators=(",", ":"))

    def digest(self, stored: Stored) -> bytes:
        """The digest that belongs to a row: SHA-256 of its row text."""
        return hashlib.sha256(self.row_text(stored).encode()).digest()

    def record_text(self, stored: Stored) -> str:
        """The canonical JSON object of a row, without what is empty."""
        empty = self.empty
        return canonical_json({k: v for k, v in stored.items() if v != empty[k]})

    def from_record_text(self, text: str) -> Stored:
        """The stored row of a record text."""
        return {**self.empty, **json.loads(text)}

    def from_row_text(self, text: bytes) -> Stored:
        """The stored row of a row text that was verified."""
        return dict(zip((c.name for c in self.columns), json.loads(text)[1:], strict=True))


def _is_whole_number(column: Column[Any]) -> bool:
    kept_as = column.type.impl if isinstance(column.type, TypeDecorator) else column.type
    return isinstance(kept_as, Integer)


def _can_be_kept(text: str) -> bool:
    return "\0" not in text and (
        text.isascii() or not any("\ud800" <= character <= "\udfff" for character in text)
    )


def _kind(name: str, record_type: type, table: Table, *parts: Part) -> RecordKind:
    """A kind whose records are their fields, but for what is kept in `parts`."""
    return RecordKind(name, record_type, table, *composed(record_type, *parts))


READING = RecordKind(
    "reading", Reading, tables.readings, rows.reading_to_row, rows.reading_from_row
)
HAPPENING = _kind("happening", Happening, tables.happenings, MOMENT, kit_rows.SITE)
ANSWER = _kind("answer", Answer, tables.answers)
TARGET = RecordKind("target", Target, tables.targets, rows.target_to_row, rows.target_from_row)
METER = RecordKind("meter", Meter, tables.meters, rows.meter_to_row, rows.meter_from_row)
LANCET_CHANGE = _kind("lancet_change", LancetChange, tables.lancet_changes, MOMENT)
SPELL = _kind("spell", Spell, tables.spells)
APPOINTMENT = RecordKind(
    "appointment",
    Appointment,
    tables.appointments,
    rows.appointment_to_row,
    rows.appointment_from_row,
)
QUESTION = _kind("question", Question, tables.questions)
MEDICINE = _kind("medicine", Medicine, tables.medicines)
CONTACT = _kind("contact", Contact, tables.contacts)
DISAGREEMENT = _kind("disagreement", Disagreement, tables.disagreements)
# One row is one setting; `setting_rows.settings_from_rows` makes the whole of them.
SETTING = RecordKind("setting", LogSettings, tables.settings, dict, dict, key="name")

VIAL = _kind(
    "vial", Vial, kit_tables.vials, kit_rows.EXPIRES, kit_rows.AFTER_OPENING, kit_rows.RANGES
)
STRIP_COUNT = _kind("strip_count", StripCount, kit_tables.strip_counts, MOMENT)
CONTROL_BOTTLE = _kind(
    "control_bottle",
    ControlBottle,
    kit_tables.control_bottles,
    kit_rows.EXPIRES,
    kit_rows.AFTER_OPENING,
)
CONTROL_TEST = _kind(
    "control_test", ControlTest, kit_tables.control_tests, MOMENT, value_part("glucose")
)
METER_EVENT = _kind("meter_event", MeterEvent, kit_tables.meter_events, MOMENT)
LAB_COMPARISON = _kind(
    "lab_comparison",
    LabComparison,
    kit_tables.lab_comparisons,
    MOMENT,
    value_part("glucose"),
    value_part("laboratory", "laboratory_"),
)
METER_AVERAGE = _kind(
    "meter_average", MeterAverage, kit_tables.meter_averages, MOMENT, value_part("glucose")
)
PUNCTURE_NOTE = _kind("puncture_note", PunctureNote, kit_tables.puncture_notes)
SHARPS_CONTAINER = _kind("sharps_container", SharpsContainer, kit_tables.sharps_containers)
LOW_SUPPLY = _kind("low_supply", LowSupply, kit_tables.low_supplies, kit_rows.EXPIRES)
SUPPLY = _kind("supply", Supply, kit_tables.supplies)

CHECK_PLAN = _kind("check_plan", CheckPlan, plan_tables.check_plans, kit_rows.CHECKS)
PAUSE = _kind("pause", Pause, plan_tables.pauses)
PUT_ASIDE = _kind("put_aside", PutAside, plan_tables.put_asides)
MEAL_START = _kind("meal_start", MealStart, plan_tables.meal_starts, MOMENT)
TICK = _kind("tick", Tick, plan_tables.ticks)
LAB_A1C = _kind("lab_a1c", LabA1C, plan_tables.lab_a1cs)
MEDICINE_NOTE = _kind("medicine_note", MedicineNote, plan_tables.medicine_notes, MOMENT)

KINDS = {
    kind.name: kind
    for kind in (
        READING,
        HAPPENING,
        ANSWER,
        TARGET,
        METER,
        LANCET_CHANGE,
        SPELL,
        APPOINTMENT,
        QUESTION,
        MEDICINE,
        CONTACT,
        SETTING,
        VIAL,
        STRIP_COUNT,
        CONTROL_BOTTLE,
        CONTROL_TEST,
        METER_EVENT,
        LAB_COMPARISON,
        METER_AVERAGE,
        PUNCTURE_NOTE,
        SHARPS_CONTAINER,
        LOW_SUPPLY,
        SUPPLY,
        CHECK_PLAN,
        PAUSE,
        PUT_ASIDE,
        MEAL_START,
        TICK,
        LAB_A1C,
        MEDICINE_NOTE,
        DISAGREEMENT,
    )
}
KIND_OF_TYPE = {kind.record_type: kind for kind in KINDS.values()}
