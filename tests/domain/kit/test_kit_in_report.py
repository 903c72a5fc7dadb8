"""What the kit tells the report, and what it gives to ask the provider about."""

from __future__ import annotations

from dataclasses import replace

import pytest

from logbook.domain.glucose import Glucose, Unit
from logbook.domain.kit.dates import PrintedDate
from logbook.domain.kit.kit_data import KitData
from logbook.domain.kit.kit_questions import KitAsk, KitQuestion, kit_questions
from logbook.domain.kit.kit_summary import KitSummary, kit_summary
from logbook.domain.kit.lancets import LancetChange
from logbook.domain.kit.low_supplies import lacks_glucagon, low_supply_states
from logbook.domain.kit.meter_care import LabComparison, MeterWhat
from logbook.domain.kit.supplies import ForLows, LowSupply
from logbook.domain.kit.vial_life import LifeState
from logbook.domain.moments import Period
from logbook.domain.readings import Reading
from logbook.domain.settings import LogSettings
from logbook.domain.ticks import About, Tick, TickBook, Told
from tests.domain.kit.invented_kit import (
    BEDSIDE,
    START,
    at,
    control,
    day,
    event,
    meter,
    new_id,
    reading,
    use,
    vial,
)

SETTINGS = LogSettings()
NOW = at(30)
PERIOD = Period(day(3), day(30))
NO_TICKS = TickBook()


def on_insulin(told: Told = Told.YES) -> TickBook:
    return TickBook([Tick(new_id(), About.INSULIN, told, day(0), START)])


def glucagon(until: int | None = None, *, is_there: bool = True) -> LowSupply:
    expires = None if until is None else PrintedDate(day(until))
    return LowSupply(new_id(), ForLows.GLUCAGON, START, is_there, expires=expires)


class TestForLows:
    @pytest.mark.parametrize(
        ("until", "state"),
        [
            (None, LifeState.NOT_KNOWN),
            (61, LifeState.IN_DATE),
            (60, LifeState.ENDS_SOON),
            (30, LifeState.ENDS_SOON),
            (29, LifeState.OUT_OF_DATE),
        ],
    )
    def test_dates_are_warned_of_30_days_before(self, until: int | None, state: LifeState) -> None:
        supply = glucagon(until)
        (found,) = low_supply_states(KitData(low_supplies=(supply,)), day(30))
        assert (found.supply, found.state) == (supply, state)

    def test_what_ended_is_gone_and_what_is_not_there_has_no_date(self) -> None:
        ended = replace(glucagon(29), ended_on=day(29))
        missing = glucagon(29, is_there=False)
        (found,) = low_supply_states(KitData(low_supplies=(ended, missing)), day(30))
        assert (found.supply, found.state) == (missing, LifeState.NOT_KNOWN)

    @pytest.mark.parametrize(
        ("supplies", "lacks"),
        [
            ((), True),
            ((glucagon(29),), True),
            ((glucagon(is_there=False),), True),
            ((LowSupply(new_id(), ForLows.GLUCOSE_TABLETS, START),), True),
            ((glucagon(30),), False),
            ((glucagon(),), False),
        ],
    )
    def test_insulin_without_glucagon_is_told(
        self, supplies: tuple[LowSupply, ...], lacks: bool
    ) -> None:
        kit = KitData(low_supplies=supplies)
        assert lacks_glucagon(kit, on_insulin(), day(30)) is lacks
        assert not lacks_glucagon(kit, on_insulin(Told.NO), day(30))
        assert not lacks_glucagon(kit, NO_TICKS, day(30))


