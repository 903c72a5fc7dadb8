"""What the tests of findings share: targets, and a look at some readings."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from typing import Any

from logbook.domain.findings import Finding, FindingKind, find_findings
from logbook.domain.glucose import Unit
from logbook.domain.moments import Period
from logbook.domain.readings import Reading
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Slot
from logbook.domain.targets import Target, TargetBook, TargetKind
from logbook.domain.ticks import TickBook
from tests.domain.series_of import range_target, reading, series_of

MARCH = Period(date(2026, 3, 4), date(2026, 3, 31))


def targets(unit: Unit = Unit.MG_DL) -> TargetBook:
    """80 to 130 before meals, under 181 after them, 100 to 180 at bedtime (4.4-7.2, 10, 5.6-10)."""
    in_mg_dl = unit is Unit.MG_DL
    before, after, bed = (
        ((80, 130), (None, 180), (100, 180)) if in_mg_dl else ((44, 72), (None, 100), (56, 100))
    )
    kinds: list[tuple[TargetKind, tuple[int | None, int]]] = [
        (TargetKind.FASTING, before),
        (TargetKind.BEFORE_MEALS, before),
        (TargetKind.AFTER_MEALS, after),
        (TargetKind.BEDTIME, bed),
    ]
    made: list[Target] = [range_target(kind, *ends, unit=unit) for kind, ends in kinds]
    return TargetBook(made)


def checks(
    slot: Slot, values: Mapping[int, str] | Sequence[str], at: str, **more: Any
) -> list[Reading]:
    """One check of a slot on days of March 2026: by day, or on the days from the fourth on."""
    by_day = values if isinstance(values, Mapping) else dict(enumerate(values, 4))
    return [reading(f"2026-03-{day:02} {at}", shown, slot, **more) for day, shown in by_day.items()]


def found_in(
    readings: Iterable[Reading],
    kind: FindingKind | None = None,
    *,
    period: Period = MARCH,
    settings: LogSettings | None = None,
    book: TargetBook | None = None,
    ticks: TickBook | None = None,
    **more: Any,
) -> list[Finding]:
    """The findings of one kind, or all."""
    found = find_findings(
        series_of(readings),
        period,
        settings or LogSettings(can_have_lows=False),
        book or targets(),
        more.pop("happenings", ()),
        more.pop("answers", ()),
        ticks or TickBook(()),
        as_report=more.pop("as_report", True),
        **more,
    )
    return [one for one in found if kind is None or one.kind is kind]
