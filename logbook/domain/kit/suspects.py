"""Which readings are in doubt because control tests failed; `control_due` tells the times."""

from __future__ import annotations

from collections.abc import Iterable
from uuid import UUID

from logbook.domain.kit.control_due import suspect_spans
from logbook.domain.kit.kit_data import KitData
from logbook.domain.kit.meters import meter_used
from logbook.domain.readings import Reading
from logbook.domain.settings import LogSettings


def suspect_readings(
    readings: Iterable[Reading], kit: KitData, settings: LogSettings
) -> tuple[UUID, ...]:
    """The readings made with a meter between its last pass and two fails running, by id.

    Someone else's meter has no control tests here, and a damaged reading is none.
    """
    spans = suspect_spans(kit, settings)
    if not spans:
        return ()
    return tuple(
        reading.id
        for reading in readings
        if not reading.is_foreign and not reading.is_damaged
        for meter_id in (meter_used(reading.meter_id, reading.at.instant, kit.meters),)
        if any(
            span.meter_id == meter_id and span.after < reading.at.instant <= span.until
            for span in spans
        )
    )
