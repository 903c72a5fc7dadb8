"""A visit with a kit, a plan and a laboratory beside the readings. All of it is invented.

One pot of strips is used past its last day, and two control tests fail after a pass, so that some
readings are in question for either reason.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, time, timedelta

from logbook.domain.glucose import Glucose, Unit
from logbook.domain.kit.control import ControlTest
from logbook.domain.kit.dates import AfterOpening, PrintedDate
from logbook.domain.kit.kit_data import KitData
from logbook.domain.kit.meter_care import LabComparison, MeterAverage, MeterEvent, MeterWhat
from logbook.domain.kit.strips import ControlRange, StripUse, Vial, WhyEnded
from logbook.domain.kit.supplies import ForLows, LowSupply
from logbook.domain.laboratory import A1CUnit, LabA1C
from logbook.domain.medicine_notes import MedicineNote, NotAsPlanned
from logbook.domain.moments import Period
from logbook.domain.plan.plans import CheckPlan, PlannedCheck
from logbook.domain.readings import Reading
from logbook.domain.slots import Slot
from logbook.domain.ticks import About, Tick, TickBook, Told
from logbook.domain.visit_data import VisitData
from tests.report.invented import (
    LAST_DAY,
    at,
    invented_id,
    invented_readings,
    invented_visit,
    series_of,
)

BEDSIDE = invented_id("b")
RANGE = ControlRange("1", Unit.MG_DL, 104, 141)

# Days before the last one on which the kit changed.
LATE_FROM, NEXT_OPENED, PASSED, FAILED, FAILED_AGAIN = 34, 30, 12, 9, 8


def days_ago(count: int) -> date:
    return LAST_DAY - timedelta(days=count)


def instant(days: int, hours: float = 6.0) -> datetime:
    return at(days_ago(days), hours).instant


def vial(name: str, opened: int, ended: int | None, until: date, why: WhyEnded | None) -> Vial:
    return Vial(
        invented_id(("vial", name)),
        BEDSIDE,
        50,
        instant(opened),
        lot=f"INV-{name}",
        expires=PrintedDate(until),
        after_opening=AfterOpening(90, in_months=False),
        opened_at=instant(opened),
        opened_on=days_ago(opened),
        ended_at=None if ended is None else instant(ended),
        why_ended=why,
        ranges=(RANGE,),
    )


def control_test(days: int, value: int) -> ControlTest:
    moment = at(days_ago(days), 8.0)
    return ControlTest(
        invented_id(("test", days)),
        moment,
        moment.instant,
        BEDSIDE,
        None,
        None,
        "1",
        Glucose.number(value, Unit.MG_DL),
    )


def kit_of(readings: list[Reading]) -> KitData:
    data = invented_visit()
    return KitData(
        meters=data.meters,
        vials=(
            vial("one", 60, NEXT_OPENED, days_ago(LATE_FROM), WhyEnded.OUT_OF_DATE),
            vial("two", NEXT_OPENED, None, days_ago(-200), None),
        ),
        strip_uses=tuple(StripUse(one.at.instant, one.meter_id) for one in readings),
        control_tests=(
            control_test(55, 120),
            control_test(PASSED, 118),
            control_test(FAILED, 171),
            control_test(FAILED_AGAIN, 168),
        ),
        meter_events=(
            event(MeterWhat.DROPPED, 13),
            event(MeterWhat.BATTERY_CHANGED, 40),
            event(MeterWhat.CLOCK_CHECKED, 22, clock_ahead_minutes=4),
        ),
        lab_comparisons=(
            LabComparison(
                invented_id("lab"),
                BEDSIDE,
                at(days_ago(50), 8.5),
                instant(50, 9),
                Glucose.number(139, Unit.MG_DL),
                Glucose.number(128, Unit.MG_DL),
                minutes_apart=5,
                was_fasting=True,
            ),
        ),
        lancet_changes=data.lancet_changes,
        low_supplies=(
            LowSupply(
                invented_id("tablets"), ForLows.GLUCOSE_TABLETS, instant(80), place="kitchen"
            ),
        ),
    )


def event(what: MeterWhat, days: int, clock_ahead_minutes: int | None = None) -> MeterEvent:
    moment = at(days_ago(days), 9.0)
    return MeterEvent(
        invented_id((what, days)), BEDSIDE, what, moment, moment.instant, clock_ahead_minutes
    )


def in_bedside(reading: Reading) -> Reading:
    return replace(reading, meter_id=BEDSIDE)


def kit_visit() -> VisitData:
    """The ordinary visit with everything above, and readings for 150 days."""
    data = invented_visit()
    period = data.period
    early = invented_readings(Period(period.first - timedelta(days=90), period.first), seed=5)
    readings = [in_bedside(one) for one in invented_readings(period)]
    earlier = [in_bedside(one) for one in early if one.at.day() < period.first]
    plan = CheckPlan(
        invented_id("plan"),
        period.first - timedelta(days=30),
        (
            PlannedCheck(Slot.FASTING, time(7)),
            PlannedCheck(Slot.BEFORE_DINNER, time(18), weekdays=(0, 3)),
        ),
        data.made_at.instant,
        set_by_name="Dr. Invented",
    )
    return replace(
        data,
        series=series_of(readings),
        before=series_of([one for one in earlier if one.at.day() in period.before]),
        reach=series_of([*earlier, *readings]),
        reach_happenings=data.happenings,
        noted=(),
        kit=kit_of(readings),
        kit_readings=tuple(readings),
        plans=(plan,),
        a1cs=(a1c(10, 72), a1c(190, 76)),
        meter_averages=(
            MeterAverage(
                invented_id("average"),
                BEDSIDE,
                at(LAST_DAY, 19.0),
                data.made_at.instant,
                14,
                Glucose.number(140, Unit.MG_DL),
                60,
            ),
        ),
        ticks=TickBook(
            [
                tick(About.INSULIN, Told.YES),
                tick(About.BETA_BLOCKER, Told.NOT_SURE),
            ]
        ),
        medicine_notes=(
            MedicineNote(
                invented_id("late"),
                NotAsPlanned.LATE,
                at(days_ago(5), 22.5),
                instant(5, 22.6),
                "evening dose two hours late",
            ),
        ),
    )


def a1c(days: int, tenths: int) -> LabA1C:
    return LabA1C(
        invented_id(("a1c", days)), days_ago(days), tenths, A1CUnit.PERCENT, instant(days)
    )


def tick(about: About, told: Told) -> Tick:
    return Tick(invented_id(about), about, told, days_ago(400), instant(400))
