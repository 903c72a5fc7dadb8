"""What of the kit needs doing, the most important first; Write down shows the first of it.

What the numbers may not be trusted for comes before what runs out, and that before what can wait.
"Later" puts a line off until the person's next day, never longer.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, datetime
from enum import StrEnum
from fractions import Fraction
from uuid import UUID

from logbook.domain.answers import Answer, Asked, Said
from logbook.domain.kit.clock_checks import ClockReason, clock_check_due
from logbook.domain.kit.control import ControlBottle
from logbook.domain.kit.control_due import (
    ControlState,
    DueReason,
    due_reasons,
    is_not_for_decisions,
    last_event,
    standing_of,
)
from logbook.domain.kit.control_results import vial_tested
from logbook.domain.kit.kit_data import KitData
from logbook.domain.kit.lancets import lancet_in_device
from logbook.domain.kit.low_supplies import low_supply_states
from logbook.domain.kit.meter_care import MeterWhat
from logbook.domain.kit.meters import own_meters
from logbook.domain.kit.refill import stock_outlooks
from logbook.domain.kit.sharps import SharpsCount, SharpsState, container_in_use, sharps_count
from logbook.domain.kit.strip_accounts import account_of
from logbook.domain.kit.strip_opening import last_vial, next_vial
from logbook.domain.kit.strip_stock import StockOutlook
from logbook.domain.kit.strips import Vial
from logbook.domain.kit.supplies import LowSupply
from logbook.domain.kit.vial_life import Life, LifeState, life_of, life_state, vial_in_use
from logbook.domain.moments import Moment
from logbook.domain.settings import LogSettings

# From so few strips left in the vial on it is said. Judgement without a source.
LAST_STRIPS = 5


class KitLineKind(StrEnum):
    """What a line says; the order here is the order of importance."""

    STOP_METER = "stop_meter"
    STOP_STRIPS = "stop_strips"
    STRIPS_OUT_OF_DATE = "strips_out_of_date"
    BOTTLE_OUT_OF_DATE = "bottle_out_of_date"
    LAST_STRIPS = "last_strips"
    NO_VIAL_OPEN = "no_vial_open"
    TEST_AGAIN = "test_again"
    CONTROL_DUE = "control_due"
    LANCET_BLUNT = "lancet_blunt"
    SHARPS_LOOK = "sharps_look"
    CLOCK_CHECK = "clock_check"
    STRIPS_END_SOON = "strips_end_soon"
    BOTTLE_ENDS_SOON = "bottle_ends_soon"
    LOW_SUPPLY_OUT_OF_DATE = "low_supply_out_of_date"
    LOW_SUPPLY_ENDS_SOON = "low_supply_ends_soon"
    REORDER = "reorder"


class KitAction(StrEnum):
    """What settles a line."""

    SHOW_WHAT_TO_DO = "show_what_to_do"
    OPEN_NEXT = "open_next"
    COUNT_AGAIN = "count_again"
    CONTROL_TEST = "control_test"
    NEW_BOTTLE = "new_bottle"
    NEW_LANCET = "new_lancet"
    CLOSE_CONTAINER = "close_container"
    CHECK_CLOCK = "check_clock"
    SHOW_FOR_LOWS = "show_for_lows"
    SHOW_REFILL = "show_refill"


_ORDER = {kind: place for place, kind in enumerate(KitLineKind)}


@dataclass(frozen=True, slots=True)
class KitLine:
    """One line: what it says, the record that "later" is about, what settles it, and the facts.

    Facts are None where they don't belong to the kind. `left` are strips in the vial.
    """

    kind: KitLineKind
    about: UUID
    action: KitAction
    meter_id: UUID | None = None
    vial: Vial | None = None
    bottle: ControlBottle | None = None
    left: int | None = None
    life: Life | None = None
    reason: DueReason | None = None
    supply: LowSupply | None = None
    sharps: SharpsCount | None = None
    clock: ClockReason | None = None
    outlook: StockOutlook | None = None
    lancet_uses: int | None = None


def kit_line(
    kit: KitData,
    settings: LogSettings,
    now: Moment,
    answers: Iterable[Answer] = (),
    *,
    punctured_at: Iterable[Moment] = (),
    plan_strips_a_day: Fraction | float | None = None,
    elsewhere_since: datetime | None = None,
) -> KitLine | None:
    """The line that matters most now and was not put off; None when nothing needs doing."""
    put_off = _put_off(answers, settings, now)
    lines = kit_lines(
        kit,
        settings,
        now,
        punctured_at=punctured_at,
        plan_strips_a_day=plan_strips_a_day,
        elsewhere_since=elsewhere_since,
    )
    return next((line for line in lines if line.about not in put_off), None)


def kit_lines(
    kit: KitData,
    settings: LogSettings,
    now: Moment,
    *,
    punctured_at: Iterable[Moment] = (),
    plan_strips_a_day: Fraction | float | None = None,
    elsewhere_since: datetime | None = None,
) -> tuple[KitLine, ...]:
    """All that needs doing, the most important first, put off or not.

    `punctured_at` are all punctures since the last change of the lancet and since the container
    was started, or more. `elsewhere_since` is since when the clock is that of another place.
    """
    today = now.day(settings.day_starts_at)
    meters: tuple[UUID | None, ...] = tuple(meter.id for meter in own_meters(kit.meters, today))
    found: list[KitLine] = []
    for meter_id in meters if kit.meters else (None,):
        found += _of_control(meter_id, kit, settings, now)
        found += _of_strips(meter_id, kit, today)
    found += _of_bottles(kit, today)
    found += _of_sharp_things(kit, settings, today, tuple(punctured_at))
    found += _of_clocks(kit, settings, now, elsewhere_since)
    found += _of_low_supplies(kit, today)
    found += _of_stock(kit, settings, now, plan_strips_a_day)
    return tuple(sorted(found, key=lambda line: _ORDER[line.kind]))


def _put_off(answers: Iterable[Answer], settings: LogSettings, now: Moment) -> set[UUID]:
    today = now.day(settings.day_starts_at)
    return {
        answer.about
        for answer in answers
        if answer.asked is Asked.KIT_LINE and answer.said is Said.LATER
        if Moment.at(answer.at, now.zone).day(settings.day_starts_at) >= today
    }


# --- each kind of thing ---------------------------------------------------------------------------


def _of_control(
    meter_id: UUID | None, kit: KitData, settings: LogSettings, now: Moment
) -> Iterator[KitLine]:
    standing = standing_of(meter_id, kit, settings)
    what_to_do = KitAction.SHOW_WHAT_TO_DO
    if is_not_for_decisions(meter_id, kit, settings):
        said = last_event(MeterWhat.NOT_FOR_DECISIONS, meter_id, kit)
        about = standing.fails[-1].id if standing.fails else None if said is None else said.id
        if about is not None:
            yield KitLine(KitLineKind.STOP_METER, about, what_to_do, meter_id)
        return
    vial = vial_in_use(meter_id, kit)
    failed = {found.id for fail in standing.fails if (found := vial_tested(fail, kit)) is not None}
    # Once another vial is open it is that one which has to be tested.
    is_failed_one = vial is None or not failed or vial.id in failed
    if standing.must_stop and is_failed_one:
        about = standing.fails[-1].id
        action = KitAction.OPEN_NEXT if vial is not None else what_to_do
        yield KitLine(KitLineKind.STOP_STRIPS, about, action, meter_id, vial)
        return
    test = KitAction.CONTROL_TEST
    if standing.state is ControlState.FAILED_ONCE and is_failed_one:
        yield KitLine(KitLineKind.TEST_AGAIN, standing.fails[-1].id, test, meter_id, vial)
        return
    reasons = due_reasons(meter_id, kit, settings, now)
    if reasons:
        newest = reasons[0]
        yield KitLine(KitLineKind.CONTROL_DUE, newest.about, test, meter_id, vial, reason=newest)


def _of_strips(meter_id: UUID | None, kit: KitData, today: date) -> Iterator[KitLine]:
    vial = vial_in_use(meter_id, kit)
    has_stock = next_vial(meter_id, kit) is not None
    if vial is None:
        last = last_vial(meter_id, kit) or next_vial(meter_id, kit)
        if last is not None:
            yield KitLine(KitLineKind.NO_VIAL_OPEN, last.id, KitAction.OPEN_NEXT, meter_id, last)
        return
    life = life_of(vial)
    state = life_state(None if life is None else life.until, today)
    account = account_of(vial, kit)
    get_more = KitAction.OPEN_NEXT if has_stock or not account.left else KitAction.SHOW_REFILL
    if state is LifeState.OUT_OF_DATE:
        kind, action = KitLineKind.STRIPS_OUT_OF_DATE, KitAction.OPEN_NEXT
    elif account.left <= LAST_STRIPS:
        kind = KitLineKind.LAST_STRIPS
        action = KitAction.COUNT_AGAIN if account.beyond else get_more
    elif state is LifeState.ENDS_SOON:
        kind, action = KitLineKind.STRIPS_END_SOON, get_more
    else:
        return
    yield KitLine(kind, vial.id, action, meter_id, vial, left=account.left, life=life)


def _of_bottles(kit: KitData, today: date) -> Iterator[KitLine]:
    for bottle in kit.bottles:
        if bottle.ended_on is not None or bottle.opened_on is None:
            continue
        life = life_of(bottle)
        kind = {
            LifeState.OUT_OF_DATE: KitLineKind.BOTTLE_OUT_OF_DATE,
            LifeState.ENDS_SOON: KitLineKind.BOTTLE_ENDS_SOON,
        }.get(life_state(None if life is None else life.until, today))
        if kind is not None:
            yield KitLine(kind, bottle.id, KitAction.NEW_BOTTLE, bottle=bottle, life=life)


def _of_sharp_things(
    kit: KitData, settings: LogSettings, today: date, punctured_at: tuple[Moment, ...]
) -> Iterator[KitLine]:
    lancet = lancet_in_device(punctured_at, kit.lancet_changes)
    if lancet.is_blunt(settings.lancet_habit):
        last = max(kit.lancet_changes, key=lambda change: change.at.instant)
        yield KitLine(
            KitLineKind.LANCET_BLUNT, last.id, KitAction.NEW_LANCET, lancet_uses=lancet.uses
        )
    container = container_in_use(kit.sharps_containers)
    if container is not None:
        count = sharps_count(container, kit.lancet_changes, punctured_at, settings, today)
        if count.state is SharpsState.LOOK:
            yield KitLine(
                KitLineKind.SHARPS_LOOK, container.id, KitAction.CLOSE_CONTAINER, sharps=count
            )


def _of_clocks(
    kit: KitData, settings: LogSettings, now: Moment, elsewhere_since: datetime | None
) -> Iterator[KitLine]:
    for meter in own_meters(kit.meters, now.day(settings.day_starts_at)):
        due = clock_check_due(meter, kit, now, elsewhere_since=elsewhere_since)
        if due is not None:
            yield KitLine(
                KitLineKind.CLOCK_CHECK, meter.id, KitAction.CHECK_CLOCK, meter.id, clock=due.why
            )


def _of_low_supplies(kit: KitData, today: date) -> Iterator[KitLine]:
    kinds = {
        LifeState.OUT_OF_DATE: KitLineKind.LOW_SUPPLY_OUT_OF_DATE,
        LifeState.ENDS_SOON: KitLineKind.LOW_SUPPLY_ENDS_SOON,
    }
    for one in low_supply_states(kit, today):
        if one.state in kinds:
            yield KitLine(
                kinds[one.state], one.supply.id, KitAction.SHOW_FOR_LOWS, supply=one.supply
            )


def _of_stock(
    kit: KitData, settings: LogSettings, now: Moment, plan_strips_a_day: Fraction | float | None
) -> Iterator[KitLine]:
    today = now.day(settings.day_starts_at)
    for outlook in stock_outlooks(kit, settings, now, plan_strips_a_day):
        # Whoever never wrote down a vial keeps no stock here.
        last = last_vial(outlook.meter_id, kit) or next_vial(outlook.meter_id, kit)
        order_on = outlook.must_wait_until or outlook.reorder_by
        if last is None or order_on is None or order_on > today:
            continue
        about = outlook.meter_id or last.id
        yield KitLine(
            KitLineKind.REORDER, about, KitAction.SHOW_REFILL, outlook.meter_id, outlook=outlook
        )
