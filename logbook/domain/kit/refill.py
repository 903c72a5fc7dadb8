"""The refill list: what to order, by its exact type, how much is there and by when it is needed.

Strips must be the very type that fits the meter, so each line carries the text of the pack.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from uuid import UUID

from logbook.domain.kit.kit_data import KitData
from logbook.domain.kit.meters import own_meters
from logbook.domain.kit.strip_stock import StockOutlook, stock_outlook
from logbook.domain.kit.supplies import Supply, SupplyKind
from logbook.domain.moments import Moment
from logbook.domain.settings import LogSettings


@dataclass(frozen=True, slots=True)
class RefillLine:
    """One line of the list.

    `count` is how many are there: strips by the account of today, the rest as counted on
    `counted_on`. `meter_id` is the meter the strips are for, None where that is not known.
    `needed_by` is the day by which to order. `supply_id` is the record the exact type stands in,
    None where no type is written down.
    """

    kind: SupplyKind
    exact_type: str
    count: int | None
    counted_on: date | None = None
    meter_id: UUID | None = None
    needed_by: date | None = None
    supply_id: UUID | None = None


@dataclass(frozen=True, slots=True)
class RefillList:
    """A list to print: whose it is, its lines, each with the name of its meter (empty for none)."""

    person: str
    lines: tuple[tuple[RefillLine, str], ...]
    made_at: Moment


def stock_outlooks(
    kit: KitData,
    settings: LogSettings,
    now: Moment,
    plan_strips_a_day: Fraction | float | None = None,
) -> tuple[StockOutlook, ...]:
    """The outlook of each own meter in use; of the one unnamed meter where none is on record.

    The plan's strips are those of all checks. With several meters nobody knows how they share
    them, so then each meter goes by its real rate alone.
    """
    meters = own_meters(kit.meters, now.day(settings.day_starts_at))
    ids: tuple[UUID | None, ...] = tuple(meter.id for meter in meters)
    if not kit.meters:
        ids = (None,)
    plan = plan_strips_a_day if len(ids) == 1 else None
    return tuple(stock_outlook(meter_id, kit, settings, now, plan) for meter_id in ids)


def refill_list(
    kit: KitData,
    settings: LogSettings,
    now: Moment,
    plan_strips_a_day: Fraction | float | None = None,
) -> tuple[RefillLine, ...]:
    """All that is kept in stock: strips first, a line for each meter, then the other supplies.

    A meter's line carries the exact type of the strips that are on the list for it. With one meter
    and one kind of strips that kind is meant; with several, strips of which nobody said the meter
    stand on lines of their own.
    """
    today = now.day(settings.day_starts_at)
    kept = [supply for supply in kit.supplies if supply.ended_on is None]
    strips = [supply for supply in kept if supply.kind is SupplyKind.STRIPS]
    outlooks = stock_outlooks(kit, settings, now, plan_strips_a_day)
    of_meter: dict[UUID | None, Supply] = {
        one.meter_id: one for one in strips if one.meter_id is not None
    }
    if len(strips) == 1 and len(outlooks) == 1:
        of_meter.setdefault(outlooks[0].meter_id, strips[0])
    named = [of_meter.get(outlook.meter_id) for outlook in outlooks]
    lines = [
        RefillLine(
            SupplyKind.STRIPS,
            "" if supply is None else supply.exact_type,
            outlook.strips,
            today,
            outlook.meter_id,
            outlook.must_wait_until or outlook.reorder_by,
            None if supply is None else supply.id,
        )
        for outlook, supply in zip(outlooks, named, strict=True)
    ]
    lines += [
        RefillLine(
            supply.kind,
            supply.exact_type,
            supply.count,
            supply.counted_on,
            supply.meter_id,
            supply_id=supply.id,
        )
        for supply in kept
        if supply not in named
    ]
    return tuple(lines)
