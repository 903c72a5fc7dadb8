"""Numbers in words: decimals of the unit, the locale's way, half up, always with a unit."""

from __future__ import annotations

from decimal import Decimal

import pytest
from babel import Locale
from babel.numbers import parse_decimal
from hypothesis import given
from hypothesis import strategies as st

from logbook.domain.glucose import HI_STEPS, LO_STEPS, POSSIBLE_STEPS, Glucose, Unit
from logbook.wording.manner import Manner, set_manner
from logbook.wording.numbers import (
    count_of_text,
    figure_text,
    glucose_text,
    lows_text,
    number_text,
    percent_text,
    range_text,
    readings_text,
    steps_text,
    times_text,
)

MG_DL, MMOL_L = Unit.MG_DL, Unit.MMOL_L
LOCALES = ["en_US", "en_GB", "de_DE", "fr_FR", "es_MX", "sv_SE", "pt_BR", "nl_NL", "pl_PL", "ja_JP"]


class TestGlucose:
    @pytest.mark.parametrize(
        ("glucose", "locale", "text"),
        [
            (Glucose.number(128, MG_DL), "en_US", "128 mg/dL"),
            (Glucose.number(1000, MG_DL), "en_US", "1000 mg/dL"),  # as the display shows it
            (Glucose.number(71, MMOL_L), "en_GB", "7.1 mmol/L"),
            (Glucose.number(70, MMOL_L), "en_GB", "7.0 mmol/L"),
            (Glucose.number(71, MMOL_L), "de_DE", "7,1 mmol/L"),
            (Glucose.reads_low(MG_DL), "en_US", "LO"),
            (Glucose.reads_high(MMOL_L), "de_DE", "HI"),
        ],
    )
    def test_is_what_the_meter_shows(self, glucose: Glucose, locale: str, text: str) -> None:
        set_manner(Manner(locale))
        assert glucose_text(glucose) == text
        assert glucose_text(glucose, with_unit=False) == text.partition(" ")[0]

    @given(st.sampled_from(LOCALES), st.integers(*POSSIBLE_STEPS[MMOL_L]))
    def test_is_read_back_by_babel_and_by_ourselves(self, locale: str, steps: int) -> None:
        set_manner(Manner(locale))
        glucose = Glucose.number(steps, MMOL_L)
        text = glucose_text(glucose, with_unit=False)
        # Babel's parser is the witness that the sign is the locale's own.
        assert parse_decimal(text, locale=Locale.parse(locale)) == glucose.value
        assert Glucose.parse(text, MMOL_L) == glucose


class TestFigures:
    @pytest.mark.parametrize(
        ("value", "unit", "text"),
        [
            (161.5, MG_DL, "162 mg/dL"),
            (162.5, MG_DL, "163 mg/dL"),  # to even would be 162
            (Decimal("5.55"), MMOL_L, "5.6 mmol/L"),
            (5.55, MMOL_L, "5.6 mmol/L"),  # the binary 5.55 lies below the half
            (9, MMOL_L, "9.0 mmol/L"),
            (None, MG_DL, "–"),
        ],
    )
    def test_are_rounded_half_up(
        self, value: Decimal | float | None, unit: Unit, text: str
    ) -> None:
        assert figure_text(value, unit) == text

    def test_control_pythons_own_rounding_would_not_pass(self) -> None:
        assert f"{162.5:.0f}" == "162"
        assert f"{5.55:.1f}" == "5.5"

    @pytest.mark.parametrize(
        ("lowest", "highest", "text"),
        [
            (62, 214, "62 to 214 mg/dL"),
            (100, 100, "100 mg/dL"),
            (LO_STEPS, 214, "LO to 214 mg/dL"),
            (62, HI_STEPS, "62 mg/dL to HI"),
            (LO_STEPS, HI_STEPS, "LO to HI"),
        ],
    )
    def test_ranges_carry_the_unit_once(self, lowest: int, highest: int, text: str) -> None:
        assert range_text(lowest, highest, MG_DL) == text

    def test_steps_of_limits(self) -> None:
        assert steps_text(130, MG_DL) == "130 mg/dL"
        assert steps_text(100, MMOL_L, with_unit=False) == "10.0"


class TestShares:
    @pytest.mark.parametrize(
        ("percent", "decimals", "locale", "text"),
        [
            (58.35, 1, "en_US", "58.4%"),
            (58.5, 0, "en_US", "59%"),
            (0, 0, "en_US", "0%"),
            (100.0, 1, "en_US", "100.0%"),
            (58.35, 1, "de_DE", "58,4 %"),
            (None, 1, "en_US", "–"),
        ],
    )
    def test_in_percent(self, percent: float | None, decimals: int, locale: str, text: str) -> None:
        set_manner(Manner(locale))
        assert percent_text(percent, decimals) == text

    def test_in_counts(self) -> None:
        assert count_of_text(7, 12) == "7 of 12"
        assert readings_text(1) == "1 reading"
        assert readings_text(18250) == "18,250 readings"
        assert [lows_text(n) for n in (0, 1, 2)] == ["no lows", "1 low", "2 lows"]
        assert [times_text(n) for n in range(4)] == ["never", "once", "twice", "3 times"]


@pytest.mark.parametrize("locale", LOCALES)
def test_no_narrow_or_hard_space_comes_through(locale: str) -> None:
    # Not every font has them, and a search for "18 250" would not find them.
    set_manner(Manner(locale))
    text = number_text(1234567.25, 1) + percent_text(12.5, 1)
    assert not set(text) & {"\u00a0", "\u202f", "\u2009"}
