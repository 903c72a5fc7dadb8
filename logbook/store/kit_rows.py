"""Records of the kit and the plan as rows: what of them is kept in a form of its own."""

from __future__ import annotations

import json
from datetime import time

from logbook.domain.glucose import Unit
from logbook.domain.kit.dates import AfterOpening, PrintedDate
from logbook.domain.kit.strips import ControlRange
from logbook.domain.plan.plans import PlannedCheck
from logbook.domain.sites import Site
from logbook.domain.slots import Slot
from logbook.store.row_parts import canonical_json, text_part


def _ranges_to_text(ranges: tuple[ControlRange, ...]) -> str:
    if not ranges:
        return ""
    return canonical_json([[one.level, one.unit, one.lowest, one.highest] for one in ranges])


def _ranges_from_text(text: str) -> tuple[ControlRange, ...]:
    return tuple(
        ControlRange(level, Unit(unit), lowest, highest)
        for level, unit, lowest, highest in (json.loads(text) if text else ())
    )


def _checks_to_text(checks: tuple[PlannedCheck, ...]) -> str:
    if not checks:
        return ""
    return canonical_json(
        [
            {
                "slot": one.slot,
                "at": one.at.isoformat(),
                "weekdays": list(one.weekdays),
                "every_days": one.every_days,
                "day_offset": one.day_offset,
                "minutes_after": one.minutes_after,
            }
            for one in checks
        ]
    )


def _checks_from_text(text: str) -> tuple[PlannedCheck, ...]:
    return tuple(
        PlannedCheck(
            Slot(one["slot"]),
            time.fromisoformat(one["at"]),
            tuple(one["weekdays"]),
            one["every_days"],
            one["day_offset"],
            one["minutes_after"],
        )
        for one in (json.loads(text) if text else ())
    )


EXPIRES = text_part("expires", lambda printed: str(printed.code), PrintedDate.from_code)
AFTER_OPENING = text_part("after_opening", lambda how: str(how.code), AfterOpening.from_code)
SITE = text_part("site", lambda site: str(site.code), Site.from_code)
RANGES = text_part("ranges", _ranges_to_text, _ranges_from_text)
CHECKS = text_part("checks", _checks_to_text, _checks_from_text)
