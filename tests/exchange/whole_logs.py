"""Logs of any records at all, and one of the invented person, for tests of what goes out."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Any

from hypothesis import strategies as st

from logbook.domain.kit.kit_data import KitData
from logbook.domain.readings import Reading
from logbook.domain.whole_log import WholeLog
from tests.store import strategies as made

NOW = datetime(2120, 1, 1, tzinfo=UTC)
"""After everything that a strategy makes up."""

_KIT = {
    "meters": made.meters,
    "vials": made.vials,
    "strip_counts": made.strip_counts,
    "bottles": made.control_bottles,
    "control_tests": made.control_tests,
    "meter_events": made.meter_events,
    "lab_comparisons": made.lab_comparisons,
    "lancet_changes": made.lancet_changes,
    "puncture_notes": made.puncture_notes,
    "sharps_containers": made.sharps_containers,
    "low_supplies": made.low_supplies,
    "supplies": made.supplies,
}
_REST = {
    "readings": made.readings,
    "happenings": made.happenings,
    "answers": made.answers,
    "spells": made.spells,
    "targets": made.targets,
    "ticks": made.ticks,
    "medicines": made.medicines,
    "medicine_notes": made.medicine_notes,
    "plans": made.check_plans,
    "pauses": made.pauses,
    "put_asides": made.put_asides,
    "meal_starts": made.meal_starts,
    "appointments": made.appointments,
    "questions": made.questions,
    "contacts": made.contacts,
    "a1cs": made.lab_a1cs,
    "meter_averages": made.meter_averages,
    "disagreements": made.disagreements,
}


def _tuples(records: st.SearchStrategy[Any]) -> st.SearchStrategy[tuple[Any, ...]]:
    return st.lists(records, min_size=1, max_size=2, unique_by=lambda one: one.id).map(tuple)


whole_logs = st.builds(
    WholeLog,
    settings=made.log_settings,
    kit=st.builds(KitData, **{name: _tuples(one) for name, one in _KIT.items()}),
    **{name: _tuples(one) for name, one in _REST.items()},
)


def _is_of_meters_at_home(reading: Reading) -> bool:
    """Not before home meters existed, which no import takes in."""
    return all(at.wall.year >= 1970 for at in (reading.at, *(one.at for one in reading.earlier)))


def _distinct(readings: list[Reading]) -> bool:
    return len({reading.id for reading in readings}) == len(readings)


reading_lists = (
    st.lists(made.readings.filter(_is_of_meters_at_home), max_size=5).filter(_distinct).map(tuple)
)
