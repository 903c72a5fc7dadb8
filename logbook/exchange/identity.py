"""Which readings of a file are in the log already, so that importing twice adds nothing.

A reading from a file is known by its wall time to the minute, its unit and its value. Equal ones in
one file are numbered, so that genuine repeats are kept. The id comes from these alone: whatever
layout or file brought the reading, it is the same reading.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Sequence
from dataclasses import replace
from typing import Protocol
from uuid import UUID, uuid5

from logbook.domain.glucose import Glucose, Unit
from logbook.domain.import_doubts import ImportDoubts, import_doubts
from logbook.domain.kit.meters import Meter
from logbook.domain.moments import Moment, Period
from logbook.domain.readings import Reading
from logbook.domain.series import EMPTY_SERIES, Series
from logbook.domain.settings import LogSettings

# Made once, at random. Changing it would make every imported reading a new one.
_NAMESPACE = UUID("6a0c7f0e-52c5-4b0e-9a37-3f4b1de2c9a4")

Key = tuple[int, Unit, int]


def key_of(at: Moment, glucose: Glucose) -> Key:
    """Wall minute, unit and value in steps."""
    return at.wall_minute, glucose.unit, glucose.order_steps


class AskedLog(Protocol):
    """What has to be asked of a log; the Book answers it."""

    @property
    def settings(self) -> LogSettings:
        """The log's settings."""

    def has_records(self, ids: Iterable[UUID]) -> set[UUID]:
        """Which of `ids` are readings in the log."""

    def series(self, period: Period | None = None) -> Series:
        """All readings of `period`."""

    def meters(self) -> list[Meter]:
        """Every meter of the log."""


class IdentityGiver:
    """Gives the readings of one file their ids, in the order in which they stand there."""

    def __init__(self) -> None:
        self._seen: Counter[Key] = Counter()

    def give(self, at: Moment, glucose: Glucose) -> UUID:
        """The id of the next reading of this time and value."""
        key = key_of(at, glucose)
        occurrence = self._seen[key]
        self._seen[key] += 1
        minute, unit, steps = key
        return uuid5(_NAMESPACE, f"{minute}|{unit.value}|{steps}|{occurrence}")


def not_there_yet(log: AskedLog, readings: Sequence[Reading]) -> list[Reading]:
    """Those of a file's readings that are not in a log yet, as they can be added to it."""
    return _added_to(log, readings, _series_beside(log, readings))


def new_with_doubts(
    log: AskedLog, readings: Sequence[Reading]
) -> tuple[list[Reading], ImportDoubts]:
    """The same, and what of it to look at once more; the log is read once for both."""
    series = _series_beside(log, readings)
    added = _added_to(log, readings, series)
    return added, import_doubts(added, series, log.meters())


def _series_beside(log: AskedLog, readings: Sequence[Reading]) -> Series:
    if not readings:
        return EMPTY_SERIES
    starts_at = log.settings.day_starts_at
    days = [reading.at.day(starts_at) for reading in readings]
    return log.series(Period(min(days), max(days)))


def _added_to(log: AskedLog, readings: Sequence[Reading], series: Series) -> list[Reading]:
    if not readings:
        return []
    ids = log.has_records(reading.id for reading in readings)
    added = new_readings(readings, ids, series)
    meters = [meter.id for meter in log.meters()]
    checked = log.has_records(one.recheck_of for one in added if one.recheck_of is not None)
    return known_references(added, meters, checked)


def new_readings(
    readings: Iterable[Reading], ids_in_log: Collection[UUID], series: Series
) -> list[Reading]:
    """Those of `readings` that are not in the log yet, in their order.

    One is there when its id is (even corrected or crossed out since), or when the log holds another
    reading of the same minute, unit and value that no other line of the file stands for. `series`
    are the log's readings over the days of the file.
    """
    known = {str(record_id) for record_id in ids_in_log}
    others = Counter(
        key
        for record_id, *key_parts in zip(
            series.ids, series.wall_minutes, series.units, series.steps, strict=True
        )
        if record_id not in known
        for key in [tuple(key_parts)]
    )
    added = []
    for reading in readings:
        if str(reading.id) in known:
            continue
        key = key_of(reading.at, reading.glucose)
        if others[key] > 0:
            others[key] -= 1
        else:
            added.append(reading)
    return added


def known_references(
    readings: Iterable[Reading], meter_ids: Iterable[UUID], reading_ids: Iterable[UUID]
) -> list[Reading]:
    """The readings to be added, without a meter or an earlier reading that the log has not.

    `reading_ids` are those of the log; a reading may also check one again that is added with it.
    """
    kept = list(readings)
    meters = frozenset(meter_ids)
    known = frozenset(reading_ids) | {reading.id for reading in kept}
    return [
        reading
        if _is_known(reading.meter_id, meters) and _is_known(reading.recheck_of, known)
        else replace(
            reading,
            meter_id=reading.meter_id if reading.meter_id in meters else None,
            recheck_of=reading.recheck_of if reading.recheck_of in known else None,
        )
        for reading in kept
    ]


def _is_known(record_id: UUID | None, known: frozenset[UUID]) -> bool:
    return record_id is None or record_id in known
