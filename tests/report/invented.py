"""Invented logs for printing: whole `VisitData` from a seed, without store or Book.

Everything in them is made up. `invented_visit` is the ordinary one; tests change what they need.
"""

from __future__ import annotations

import random
from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta
from uuid import UUID, uuid5

from logbook.domain.answers import Answer, Asked, Said
from logbook.domain.glucose import Glucose, Unit
from logbook.domain.happenings import Happening, What
from logbook.domain.kit.lancets import LancetChange
from logbook.domain.kit.meters import Meter
from logbook.domain.moments import EPOCH, Moment, Period
from logbook.domain.readings import CrossedOut, Doubt, Reading, Source
from logbook.domain.series import Mark, Series
from logbook.domain.settings import LogSettings
from logbook.domain.sites import SiteUse
from logbook.domain.slots import Purpose, Slot
from logbook.domain.spells import Spell, SpellKind
from logbook.domain.targets import (
    Limit,
    Limits,
    Operator,
    SetBy,
    Target,
    TargetBook,
    TargetKind,
)
from logbook.domain.visit_data import VisitData
from logbook.domain.visits import Appointment, Medicine, Question
from tests.domain.series_of import series_of as plain_series_of

SPACE = UUID("6f7a3b58-6a55-4f1c-9d5e-0d6f5f1f1f1f")
LAST_DAY = date(2026, 3, 31)

# Usual hour and middle value of each time of day, in mg/dL.
USUAL = {
    Slot.FASTING: (7.1, 128),
    Slot.AFTER_BREAKFAST: (9.4, 168),
    Slot.BEFORE_LUNCH: (12.2, 121),
    Slot.AFTER_LUNCH: (14.5, 160),
    Slot.BEFORE_DINNER: (18.0, 134),
    Slot.AFTER_DINNER: (20.3, 172),
    Slot.BEDTIME: (22.4, 150),
    Slot.NIGHT: (26.5, 118),
    Slot.BEFORE_SNACK: (16.0, 130),
    Slot.BETWEEN_MEALS: (11.0, 140),
}
FOUR_A_DAY = (Slot.FASTING, Slot.BEFORE_LUNCH, Slot.BEFORE_DINNER, Slot.BEDTIME)
SEVEN_A_DAY = (
    Slot.FASTING,
    Slot.AFTER_BREAKFAST,
    Slot.BEFORE_LUNCH,
    Slot.AFTER_LUNCH,
    Slot.BEFORE_DINNER,
    Slot.AFTER_DINNER,
    Slot.BEDTIME,
)


def invented_id(name: object) -> UUID:
    return uuid5(SPACE, str(name))


def at(day: date, hours: float, zone: str = "UTC") -> Moment:
    wall = datetime.combine(day, time(0)) + timedelta(minutes=round(hours * 60))
    return Moment.from_wall(wall, zone)


def reading(day: date, hours: float, value: int | str, slot: Slot, **changes: object) -> Reading:
    moment = at(day, hours)
    if value == "LO":
        glucose = Glucose.reads_low(Unit.MG_DL)
    elif value == "HI":
        glucose = Glucose.reads_high(Unit.MG_DL)
    else:
        glucose = Glucose.number(int(value), Unit.MG_DL)
    made = Reading(
        invented_id((day, hours, value)),
        glucose,
        moment,
        moment.instant + timedelta(minutes=2),
        slot,
        site_use=SiteUse.NOT_NOTED,
    )
    return replace(made, **changes)  # type: ignore[arg-type]


def series_of(readings: Iterable[Reading]) -> Series:
    """The columns of whole readings, with the marks that paper shows and figures do not need."""
    ordered = sorted(readings, key=lambda r: r.at.instant)
    series = plain_series_of(ordered)
    more = (Mark.CORRECTED * bool(r.earlier) | Mark.HAS_NOTE * bool(r.note) for r in ordered)
    marks = tuple(int(a | b) for a, b in zip(series.marks, more, strict=True))
    return replace(series, marks=marks)


def target(
    kind: TargetKind, lower: int, upper: int, day: date, name: str = "Dr. Invented"
) -> Target:
    limits = Limits(Unit.MG_DL, Limit(Operator.AT_LEAST, lower), Limit(Operator.AT_MOST, upper))
    return Target(invented_id((kind, day)), kind, (limits,), day, SetBy.PROVIDER, set_by_name=name)


