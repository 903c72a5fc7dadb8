"""What the cards of *Kit* say: how each thing stands, its next date, and where its buttons lead.

Every state and date is the domain's (`domain.kit`), every sentence is of `wording`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime
from fractions import Fraction
from uuid import UUID

from logbook.domain.kit.clock_checks import clock_check_due
from logbook.domain.kit.comparison import compared
from logbook.domain.kit.control_due import (
    ControlState,
    FirstFailCheck,
    due_reasons,
    is_not_for_decisions,
    standing_of,
)
from logbook.domain.kit.kit_data import KitData
from logbook.domain.kit.kit_line import KitAction
from logbook.domain.kit.lancets import LancetHabit, LancetInDevice
from logbook.domain.kit.low_supplies import lacks_glucagon, low_supply_states
from logbook.domain.kit.meter_care import MeterWhat
from logbook.domain.kit.meters import Meter, own_meters
from logbook.domain.kit.refill import stock_outlooks
from logbook.domain.kit.sharps import SharpsContainer, container_in_use, sharps_count
from logbook.domain.kit.strip_accounts import account_of
from logbook.domain.kit.vial_life import life_of, stock_vials, vial_in_use
from logbook.domain.moments import Moment
from logbook.domain.plan.strips import plan_strips_a_day
from logbook.domain.settings import LogSettings
from logbook.domain.travel import meter_clock_since
from logbook.ui.desk import Desk
from logbook.ui.entry.kit_notice import punctures_counted
from logbook.ui.entry.travel_notice import last_zone_change
from logbook.ui.pages.fingers_subject import lancet_now
from logbook.ui.pages.fingers_words import lancet_sentences
from logbook.wording import _
from logbook.wording.kit import (
    lancet_never_shared,
    lancet_reuse,
    left_text,
    low_supply_text,
    reserve_text,
    sharps_labels,
    sharps_text,
    stock_text,
    strips_rubbish,
    unopened_text,
    use_until_text,
)
from logbook.wording.kit_control import (
    clock_check_text,
    clock_checked_text,
    comparison_text,
    due_text,
    meter_event_text,
    next_step_text,
    no_control_solution,
    standing_text,
    stop_meter,
)
from logbook.wording.kit_terms import first_fail_check_text, kit_action_text

# Places that are no view of this page: an action done at once, and another page.
CLOSE_CONTAINER = "do:close_container"
HAND_IN = "do:hand_in"
HAVE_CONTROL = "do:have_control"
ELSEWHERE = "go:"


@dataclass(frozen=True, slots=True)
class CardButton:
    """Its words, where it leads, and the meter it is about."""

    words: str
    place: str
    meter_id: UUID | None = None


@dataclass(frozen=True, slots=True)
class CardNews:
    """One card."""

    heading: str
    texts: tuple[str, ...]
    buttons: tuple[CardButton, ...] = ()


@dataclass(frozen=True, slots=True)
class KitNow:
    """All that the cards are told from."""

    kit: KitData
    settings: LogSettings
    now: Moment
    today: date
    lancet: LancetInDevice
    lacks_glucagon: bool
    punctured_at: tuple[Moment, ...]
    plan_strips: Fraction | None
    elsewhere_since: datetime | None = None

    @property
    def own(self) -> tuple[Meter, ...]:
        """The person's meters that are in use."""
        return own_meters(self.kit.meters, self.today)


def kit_now(desk: Desk) -> KitNow:
    """Read the Book."""
    book, now, today = desk.book, desk.now(), desk.today()
    kit = book.kit()
    return KitNow(
        kit,
        book.settings,
        now,
        today,
        lancet_now(desk, now),
        lacks_glucagon(kit, book.ticks(), today),
        tuple(punctures_counted(desk, kit)),
        plan_strips_a_day(book.plans(), today),
        meter_clock_since(last_zone_change(desk, now), now),
    )


