"""Meter beside laboratory, against the published bounds."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from logbook.domain.glucose import Glucose, Unit
from logbook.domain.kit.comparison import ComparisonVerdict, Unfair, compared, meter_bounds
from logbook.domain.kit.meter_care import LabComparison
from tests.domain.kit.invented_kit import BEDSIDE, START, at, new_id


def pair(meter: int, laboratory: int, unit: Unit = Unit.MG_DL) -> LabComparison:
    return LabComparison(
        new_id(),
        BEDSIDE,
        at(0),
        START,
        Glucose.number(meter, unit),
        Glucose.number(laboratory, unit),
        minutes_apart=10,
        was_fasting=True,
    )


def fda(laboratory: Decimal, share: str = "0.15") -> tuple[Decimal, Decimal]:
    """FDA's guidance on meters for use at home, 2016: a share over the whole range."""
    return laboratory * (1 - Decimal(share)), laboratory * (1 + Decimal(share))


class TestBounds:
    def test_at_the_published_example_of_60(self) -> None:
        # A letter in Diabetes Care works out 60 mg/dL (3.33 mmol/L): ISO 45 to 75 (2.50 to 4.16),
        # FDA 51 to 69. Read at the journal.
        assert meter_bounds(Decimal(60), Unit.MG_DL) == (Decimal(45), Decimal(75))
        assert meter_bounds(Decimal("3.33"), Unit.MMOL_L) == (Decimal("2.50"), Decimal("4.16"))
        assert fda(Decimal(60)) == (Decimal(51), Decimal(69))

    @pytest.mark.parametrize(
        ("laboratory", "lowest", "highest"),
        [
            # ISO 15197:2013 by hand. 154: a leaflet prints 137 to 177, whose lower limit is wrong.
            ("99", "84", "114"),
            ("100", "85", "115"),
            ("154", "130.9", "177.1"),
            ("200", "170", "230"),
        ],
    )
    def test_around_100_and_above(self, laboratory: str, lowest: str, highest: str) -> None:
        found = meter_bounds(Decimal(laboratory), Unit.MG_DL)
        assert found == (Decimal(lowest), Decimal(highest))

    def test_of_fda_for_99_of_100_results_at_200(self) -> None:
        inner = meter_bounds(Decimal(200), Unit.MG_DL)
        outer = fda(Decimal(200), "0.20")
        assert outer == (Decimal(160), Decimal(240))
        assert outer[0] < inner[0] < inner[1] < outer[1]

    @given(st.integers(100, 600))
    def test_are_those_of_fda_from_100_on(self, laboratory: int) -> None:
        assert meter_bounds(Decimal(laboratory), Unit.MG_DL) == fda(Decimal(laboratory))

    @given(st.integers(20, 99))
    def test_are_wider_than_those_of_fda_below(self, laboratory: int) -> None:
        lowest, highest = meter_bounds(Decimal(laboratory), Unit.MG_DL)
        strict = fda(Decimal(laboratory))
        assert lowest < strict[0] < strict[1] < highest

    def test_in_mmol_l_change_at_5_55(self) -> None:
        assert meter_bounds(Decimal("5.5"), Unit.MMOL_L) == (Decimal("4.67"), Decimal("6.33"))
        assert meter_bounds(Decimal("5.6"), Unit.MMOL_L) == fda(Decimal("5.6"))


class TestComparison:
    @pytest.mark.parametrize(
        ("meter", "laboratory", "verdict"),
        [
            (84, 99, ComparisonVerdict.WITHIN),
            (83, 99, ComparisonVerdict.OUTSIDE),
            (114, 99, ComparisonVerdict.WITHIN),
            (115, 99, ComparisonVerdict.OUTSIDE),
            (130, 154, ComparisonVerdict.OUTSIDE),
            (131, 154, ComparisonVerdict.WITHIN),
            (177, 154, ComparisonVerdict.WITHIN),
            (178, 154, ComparisonVerdict.OUTSIDE),
        ],
    )
    def test_ends_are_inside(self, meter: int, laboratory: int, verdict: ComparisonVerdict) -> None:
        result = compared(pair(meter, laboratory))
        assert result.verdict is verdict
        assert result.asks_to_repeat is (verdict is ComparisonVerdict.OUTSIDE)
        assert result.is_fair

    def test_tells_how_far_apart(self) -> None:
        assert compared(pair(110, 100)).percent == 10
        assert compared(pair(180, 200)).percent == -10

    def test_of_lo_or_of_two_units_cannot_be_told(self) -> None:
        low = replace(pair(60, 60), glucose=Glucose.reads_low(Unit.MG_DL))
        mixed = replace(pair(60, 60), laboratory=Glucose.number(33, Unit.MMOL_L))
        for each in (low, mixed):
            assert compared(each).verdict is ComparisonVerdict.CAN_NOT_TELL
            assert not compared(each).asks_to_repeat

    @pytest.mark.parametrize(
        ("minutes", "fasting", "unfair"),
        [
            (15, True, ()),
            (-16, True, (Unfair.TOO_FAR_APART,)),
            (16, False, (Unfair.TOO_FAR_APART, Unfair.NOT_FASTING)),
            (None, None, (Unfair.MINUTES_NOT_KNOWN, Unfair.FASTING_NOT_KNOWN)),
        ],
    )
    def test_tells_what_was_unfair(
        self, minutes: int | None, fasting: bool | None, unfair: tuple[Unfair, ...]
    ) -> None:
        # Within 15 minutes, fasting for 4 hours: a meter manual, read in a copy.
        one = replace(pair(100, 100), minutes_apart=minutes, was_fasting=fasting)
        assert compared(one).unfair == unfair