class TestQuestions:
    def asked(
        self,
        kit: KitData,
        settings: LogSettings = SETTINGS,
        ticks: TickBook = NO_TICKS,
        readings: tuple[Reading, ...] = (),
    ) -> tuple[KitQuestion, ...]:
        return kit_questions(kit, settings, ticks, NOW, PERIOD, readings)

    def test_none_of_a_kit_in_order(self) -> None:
        assert self.asked(KitData(meters=(meter(),), vials=(vial(0),))) == ()

    def test_no_control_solution_is_one(self) -> None:
        none = replace(SETTINGS, has_control_solution=False)
        assert self.asked(KitData(), none) == (KitQuestion(KitAsk.NO_CONTROL_SOLUTION),)

    def test_no_glucagon_is_one(self) -> None:
        assert self.asked(KitData(), ticks=on_insulin()) == (KitQuestion(KitAsk.NO_GLUCAGON),)

    def test_a_meter_not_for_decisions_is_one(self) -> None:
        kit = KitData(meters=(meter(),), meter_events=(event(MeterWhat.NOT_FOR_DECISIONS, 1),))
        assert self.asked(kit) == (KitQuestion(KitAsk.METER_FAILED, BEDSIDE),)

    def test_comparisons_outside_are_one_of_the_period(self) -> None:
        pairs = [
            LabComparison(
                new_id(),
                BEDSIDE,
                at(days),
                START,
                Glucose.number(shown, Unit.MG_DL),
                Glucose.number(100, Unit.MG_DL),
            )
            for days, shown in [(1, 150), (5, 150), (6, 100), (7, 150), (40, 150)]
        ]
        crossed_out = replace(pairs[3], id=new_id(), crossed_out_at=START)
        kit = KitData(meters=(meter(),), lab_comparisons=(*pairs, crossed_out))
        assert self.asked(kit) == (KitQuestion(KitAsk.COMPARISON_OUTSIDE, pairs[3].id, 2),)

    def test_out_of_date_strips_are_one(self) -> None:
        kit = KitData(meters=(meter(),), vials=(vial(0, printed=day(10).isoformat()),))
        readings = tuple(reading(days) for days in (9, 11, 12, 31))
        assert self.asked(kit, readings=readings) == (
            KitQuestion(KitAsk.OUT_OF_DATE_STRIPS, None, 2),
        )

    def test_strips_that_end_before_the_refill_are_one(self) -> None:
        uses = tuple(use(days) for days in range(3, 31))
        kit = KitData(meters=(meter(),), vials=(vial(0, count=38),), strip_uses=uses)
        # 10 strips, one a day: too few on the 40th day.
        for refill, asked in [(39, False), (40, True)]:
            settings = replace(SETTINGS, earliest_refill=day(refill))
            found = [question.ask for question in self.asked(kit, settings)]
            assert found == ([KitAsk.TOO_FEW_STRIPS] if asked else [])


class TestSummary:
    def summary(self, kit: KitData, *readings: Reading) -> KitSummary:
        return kit_summary(kit, PERIOD, SETTINGS, NO_TICKS, NOW, readings)

    def test_has_the_vials_of_the_period(self) -> None:
        before, across = vial(-30, ended=2.5), vial(-20, ended=5)
        in_use, stocked = vial(5, after="3m"), vial(None)
        later = vial(31)
        kit = KitData(
            meters=(meter(),),
            vials=(in_use, across, before, stocked, later),
            strip_uses=(use(6), use(7)),
        )
        found = self.summary(kit).vials
        assert [one.vial for one in found] == [across, in_use]
        # The strips of one opened before the first vial in use are no longer at hand.
        assert found[0].account is None
        assert found[1].account is not None
        assert (found[1].account.used, found[1].account.left) == (2, 48)
        assert found[1].life is not None

    def test_counts_control_tests_and_meter_checks(self) -> None:
        tests = (
            control(1, 120),
            control(4, 120),
            control(5, 180),
            control(6, 181),
            control(7, 120, level="3"),
            replace(control(8, 120), crossed_out_at=START),
        )
        events = tuple(event(MeterWhat.CLOCK_CHECKED, days) for days in (2, 9, 31))
        changes = tuple(LancetChange(new_id(), at(days), START) for days in (2, 9, 10))
        kit = KitData(
            meters=(meter(),),
            vials=(vial(0),),
            control_tests=tests,
            meter_events=events,
            lancet_changes=changes,
        )
        marked = reading(4.5)
        found = self.summary(kit, reading(3.5), marked, reading(9))
        assert (len(found.tests), found.passed, found.failed, found.not_known) == (4, 1, 2, 1)
        assert found.meter_events == (events[1],)
        assert found.lancet_changes == 2
        assert found.suspect == (marked.id,)
        ((meter_id, standing),) = found.standings
        assert meter_id == BEDSIDE
        assert standing.must_stop

    def test_has_stock_and_questions(self) -> None:
        kit = KitData(meters=(meter(),), vials=(vial(0, printed=day(10).isoformat()),))
        late = reading(11)
        found = self.summary(kit, late, reading(45))
        assert [one.reading_id for one in found.out_of_date] == [late.id]
        assert [question.ask for question in found.questions] == [KitAsk.OUT_OF_DATE_STRIPS]
        assert [one.strips for one in found.outlooks] == [0]

    def test_of_an_empty_kit_is_empty(self) -> None:
        found = self.summary(KitData())
        assert (found.vials, found.tests, found.questions) == ((), (), ())