def kit_cards(facts: KitNow) -> Iterator[CardNews]:
    """All cards in their order: those of each meter first."""
    ids: list[UUID | None] = [meter.id for meter in facts.own]
    for meter_id in ids or [None]:
        yield _strips(facts, meter_id)
        yield _control(facts, meter_id)
    yield from (_meter(facts, meter) for meter in facts.own)
    if not facts.own:
        yield _no_meter()
    yield _lancets(facts)
    yield _sharps(facts)
    yield _for_lows(facts)
    yield _stock(facts)


def _named(heading: str, facts: KitNow, meter_id: UUID | None) -> str:
    """The heading, with the meter's name where there are several."""
    name = meter_name(facts.kit, meter_id)
    if len(facts.own) < 2 or not name:
        return heading
    return _("{what}: {meter}").format(what=heading, meter=name)


def meter_name(kit: KitData, meter_id: UUID | None) -> str:
    """What the person calls a meter; empty for none."""
    return next((meter.name for meter in kit.meters if meter.id == meter_id), "")


def _texts(*texts: str) -> tuple[str, ...]:
    return tuple(text for text in texts if text)


def _strips(facts: KitNow, meter_id: UUID | None) -> CardNews:
    heading = _named(_("Strips"), facts, meter_id)
    vial = vial_in_use(meter_id, facts.kit)
    if vial is None:
        return CardNews(
            heading,
            (_("No strip pot (vial) is written down as open."),),
            (CardButton(_("Write down the open pot"), "vial", meter_id),),
        )
    return CardNews(
        heading,
        (left_text(account_of(vial, facts.kit)), use_until_text(life_of(vial), facts.today)),
        (
            CardButton(kit_action_text(KitAction.OPEN_NEXT), "next_vial", meter_id),
            CardButton(kit_action_text(KitAction.COUNT_AGAIN), "count", meter_id),
        ),
    )


def _control(facts: KitNow, meter_id: UUID | None) -> CardNews:
    heading = _named(_("Control solution"), facts, meter_id)
    kit, settings = facts.kit, facts.settings
    if not settings.has_control_solution:
        button = CardButton(_("I have control solution now"), HAVE_CONTROL)
        return CardNews(heading, (no_control_solution(),), (button,))
    standing = standing_of(meter_id, kit, settings)
    reasons = due_reasons(meter_id, kit, settings, facts.now)
    bottles = [bottle for bottle in kit.bottles if bottle.ended_on is None]
    checks = FirstFailCheck if standing.state is ControlState.FAILED_ONCE else ()
    texts = _texts(
        standing_text(standing, facts.now, settings.day_starts_at),
        due_text(reasons) if reasons else "",
        next_step_text(standing),
        *(first_fail_check_text(check) for check in checks),
        *(
            _("Bottle, level {level}: {until}").format(
                level=bottle.level, until=use_until_text(life_of(bottle), facts.today)
            )
            for bottle in bottles
        ),
        "" if bottles else _("No bottle is written down as open."),
    )
    buttons = [CardButton(_("New bottle"), "bottle", meter_id)]
    if bottles:
        buttons.insert(0, CardButton(_("Control test"), "test", meter_id))
    ids = {None, meter_id}
    if any(test.counts and test.meter_id in ids for test in kit.control_tests):
        buttons.append(CardButton(_("Results"), "results", meter_id))
    elif not kit.control_tests:
        buttons.append(CardButton(_("I have no control solution"), HAVE_CONTROL))
    return CardNews(heading, texts, tuple(buttons))


def _meter(facts: KitNow, meter: Meter) -> CardNews:
    kit, now = facts.kit, facts.now
    events = [one for one in kit.meter_events if one.counts and one.meter_id == meter.id]
    checks = [one for one in events if one.what is MeterWhat.CLOCK_CHECKED]
    others = [one for one in events if one.what is not MeterWhat.CLOCK_CHECKED]
    pairs = [one for one in kit.lab_comparisons if one.counts and one.meter_id == meter.id]
    due = clock_check_due(meter, kit, now, elsewhere_since=facts.elsewhere_since)
    if due is not None:
        clock = clock_check_text(due.why)
    elif checks:
        clock = clock_checked_text(checks[-1], now, facts.settings.day_starts_at)
    else:
        clock = _("Its clock was not checked yet.")
    is_out = is_not_for_decisions(meter.id, kit, facts.settings)
    return CardNews(
        _("Meter: {name}").format(name=meter.name),
        _texts(
            stop_meter() if is_out else "",
            clock,
            meter_event_text(others[-1], now, facts.settings.day_starts_at) if others else "",
            comparison_text(compared(pairs[-1]), pairs[-1].laboratory.unit) if pairs else "",
        ),
        (
            CardButton(_("Write down what happened"), "meter", meter.id),
            CardButton(_("My meters"), "meters", meter.id),
        ),
    )


