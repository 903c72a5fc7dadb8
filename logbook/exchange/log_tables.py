"""All tables of an export of delimited text: every record of a log, a table a kind.

RFC 4180, read at the IETF: commas, a heading row, lines that end in CR LF, cells in quotation marks
where they need them. The text is UTF-8. What each table holds is told in `docs/export.md`.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from logbook.domain.answers import Answer
from logbook.domain.happenings import Happening
from logbook.domain.kit.control import ControlBottle, ControlTest
from logbook.domain.kit.depths import PunctureNote
from logbook.domain.kit.lancets import LancetChange
from logbook.domain.kit.meter_care import LabComparison, MeterAverage, MeterEvent
from logbook.domain.kit.sharps import SharpsContainer
from logbook.domain.kit.strips import StripCount, Vial
from logbook.domain.kit.supplies import LowSupply, Supply
from logbook.domain.medicine_notes import MedicineNote
from logbook.domain.plan.plans import MealStart, Pause, PutAside
from logbook.domain.spells import Spell
from logbook.domain.ticks import Tick
from logbook.domain.visits import Appointment, Contact, Medicine, Question
from logbook.domain.whole_log import WholeLog
from logbook.exchange.reading_table import EarlierValue, earlier_columns, reading_columns
from logbook.exchange.step_tables import (
    A1C_COLUMNS,
    CHECK_COLUMNS,
    METER_COLUMNS,
    RANGE_COLUMNS,
    TARGET_COLUMNS,
    checks_of_plans,
    ranges_of_vials,
    setting_rows,
)
from logbook.exchange.table_cells import Column, field_columns

READINGS = "readings"
EARLIER_VALUES = "earlier-values"


@dataclass(frozen=True, slots=True)
class LogTable:
    """One table: its name (that of its file, without the ending), columns and records."""

    name: str
    columns: tuple[Column, ...]
    records: Callable[[WholeLog], Iterable[Any]]

    def content(self, log: WholeLog) -> bytes:
        """The table as delimited text."""
        text = io.StringIO(newline="")
        writer = csv.writer(text)
        writer.writerow([column.heading for column in self.columns])
        writer.writerows(
            [column.cell(record) for column in self.columns] for record in self.records(log)
        )
        return text.getvalue().encode()


def log_tables(log: WholeLog) -> list[LogTable]:
    """The tables of a log, the readings first. Every table is there, even one without records."""
    names = {meter.id: meter.name for meter in log.kit.meters}
    return [
        LogTable(READINGS, tuple(reading_columns(names)), lambda log: log.readings),
        LogTable(EARLIER_VALUES, tuple(earlier_columns()), _earlier_values),
        *_OTHER_TABLES,
    ]


def _earlier_values(log: WholeLog) -> Iterator[EarlierValue]:
    for reading in log.readings:
        for earlier in reading.earlier:
            yield EarlierValue(earlier, reading.id)


def _table(
    name: str, record_type: type, records: Callable[[WholeLog], Iterable[Any]], *without: str
) -> LogTable:
    return LogTable(name, tuple(field_columns(record_type, without=without)), records)


_OTHER_TABLES = (
    _table("happenings", Happening, lambda log: log.happenings),
    _table("answers", Answer, lambda log: log.answers),
    _table("periods", Spell, lambda log: log.spells),
    LogTable("targets", TARGET_COLUMNS, lambda log: log.targets),
    _table("ticks", Tick, lambda log: log.ticks),
    LogTable("planned-checks", CHECK_COLUMNS, lambda log: checks_of_plans(log.plans)),
    _table("pauses", Pause, lambda log: log.pauses),
    _table("checks-put-aside", PutAside, lambda log: log.put_asides),
    _table("first-bites", MealStart, lambda log: log.meal_starts),
    _table("medicines", Medicine, lambda log: log.medicines),
    _table("medicine-notes", MedicineNote, lambda log: log.medicine_notes),
    LogTable("a1c", A1C_COLUMNS, lambda log: log.a1cs),
    _table("laboratory-comparisons", LabComparison, lambda log: log.kit.lab_comparisons),
    _table("meter-averages", MeterAverage, lambda log: log.meter_averages),
    _table("appointments", Appointment, lambda log: log.appointments),
    _table("questions", Question, lambda log: log.questions),
    _table("contacts", Contact, lambda log: log.contacts),
    LogTable("meters", METER_COLUMNS, lambda log: log.kit.meters),
    _table("meter-events", MeterEvent, lambda log: log.kit.meter_events),
    _table("strips", Vial, lambda log: log.kit.vials, "ranges"),
    LogTable("control-ranges", RANGE_COLUMNS, lambda log: ranges_of_vials(log.kit.vials)),
    _table("strip-counts", StripCount, lambda log: log.kit.strip_counts),
    _table("control-solution", ControlBottle, lambda log: log.kit.bottles),
    _table("control-tests", ControlTest, lambda log: log.kit.control_tests),
    _table("lancet-changes", LancetChange, lambda log: log.kit.lancet_changes),
    _table("punctures", PunctureNote, lambda log: log.kit.puncture_notes),
    _table("sharps-containers", SharpsContainer, lambda log: log.kit.sharps_containers),
    _table("things-for-a-low", LowSupply, lambda log: log.kit.low_supplies),
    _table("supplies", Supply, lambda log: log.kit.supplies),
    LogTable(
        "settings",
        (Column("setting", lambda row: row[0]), Column("value", lambda row: row[1])),
        lambda log: setting_rows(log.settings),
    ),
)
