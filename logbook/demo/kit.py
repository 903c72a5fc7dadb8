"""Her kit: strip pots, control tests, the sharps container, what lies ready for a low. Invented."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta

from logbook.demo.events import AverageRead, Event, Kept, PrickTold
from logbook.demo.story import FIRST_DAY, LAST_VISIT, Story, record_id
from logbook.domain.glucose import Glucose, Unit
from logbook.domain.kit.control import ControlBottle, ControlTest
from logbook.domain.kit.dates import AfterOpening, PrintedDate
from logbook.domain.kit.meter_care import LabComparison, MeterEvent, MeterWhat
from logbook.domain.kit.sharps import SharpsContainer
from logbook.domain.kit.strips import ControlRange, Vial, WhyEnded
from logbook.domain.kit.supplies import ForLows, LowSupply, Supply, SupplyKind
from logbook.domain.laboratory import A1CUnit, LabA1C
from logbook.domain.plan.plans import CheckPlan, PlannedCheck
from logbook.domain.slots import Slot
from logbook.domain.ticks import About, Tick, Told
from logbook.wording import _

# Days before today on which a pot of the bedside meter was opened, and what its control showed.
_POTS = ((FIRST_DAY, 112), (116, 108), (83, 115), (48, 104), (17, 111))
_STRIPS = 50
_LEVEL = "normal"
_HANDBAG_POT, _HANDBAG_STRIPS = 62, 50
_BOUGHT = 20
# Days before today, the depth in tenths, enough blood or not, pain or not.
_PRICKS = (
    (46, 20, False, False),
    (45, 30, True, False),
    (12, 35, True, True),
    (9, 30, True, False),
)


def kit_events(story: Story) -> Iterator[Event]:
    """Everything about the kit, in no particular order."""
    yield from _pots_and_tests(story)
    yield _things_of_the_first_day(story)
    yield _at_the_visit(story)
    yield _handbag_pot(story)
    yield _stock(story)
    yield from _pricks_told(story)
    bedside = story.meters()[0]
    yield AverageRead(story.moment(2, 8, 40), record_id("meter average"), bedside.id, 14)


def _pots_and_tests(story: Story) -> Iterator[Event]:
    bedside = story.meters()[0]
    bottles = {
        0: _bottle(story, FIRST_DAY, "first"),
        2: _bottle(story, _POTS[2][0], "second"),
    }
    before: Vial | None = None
    bottle = bottles[0]
    for number, (days_ago, shown) in enumerate(_POTS):
        opened = story.moment(days_ago, 6, 40)
        vial = Vial(
            id=record_id(f"vial {number}"),
            meter_id=bedside.id,
            count=_STRIPS,
            written_at=opened.instant,
            lot=f"IN{number + 1}",
            expires=PrintedDate.from_code(f"{story.today.year + 1}-06"),
            after_opening=AfterOpening.from_code("90d"),
            opened_at=opened.instant,
            opened_on=story.day(days_ago),
            ranges=(ControlRange(_LEVEL, Unit.MG_DL, 96, 130),),
        )
        records = [vial]
        if before is not None:
            ended = replace(before, ended_at=opened.instant, why_ended=WhyEnded.EMPTY)
            records.append(ended)
        yield Kept(opened.instant, tuple(records))
        if number in bottles:
            bottle = bottles[number]
            yield Kept(opened.instant + timedelta(minutes=1), (bottle,))
        at = story.moment(days_ago, 6, 45)
        test = ControlTest(
            record_id(f"control test {number}"),
            at,
            at.instant,
            bedside.id,
            vial.id,
            bottle.id,
            _LEVEL,
            Glucose.number(shown, Unit.MG_DL),
        )
        yield Kept(at.instant, (test,))
        before = vial


def _handbag_pot(story: Story) -> Event:
    """The small pot that goes along in the handbag, opened at its usual pace."""
    opened = story.moment(_HANDBAG_POT, 11, 30)
    vial = Vial(
        id=record_id("vial handbag"),
        meter_id=story.meters()[1].id,
        count=_HANDBAG_STRIPS,
        written_at=opened.instant,
        lot="IN9",
        expires=PrintedDate.from_code(f"{story.today.year + 1}-04"),
        after_opening=AfterOpening.from_code("90d"),
        opened_at=opened.instant,
        opened_on=story.day(_HANDBAG_POT),
    )
    return Kept(opened.instant, (vial,))


def _stock(story: Story) -> Event:
    """What came from the pharmacy, by its exact type."""
    bought = story.moment(_BOUGHT, 15, 20).instant
    bedside, handbag = story.meters()[:2]
    unopened = Vial(
        id=record_id("vial in stock"),
        meter_id=bedside.id,
        count=_STRIPS,
        written_at=bought,
        lot="IN6",
        expires=PrintedDate.from_code(f"{story.today.year + 1}-11"),
        after_opening=AfterOpening.from_code("90d"),
    )
    day = story.day(_BOUGHT)
    supplies = [
        Supply(
            record_id("supply strips"),
            SupplyKind.STRIPS,
            _("invented strips, type 4"),
            bought,
            meter_id=bedside.id,
        ),
        Supply(
            record_id("supply strips handbag"),
            SupplyKind.STRIPS,
            _("invented strips, type 2"),
            bought,
            meter_id=handbag.id,
        ),
        Supply(
            record_id("supply lancets"),
            SupplyKind.LANCETS,
            _("invented lancets, 30 gauge"),
            bought,
            count=60,
            counted_on=day,
        ),
    ]
    return Kept(bought, (unopened, *supplies))


def _pricks_told(story: Story) -> Iterator[Event]:
    """She tells of a prick only when something was wrong, and once that it went well again."""
    for number, (days_ago, depth, was_enough, did_hurt) in enumerate(_PRICKS):
        when = story.moment(days_ago, 8, 30).instant
        yield PrickTold(when, record_id(f"prick {number}"), depth, was_enough, did_hurt)


def _bottle(story: Story, days_ago: int, name: str) -> ControlBottle:
    return ControlBottle(
        record_id(f"bottle {name}"),
        _LEVEL,
        story.moment(days_ago, 6, 41).instant,
        expires=PrintedDate.from_code(f"{story.today.year + 1}-03"),
        after_opening=AfterOpening.from_code("3m"),
        opened_on=story.day(days_ago),
        ended_on=story.day(_POTS[2][0]) if name == "first" else None,
    )


def _things_of_the_first_day(story: Story) -> Event:
    start = story.moment(FIRST_DAY, 6, 35)
    day = story.day(FIRST_DAY)
    ticks = [
        Tick(record_id(f"tick {about}"), about, told, day, start.instant)
        for about, told in (
            (About.INSULIN, Told.YES),
            (About.LOW_CAUSING_TABLETS, Told.YES),
            (About.BETA_BLOCKER, Told.NO),
            (About.BLOOD_THINNER, Told.NO),
        )
    ]
    plan = CheckPlan(
        record_id("plan first"),
        day,
        (PlannedCheck(Slot.FASTING, story.moment(FIRST_DAY, 7, 15).wall.time()),),
        start.instant,
        set_by_name=_("Dr. Pennywhistle"),
    )
    return Kept(
        start.instant,
        (
            *ticks,
            plan,
            SharpsContainer(record_id("container"), day, start.instant, capacity=300),
            LowSupply(
                record_id("tablets"),
                ForLows.GLUCOSE_TABLETS,
                start.instant,
                place=_("in the blue bowl by the door"),
                expires=PrintedDate.from_code(f"{story.today.year + 1}-09"),
            ),
            LowSupply(
                record_id("glucagon"),
                ForLows.GLUCAGON,
                start.instant,
                place=_("kitchen drawer"),
                expires=PrintedDate.from_code(f"{story.today.year + 1}-02"),
                who_knows=_("Clementine (sister)"),
            ),
        ),
    )


def _at_the_visit(story: Story) -> Event:
    evening = story.moment(LAST_VISIT, 17, 10)
    day = story.day(LAST_VISIT)
    clock = story.moment(LAST_VISIT, 17, 8)
    plan = CheckPlan(
        record_id("plan after the visit"),
        day,
        (
            PlannedCheck(Slot.FASTING, story.moment(LAST_VISIT, 7, 15).wall.time()),
            PlannedCheck(Slot.BEDTIME, story.moment(LAST_VISIT, 22, 0).wall.time()),
        ),
        evening.instant,
        set_by_name=_("Dr. Pennywhistle"),
        profile_days=0,
        ill_every_hours=4,
    )
    a1c = LabA1C(record_id("a1c"), day, 74, A1CUnit.PERCENT, evening.instant)
    checked = MeterEvent(
        record_id("clock"),
        story.meters()[0].id,
        MeterWhat.CLOCK_CHECKED,
        clock,
        clock.instant,
        clock_ahead_minutes=2,
    )
    drawn = story.moment(LAST_VISIT, 8, 5)
    pair = LabComparison(
        record_id("comparison"),
        story.meters()[0].id,
        drawn,
        evening.instant,
        Glucose.number(138, Unit.MG_DL),
        Glucose.number(131, Unit.MG_DL),
        minutes_apart=8,
        was_fasting=True,
    )
    return Kept(evening.instant, (plan, a1c, checked, pair))