def _no_meter() -> CardNews:
    return CardNews(
        _("Meter"),
        (_("Dropped, a new battery, its clock: here you write it down."),),
        (
            CardButton(_("Write down what happened"), "meter"),
            CardButton(_("My meters"), "meters"),
        ),
    )


def _lancets(facts: KitNow) -> CardNews:
    habit = facts.settings.lancet_habit
    buttons = [CardButton(_("How the last prick went"), f"{ELSEWHERE}fingers/puncture")]
    if habit is LancetHabit.REUSE:
        button = CardButton(kit_action_text(KitAction.NEW_LANCET), f"{ELSEWHERE}fingers/lancet")
        buttons.insert(0, button)
    told = lancet_sentences(facts.lancet, habit, facts.now, facts.settings.day_starts_at)
    return CardNews(
        _("Lancets"),
        _texts(
            " ".join(told),
            lancet_reuse() if habit is LancetHabit.REUSE else "",
            lancet_never_shared(),
        ),
        tuple(buttons),
    )


def _sharps(facts: KitNow) -> CardNews:
    kit = facts.kit
    container = container_in_use(kit.sharps_containers)
    if container is None:
        texts = [_("None is in use."), sharps_labels()[-1]]
        buttons = [CardButton(_("Start a container"), "container")]
    else:
        count = sharps_count(
            container, kit.lancet_changes, facts.punctured_at, facts.settings, facts.today
        )
        texts = [sharps_text(count, facts.today), sharps_labels()[-1]]
        buttons = [CardButton(_("I closed it"), CLOSE_CONTAINER)]
    if closed_container(kit) is not None:
        texts.append(_("A closed one waits to be handed in."))
        buttons.append(CardButton(_("I handed it in"), HAND_IN))
    return CardNews(_("Sharps container"), tuple(texts), tuple(buttons))


def closed_container(kit: KitData) -> SharpsContainer | None:
    """The one that was closed last and waits to be handed in."""
    closed = [
        one
        for one in kit.sharps_containers
        if one.closed_on is not None and one.handed_in_on is None
    ]
    return closed[-1] if closed else None


def _for_lows(facts: KitNow) -> CardNews:
    texts = [low_supply_text(one, facts.today) for one in low_supply_states(facts.kit, facts.today)]
    texts = texts or [_("Nothing is written down yet: tablets, glucagon, ketone strips.")]
    if facts.lacks_glucagon:
        texts.append(_("No glucagon is written down. Ask your provider whether to have it."))
    return CardNews(_("For lows"), tuple(texts), (CardButton(_("Add or change"), "low_supplies"),))


def _stock(facts: KitNow) -> CardNews:
    kit, texts = facts.kit, []
    for outlook in stock_outlooks(kit, facts.settings, facts.now, facts.plan_strips):
        if len(facts.own) > 1:
            texts.append(_("For {meter}:").format(meter=meter_name(kit, outlook.meter_id)))
        texts.append(unopened_text(stock_vials(outlook.meter_id, kit)))
        texts.append(stock_text(outlook, facts.today))
    if facts.settings.strip_reserve:
        texts.append(reserve_text(facts.settings.strip_reserve))
    return CardNews(
        _("Stock"),
        _texts(*texts, strips_rubbish()),
        (
            CardButton(_("Add an unopened pot"), "stock_vial"),
            CardButton(kit_action_text(KitAction.SHOW_REFILL), "refill"),
        ),
    )
