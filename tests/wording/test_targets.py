"""Targets in words: as printed, whose they are, and from which day."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from uuid import UUID

import pytest

from logbook.domain.glucose import Unit
from logbook.domain.targets import Limit, Limits, Operator, SetBy, Target, TargetKind
from logbook.wording.manner import Manner, set_manner
from logbook.wording.targets import (
    limits_text,
    target_in_both_units,
    target_text,
    who_set_text,
)

MG_DL, MMOL_L = Unit.MG_DL, Unit.MMOL_L
AT_LEAST, ABOVE, AT_MOST, BELOW = (
    Operator.AT_LEAST,
    Operator.ABOVE,
    Operator.AT_MOST,
    Operator.BELOW,
)

# Limits before meals as ADA prints them in both units (read at the journal).
BEFORE_MEALS = Target(
    UUID(int=1),
    TargetKind.BEFORE_MEALS,
    (
        Limits(MG_DL, Limit(AT_LEAST, 80), Limit(AT_MOST, 130)),
        Limits(MMOL_L, Limit(AT_LEAST, 44), Limit(AT_MOST, 72)),
    ),
    date(2026, 3, 3),
    SetBy.PROVIDER,
)


class TestLimits:
    @pytest.mark.parametrize(
        ("lower", "upper", "text"),
        [
            (Limit(AT_LEAST, 80), Limit(AT_MOST, 130), "80 to 130 mg/dL"),
            (None, Limit(BELOW, 180), "below 180 mg/dL"),
            (None, Limit(AT_MOST, 180), "at most 180 mg/dL"),
            (Limit(AT_LEAST, 100), None, "at least 100 mg/dL"),
            (Limit(ABOVE, 100), None, "above 100 mg/dL"),
            (Limit(AT_LEAST, 80), Limit(BELOW, 180), "at least 80 and below 180 mg/dL"),
            (Limit(ABOVE, 80), Limit(AT_MOST, 180), "above 80 and at most 180 mg/dL"),
            (None, None, "no target"),
        ],
    )
    def test_tell_their_operators_apart(
        self, lower: Limit | None, upper: Limit | None, text: str
    ) -> None:
        assert limits_text(Limits(MG_DL, lower, upper)) == text

    def test_are_written_the_locales_way(self) -> None:
        set_manner(Manner("de_DE"))
        assert target_text(BEFORE_MEALS, MMOL_L) == "4,4 to 7,2 mmol/L"


class TestUnits:
    def test_each_as_printed_and_none_worked_out(self) -> None:
        assert target_in_both_units(BEFORE_MEALS, MG_DL) == "80 to 130 mg/dL (4.4 to 7.2 mmol/L)"
        assert target_in_both_units(BEFORE_MEALS, MMOL_L) == "4.4 to 7.2 mmol/L (80 to 130 mg/dL)"

    def test_one_alone_stays_alone_in_its_own_unit(self) -> None:
        only = replace(BEFORE_MEALS, printed=BEFORE_MEALS.printed[:1])
        assert target_in_both_units(only, MMOL_L) == "80 to 130 mg/dL"
        assert target_text(only, MMOL_L) == "80 to 130 mg/dL"

    def test_none_is_said(self) -> None:
        assert target_text(None, MG_DL) == "no target"
        assert target_text(replace(BEFORE_MEALS, printed=()), MG_DL) == "no target"


class TestWhose:
    @pytest.mark.parametrize(
        ("set_by", "name", "source", "edition", "text"),
        [
            (SetBy.PROVIDER, "", "", "", "Set by your provider"),
            (SetBy.PROVIDER, "Dr Example", "", "", "Set by Dr Example"),
            (SetBy.SELF, "", "", "", "Your own choice"),
            (SetBy.PUBLISHED, "", "ADA", "2024", "From a published table: ADA 2024"),
            (SetBy.PUBLISHED, "", "", "", "From a published table"),
        ],
    )
    def test_numbers_these_are(
        self, set_by: SetBy, name: str, source: str, edition: str, text: str
    ) -> None:
        target = replace(
            BEFORE_MEALS, set_by=set_by, set_by_name=name, source=source, edition=edition
        )
        assert who_set_text(target) == text
