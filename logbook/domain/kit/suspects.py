"""Which readings are in doubt because control tests failed; `control_due` tells the times.

Strips past their last day are told by `vial_life`.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import timedelta
from uuid import UUID

from logbook.domain.kit.control_due import suspect_spans
from logbook.domain.kit.kit_data import KitData
from logbook.domain.kit.meters import meter_used
from logbook.domain.kit.vial_life import life_of
from logbook.domain.moments import Period
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


def days_in_question(kit: KitData, settings: LogSettings, period: Period) -> tuple[Period, ...]:
    """Days of `period` on which a reading can be in doubt, for either reason; none overlap.

    They reach a day further than they need to, whatever the zone of a reading. Where a log has
    nothing wrong with its kit there are none, and no reading has to be looked at.
    """
    day = timedelta(days=1)
    spans = [
        (one.after.date() - day, one.until.date() + day) for one in suspect_spans(kit, settings)
    ]
    for vial in kit.vials:
        life = None if vial.opened_at is None else life_of(vial)
        if life is not None:
            ended = period.last if vial.ended_at is None else vial.ended_at.date() + day
            spans.append((life.until, ended))
    merged: list[Period] = []
    for first, last in sorted(spans):
        if first > last or first > period.last or last < period.first:
            continue
        days = Period(max(first, period.first), min(last, period.last))
        if merged and days.first <= merged[-1].last + day:
            before = merged.pop()
            days = Period(before.first, max(before.last, days.last))
        merged.append(days)
    return tuple(merged)
