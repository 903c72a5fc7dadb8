"""The tables of the plan and of health: when to check, meals, ticks, laboratory, medicine notes.

Spells, appointments, medicines and targets are in `tables`, where they always were.
"""

from __future__ import annotations

from logbook.domain.laboratory import A1CUnit
from logbook.domain.medicine_notes import NotAsPlanned
from logbook.domain.slots import Slot
from logbook.domain.targets import SetBy
from logbook.domain.ticks import About, Told
from logbook.store.table_parts import (
    code_column,
    day_column,
    instant_column,
    key_column,
    list_column,
    moment_columns,
    number_column,
    record_table,
    text_column,
)

check_plans = record_table(
    "check_plans",
    key_column(),
    day_column("holds_from"),
    list_column("checks"),
    instant_column("written_at"),
    code_column("set_by", SetBy),
    text_column("set_by_name"),
    text_column("source"),
    number_column("profile_days", least=0),
    number_column("ill_every_hours", least=1, nullable=True),
)

pauses = record_table(
    "pauses",
    key_column(),
    day_column("first"),
    instant_column("written_at"),
    day_column("last", nullable=True),
    text_column("reason"),
)

put_asides = record_table(
    "put_asides",
    key_column(),
    day_column("day"),
    code_column("slot", Slot),
    instant_column("written_at"),
)

meal_starts = record_table(
    "meal_starts",
    key_column(),
    code_column("slot", Slot),
    *moment_columns(),
    instant_column("written_at"),
    instant_column("crossed_out_at", nullable=True),
)

ticks = record_table(
    "ticks",
    key_column(),
    code_column("about", About),
    code_column("told", Told),
    day_column("holds_from"),
    instant_column("written_at"),
)

lab_a1cs = record_table(
    "lab_a1cs",
    key_column(),
    day_column("drawn_on"),
    number_column("steps", least=1),
    code_column("unit", A1CUnit),
    instant_column("written_at"),
    text_column("note"),
    instant_column("crossed_out_at", nullable=True),
)

medicine_notes = record_table(
    "medicine_notes",
    key_column(),
    code_column("kind", NotAsPlanned),
    *moment_columns(),
    instant_column("written_at"),
    text_column("text"),
    instant_column("crossed_out_at", nullable=True),
)