def invented_readings(
    period: Period, slots: Sequence[Slot] = FOUR_A_DAY, seed: int = 1, skip: float = 0.08
) -> list[Reading]:
    """Readings of an ordinary person: gaps, odd hours, lows with rechecks, late entries."""
    chance = random.Random(seed)
    found: list[Reading] = []
    for day in period:
        for slot in slots:
            if chance.random() < skip:
                continue
            hour, middle = USUAL[slot]
            hours = hour + chance.gauss(0, 0.45)
            value = max(38, round(chance.gauss(middle, 32)))
            late = chance.random() < 0.03
            one = reading(day, hours, value, slot)
            if late:
                one = replace(one, written_at=one.at.instant + timedelta(days=1))
            found.append(one)
            if value < 70:
                again = reading(
                    day,
                    hours + 0.28,
                    value + 38,
                    slot,
                    purpose=Purpose.RECHECK,
                    recheck_of=one.id,
                )
                found.append(again)
    return found


def with_oddities(readings: list[Reading]) -> list[Reading]:
    """One of every sign among the last days' readings."""
    out = list(readings)
    when = datetime(2026, 3, 31, 20, tzinfo=UTC)

    def change(back: int, **changes: object) -> None:
        out[-back] = replace(out[-back], **changes)  # type: ignore[arg-type]

    change(5, crossed_out=CrossedOut(when, "typed twice"))
    change(9, doubt=Doubt.UNWASHED_FINGER, note="Peeled an orange before, tested again after.")
    was = out[-13]
    out[-13] = was.corrected(Glucose.number(181, Unit.MG_DL), was.at, was.slot, when, "slip")
    change(17, is_foreign=True, note="At the clinic.")
    change(21, glucose=Glucose.reads_high(Unit.MG_DL))
    change(25, glucose=Glucose.reads_low(Unit.MG_DL))
    change(29, source=Source.COPIED_FROM_METER)
    return out


def visit_data(
    readings: Iterable[Reading], period: Period, settings: LogSettings | None = None
) -> VisitData:
    """A visit with nothing but readings."""
    settings = settings or LogSettings(unit=Unit.MG_DL, home_zone="UTC")
    readings = list(readings)
    inside = [r for r in readings if r.at.day(settings.day_starts_at) in period]
    return VisitData(
        period=period,
        settings=settings,
        series=series_of(inside),
        before=series_of(()),
        noted=tuple(r for r in inside if r.note or r.earlier or r.crossed_out or r.doubt),
        happenings=(),
        answers=(),
        targets=TargetBook(()),
        meters=(),
        lancet_changes=(),
        spells=(),
        medicines=(),
        questions=(),
        last_appointment=None,
        next_appointment=None,
        sites=(),
        made_at=at(period.last, 20.0),
        reach=series_of(inside),
    )


