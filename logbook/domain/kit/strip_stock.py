"""How long the strips last: a simulation day by day, the first-expiring first.

At the larger of what the plan asks for and what was really used in the last 28 days, failed strips
and control tests included.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction
from uuid import UUID

from logbook.domain.kit.dates import AfterOpening
from logbook.domain.kit.kit_data import KitData
from logbook.domain.kit.strip_accounts import account_of, uses_of_meter
from logbook.domain.kit.vial_life import life_of, printed_last_day, stock_vials, vials_of
from logbook.domain.moments import Moment
from logbook.domain.settings import LogSettings

# The real rate looks back so far; of a younger log it takes its days, a week at least.
RATE_DAYS = 28
LEAST_RATE_DAYS = 7

_DAY = timedelta(days=1)
# Nothing is simulated further ahead than this.
_HORIZON_DAYS = 3660


@dataclass(frozen=True, slots=True)
class StockOutlook:
    """How long the strips of one meter last.

    `rate` is strips a day. `strips` are all that are there and in date. `run_out` is the first day
    on which there are too few for the day, `reserve_from` the first on which the reserve for sick
    days would be touched; both None while no rate is known, or further than ten years off.
    `reorder_by` leaves the days of delivery before `reserve_from`; `must_wait_until` is the
    earliest refill where that is later still. `expiring` are vials and how many of their strips
    will pass their last day unused.
    """

    meter_id: UUID | None
    rate: Fraction
    strips: int
    run_out: date | None = None
    reserve_from: date | None = None
    reorder_by: date | None = None
    must_wait_until: date | None = None
    expiring: tuple[tuple[UUID, int], ...] = ()

    @property
    def expiring_strips(self) -> int:
        """How many strips will pass their last day unused."""
        return sum(count for _vial_id, count in self.expiring)


@dataclass(slots=True)
class _Pack:
    """Strips of one vial while the days go by."""

    vial_id: UUID
    left: int
    last_day: date
    after_opening: AfterOpening | None
    is_open: bool

    def open(self, day: date) -> None:
        if not self.is_open and self.after_opening is not None:
            self.last_day = min(self.last_day, self.after_opening.end(day))
        self.is_open = True


def strips_a_day(
    meter_id: UUID | None, kit: KitData, now: Moment, plan: Fraction | float | None = None
) -> Fraction:
    """Strips a day of one meter: the larger of `plan` and the real rate of the last 28 days."""
    since = now.instant - timedelta(days=RATE_DAYS)
    uses = [u.at for u in uses_of_meter(meter_id, kit) if since < u.at <= now.instant]
    real = Fraction(0)
    if uses:
        first = min(u.at for u in uses_of_meter(meter_id, kit))
        age = math.ceil((now.instant - first) / _DAY)
        real = Fraction(len(uses), min(RATE_DAYS, max(LEAST_RATE_DAYS, age)))
    # A plan's rate is a fraction of small numbers ("three every other day"), whatever its type.
    planned = Fraction(0) if plan is None else Fraction(plan).limit_denominator(1000)
    return max(real, planned)


def stock_outlook(
    meter_id: UUID | None,
    kit: KitData,
    settings: LogSettings,
    now: Moment,
    plan_strips_a_day: Fraction | float | None = None,
) -> StockOutlook:
    """How long the strips of a meter last, from today on, as if today's were still to come."""
    today = now.day(settings.day_starts_at)
    rate = strips_a_day(meter_id, kit, now, plan_strips_a_day)
    packs = _packs(meter_id, kit)
    strips = _usable(packs, today)
    if rate <= 0:
        return StockOutlook(meter_id, rate, strips)
    run_out, reserve_from, expiring = _simulate(packs, rate, today, settings.strip_reserve)
    reorder_by = must_wait = None
    if reserve_from is not None:
        reorder_by = max(today, reserve_from - timedelta(days=settings.delivery_days))
        if settings.earliest_refill is not None and settings.earliest_refill > reorder_by:
            must_wait = settings.earliest_refill
    return StockOutlook(
        meter_id, rate, strips, run_out, reserve_from, reorder_by, must_wait, expiring
    )


def _packs(meter_id: UUID | None, kit: KitData) -> list[_Pack]:
    """The vials in use, then the stock in the order of printed dates."""
    in_use = [v for v in vials_of(meter_id, kit.vials, kit.meters) if v.is_in_use]
    packs = []
    for vial in in_use:
        life = life_of(vial)
        last_day = date.max if life is None else life.until
        packs.append(_Pack(vial.id, account_of(vial, kit).left, last_day, None, is_open=True))
    packs.sort(key=lambda pack: pack.last_day)
    for vial in stock_vials(meter_id, kit):
        left = account_of(vial, kit).left
        last_day = printed_last_day(vial)
        packs.append(_Pack(vial.id, left, last_day, vial.after_opening, is_open=False))
    return packs


def _simulate(
    packs: list[_Pack], rate: Fraction, today: date, reserve: int
) -> tuple[date | None, date | None, tuple[tuple[UUID, int], ...]]:
    """The day the strips run out, the day the reserve is touched, and what expires unused."""
    # What is out of date already is not stock.
    packs = [pack for pack in packs if pack.last_day >= today]
    expired: list[tuple[UUID, int]] = []
    reserve_from = None
    for number in range(_HORIZON_DAYS):
        day = today + number * _DAY
        expired += [(p.vial_id, p.left) for p in packs if p.left and p.last_day < day]
        packs = [pack for pack in packs if pack.left and pack.last_day >= day]
        # Whole strips: of 1.5 a day it is one on a day and two on the next.
        needed = math.floor(rate * (number + 1)) - math.floor(rate * number)
        usable = _usable(packs, day)
        if reserve_from is None and usable - needed < reserve:
            reserve_from = day
        if usable < needed:
            return day, reserve_from, tuple(expired)
        _use(packs, needed, day)
    return None, reserve_from, tuple(expired)


def _use(packs: list[_Pack], needed: int, day: date) -> None:
    for pack in packs:
        taken = min(needed, pack.left)
        if taken:
            pack.open(day)
            pack.left -= taken
            needed -= taken


def _usable(packs: list[_Pack], day: date) -> int:
    return sum(pack.left for pack in packs if pack.last_day >= day)
