"""The tables of the kit: strips, control solution, meters, punctures, sharps, supplies.

The meters themselves and the changes of lancets are in `tables`, where they always were.
"""

from __future__ import annotations

from logbook.domain.kit.meter_care import MeterWhat
from logbook.domain.kit.strips import Packing, WhyEnded
from logbook.domain.kit.supplies import ForLows, SupplyKind
from logbook.store.table_parts import (
    after_opening_column,
    code_column,
    day_column,
    flag_column,
    glucose_columns,
    id_column,
    instant_column,
    key_column,
    list_column,
    moment_columns,
    number_column,
    printed_date_column,
    record_table,
    text_column,
)

vials = record_table(
    "vials",
    key_column(),
    id_column("meter_id", to="meters.id"),
    number_column("count", least=0),
    instant_column("written_at"),
    code_column("packing", Packing),
    text_column("lot"),
    text_column("code"),
    printed_date_column("expires"),
    after_opening_column("after_opening"),
    instant_column("opened_at", nullable=True),
    day_column("opened_on", nullable=True),
    instant_column("ended_at", nullable=True),
    code_column("why_ended", WhyEnded, nullable=True),
    list_column("ranges"),
)

strip_counts = record_table(
    "strip_counts",
    key_column(),
    id_column("vial_id", to="vials.id", nullable=False),
    *moment_columns(),
    instant_column("written_at"),
    number_column("left", least=0),
    instant_column("crossed_out_at", nullable=True),
)

control_bottles = record_table(
    "control_bottles",
    key_column(),
    text_column("level"),
    instant_column("written_at"),
    text_column("lot"),
    printed_date_column("expires"),
    after_opening_column("after_opening"),
    day_column("opened_on", nullable=True),
    day_column("ended_on", nullable=True),
)

control_tests = record_table(
    "control_tests",
    key_column(),
    *moment_columns(),
    instant_column("written_at"),
    id_column("meter_id", to="meters.id"),
    id_column("vial_id", to="vials.id"),
    id_column("bottle_id", to="control_bottles.id"),
    text_column("level"),
    *glucose_columns(),
    number_column("temperature_tenths", nullable=True),
    text_column("note"),
    instant_column("crossed_out_at", nullable=True),
)

meter_events = record_table(
    "meter_events",
    key_column(),
    id_column("meter_id", to="meters.id", nullable=False),
    code_column("what", MeterWhat),
    *moment_columns(),
    instant_column("written_at"),
    number_column("clock_ahead_minutes", nullable=True),
    text_column("note"),
    instant_column("crossed_out_at", nullable=True),
)

lab_comparisons = record_table(
    "lab_comparisons",
    key_column(),
    id_column("meter_id", to="meters.id"),
    *moment_columns(),
    instant_column("written_at"),
    *glucose_columns(),
    *glucose_columns("laboratory_"),
    number_column("minutes_apart", nullable=True),
    flag_column("was_fasting", nullable=True),
    text_column("note"),
    instant_column("crossed_out_at", nullable=True),
)

meter_averages = record_table(
    "meter_averages",
    key_column(),
    id_column("meter_id", to="meters.id"),
    *moment_columns(),
    instant_column("written_at"),
    number_column("days", least=1),
    *glucose_columns(),
    number_column("count", least=0, nullable=True),
    instant_column("crossed_out_at", nullable=True),
)

# A puncture was made for a reading or a happening, so `about` has no foreign key.
puncture_notes = record_table(
    "puncture_notes",
    key_column(),
    id_column("about", nullable=False),
    instant_column("at"),
    number_column("depth_tenths", least=0, nullable=True),
    flag_column("was_enough_blood", nullable=True),
    flag_column("did_hurt", nullable=True),
)

sharps_containers = record_table(
    "sharps_containers",
    key_column(),
    day_column("started_on"),
    instant_column("written_at"),
    number_column("capacity", least=1, nullable=True),
    number_column("counted", least=0),
    day_column("closed_on", nullable=True),
    day_column("handed_in_on", nullable=True),
    text_column("note"),
)

low_supplies = record_table(
    "low_supplies",
    key_column(),
    code_column("kind", ForLows),
    instant_column("written_at"),
    flag_column("is_there"),
    text_column("place"),
    printed_date_column("expires"),
    text_column("who_knows"),
    text_column("note"),
    day_column("ended_on", nullable=True),
)

supplies = record_table(
    "supplies",
    key_column(),
    code_column("kind", SupplyKind),
    text_column("exact_type"),
    instant_column("written_at"),
    number_column("count", least=0, nullable=True),
    day_column("counted_on", nullable=True),
    day_column("ended_on", nullable=True),
    id_column("meter_id", to="meters.id"),
)