def invented_visit(
    days: int = 90, slots: Sequence[Slot] = FOUR_A_DAY, seed: int = 1, last: date = LAST_DAY
) -> VisitData:
    """A full visit: readings with every sign, targets, medicines, questions, spells, meters."""
    period = Period.ending(last, days)
    settings = LogSettings(
        unit=Unit.MG_DL,
        home_zone="UTC",
        person_name="Margaret Invented (demonstration)",
        born="1948",
        low_plan="Two glucose tablets, sit down, check again after 15 minutes.",
        high_plan="Wash hands and test again. Drink water. Phone if it stays above 300.",
        sick_day_plan="Check every 4 hours. Small sips. Phone the practice on the first day.",
    )
    readings = with_oddities(invented_readings(period, slots, seed))
    data = visit_data(readings, period, settings)
    change = last - timedelta(days=40)
    early = period.first - timedelta(days=200)
    low = next(r for r in readings if r.glucose.order_steps < 70 and r.counts)
    happenings = (
        Happening(
            invented_id("h1"),
            What.FELT_LOW_TREATED,
            at(last - timedelta(days=3), 15.3),
            at(last - timedelta(days=3), 15.5).instant,
        ),
        Happening(
            invented_id("h2"),
            What.NEEDED_HELP,
            at(last - timedelta(days=33), 3.2),
            at(last - timedelta(days=33), 8.0).instant,
        ),
    )
    return replace(
        data,
        targets=TargetBook(
            [
                target(TargetKind.FASTING, 80, 130, early),
                target(TargetKind.BEFORE_MEALS, 80, 130, early),
                target(TargetKind.BEDTIME, 100, 180, early),
                target(TargetKind.FASTING, 90, 150, change),
                target(TargetKind.BEFORE_MEALS, 90, 150, change),
                target(TargetKind.AFTER_MEALS, 100, 180, early),
            ]
        ),
        medicines=(
            Medicine(invented_id("m1"), "Metformin 500 mg, one with breakfast and dinner", early),
            Medicine(invented_id("m2"), "Long-acting insulin, 14 units at bedtime", early),
            Medicine(invented_id("m3"), "Blood pressure tablet, one in the morning", change),
        ),
        questions=(
            Question(invented_id("q1"), "Why is it higher after my oatmeal?", data.made_at.instant),
            Question(
                invented_id("q2"),
                "May I walk before breakfast when I am at 90?",
                data.made_at.instant,
            ),
            Question(
                invented_id("q3"), "My fingertips are sore. Other places?", data.made_at.instant
            ),
            Question(invented_id("q4"), "Do I need glucagon at home?", data.made_at.instant),
        ),
        spells=(
            Spell(
                invented_id("s1"),
                SpellKind.STEROID,
                last - timedelta(days=20),
                last - timedelta(days=14),
                "for the shoulder",
            ),
        ),
        meters=(
            Meter.usual(invented_id("b"), "bedside", Unit.MG_DL, early),
            Meter.usual(invented_id("h"), "handbag", Unit.MG_DL, early),
        ),
        happenings=happenings,
        reach_happenings=happenings,
        answers=(
            Answer(invented_id("a1"), low.id, Asked.FELT_LOW_COMING, Said.NO, data.made_at.instant),
        ),
        next_appointment=Appointment(
            invented_id("v"), last + timedelta(days=3), time(10, 30), "Dr. Invented", "Room 2"
        ),
        lancet_changes=tuple(
            LancetChange(
                invented_id(("l", n)),
                at(last - timedelta(days=n), 7.0),
                at(last - timedelta(days=n), 7.0).instant,
            )
            for n in range(0, 60, 2)
        ),
        sites=tuple(
            (last - timedelta(days=n), code)
            for n in range(30)
            for code in (
                "left.middle.thumb_side",
                "left.ring.little_finger_side",
                "left.little.thumb_side",
            )[: 1 + n % 3]
        ),
    )


def long_series(days: int, slots: Sequence[Slot], seed: int = 3, last: date = LAST_DAY) -> Series:
    """Years of readings straight as columns, quickly: one a day in each of `slots`."""
    chance = random.Random(seed)
    period = Period.ending(last, days)
    first = int((datetime.combine(period.first, time(0)) - EPOCH) // timedelta(minutes=1))
    ids, walls, steps, kept = [], [], [], []
    hours = sorted(slots, key=lambda slot: USUAL[slot][0])
    for day in range(days):
        for slot in hours:
            hour, middle = USUAL[slot]
            walls.append(first + day * 1440 + round(hour * 60 + chance.gauss(0, 25)))
            steps.append(max(40, round(chance.gauss(middle, 32))))
            kept.append(slot)
            ids.append(str(UUID(int=chance.getrandbits(128))))
    order = sorted(range(len(walls)), key=walls.__getitem__)
    count = len(order)
    return Series(
        ids=tuple(ids),
        instants=tuple(walls[n] * 60_000_000 for n in order),
        wall_minutes=tuple(walls[n] for n in order),
        written_minutes=tuple(walls[n] + 2 for n in order),
        steps=tuple(steps[n] for n in order),
        units=(Unit.MG_DL,) * count,
        slots=tuple(kept[n] for n in order),
        purposes=(Purpose.PLANNED,) * count,
        marks=(0,) * count,
        minutes_after=(None,) * count,
        rechecks_of=(None,) * count,
    )
