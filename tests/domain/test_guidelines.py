"""Published starting points: the numbers as printed, written here a second time."""

from __future__ import annotations

from datetime import UTC, date, datetime

import pytest

from logbook.domain.glucose import Glucose, Unit
from logbook.domain.guidelines import (
    STARTING_POINTS,
    Health,
    HowKnown,
    StartingPoint,
    needs_caution,
    starting_points,
    targets_of,
)
from logbook.domain.slots import Slot
from logbook.domain.targets import (
    Operator,
    SetBy,
    TargetBook,
    TargetKind,
    Verdict,
    judge,
)

_BY_CODE = {point.code: point for point in STARTING_POINTS}


def _printed(code: str, kind: TargetKind, unit: Unit) -> str:
    """The limits of one kind as a guideline would print them, absent as ''."""
    for printed in _BY_CODE[code].printed:
        for limits in printed.limits:
            if kind in printed.kinds and limits.unit is unit:
                upper = limits.upper
                assert upper is not None
                high = Glucose.number(upper.steps, unit).text
                if limits.lower is None:
                    assert upper.operator is Operator.BELOW
                    return f"<{high}"
                assert limits.lower.operator is Operator.AT_LEAST
                assert upper.operator is Operator.AT_MOST
                return f"{Glucose.number(limits.lower.steps, unit).text}-{high}"
    return ""


# ADA Standards of Care 2024, table 13.1, read at the journal (PMC10725804).
@pytest.mark.parametrize(
    ("code", "fasting", "bedtime"),
    [
        ("ada_older_good", ("80-130", "4.4-7.2"), ("80-180", "4.4-10.0")),
        ("ada_older_several_illnesses", ("90-150", "5.0-8.3"), ("100-180", "5.6-10.0")),
        ("ada_older_poor", ("100-180", "5.6-10.0"), ("110-200", "6.1-11.1")),
    ],
)
def test_ada_older_adults(code: str, fasting: tuple[str, str], bedtime: tuple[str, str]) -> None:
    for unit, printed in zip((Unit.MG_DL, Unit.MMOL_L), fasting, strict=True):
        assert _printed(code, TargetKind.FASTING, unit) == printed
        assert _printed(code, TargetKind.BEFORE_MEALS, unit) == printed
    for unit, printed in zip((Unit.MG_DL, Unit.MMOL_L), bedtime, strict=True):
        assert _printed(code, TargetKind.BEDTIME, unit) == printed
    assert _printed(code, TargetKind.AFTER_MEALS, Unit.MG_DL) == ""
    assert _BY_CODE[code].known is HowKnown.READ_AT_SOURCE
    assert _BY_CODE[code].edition == "2024"


# Endocrine Society 2019, table 3, read in a copy, in mg/dL only.
@pytest.mark.parametrize(
    ("code", "fasting", "bedtime"),
    [
        ("endocrine_society_older_good", "90-130", "90-150"),
        ("endocrine_society_older_several_illnesses", "90-150", "100-180"),
        ("endocrine_society_older_poor", "100-180", "110-200"),
        ("endocrine_society_older_good_with_medicine", "90-150", "100-180"),
        ("endocrine_society_older_several_illnesses_with_medicine", "100-150", "150-180"),
        ("endocrine_society_older_poor_with_medicine", "100-180", "150-250"),
    ],
)
def test_endocrine_society_older_adults(code: str, fasting: str, bedtime: str) -> None:
    assert _printed(code, TargetKind.FASTING, Unit.MG_DL) == fasting
    assert _printed(code, TargetKind.BEDTIME, Unit.MG_DL) == bedtime
    assert _printed(code, TargetKind.FASTING, Unit.MMOL_L) == ""
    point = _BY_CODE[code]
    assert point.with_medicine_that_causes_lows is code.endswith("with_medicine")
    assert point.known is HowKnown.READ_IN_COPY


# ADA, mid-2010s edition, read at the journal: 80-130 (4.4-7.2) before meals, <180 (<10.0) after.
def test_ada_adults() -> None:
    for kind in (TargetKind.FASTING, TargetKind.BEFORE_MEALS):
        assert _printed("ada_adults", kind, Unit.MG_DL) == "80-130"
        assert _printed("ada_adults", kind, Unit.MMOL_L) == "4.4-7.2"
    assert _printed("ada_adults", TargetKind.AFTER_MEALS, Unit.MG_DL) == "<180"
    assert _printed("ada_adults", TargetKind.AFTER_MEALS, Unit.MMOL_L) == "<10.0"


# Diabetes Canada, read in copies: 4.0-7.0 before meals, 5.0-10.0 two hours after.
def test_diabetes_canada() -> None:
    code = "diabetes_canada_adults"
    assert _printed(code, TargetKind.FASTING, Unit.MMOL_L) == "4.0-7.0"
    assert _printed(code, TargetKind.BEFORE_MEALS, Unit.MMOL_L) == "4.0-7.0"
    assert _printed(code, TargetKind.AFTER_MEALS, Unit.MMOL_L) == "5.0-10.0"
    assert _printed(code, TargetKind.FASTING, Unit.MG_DL) == ""


# NICE NG17: 5-7 on waking and 4-7 before other meals, read at nice.org.uk (2015 recommendations);
# 5-9 after meals is from memory, and the row says so.
def test_nice_type_1() -> None:
    code = "nice_type_1_adults"
    assert _printed(code, TargetKind.FASTING, Unit.MMOL_L) == "5.0-7.0"
    assert _printed(code, TargetKind.BEFORE_MEALS, Unit.MMOL_L) == "4.0-7.0"
    assert _printed(code, TargetKind.AFTER_MEALS, Unit.MMOL_L) == "5.0-9.0"
    assert _BY_CODE[code].known is HowKnown.FROM_MEMORY


# The pairs that guidelines print side by side: 80 = 4.4 would convert back to 79, and stays 80.
@pytest.mark.parametrize(("mg_dl", "verdict"), [("79", Verdict.BELOW), ("80", Verdict.IN_TARGET)])
def test_a_limit_is_never_derived_from_its_twin(mg_dl: str, verdict: Verdict) -> None:
    book = TargetBook(targets_of(_BY_CODE["ada_older_good"], date(2026, 1, 1)))
    target = book.for_slot(Slot.FASTING, date(2026, 1, 1))
    assert judge(Glucose.parse(mg_dl, Unit.MG_DL), target) is verdict
    assert judge(Glucose.parse("4.4", Unit.MMOL_L), target) is Verdict.IN_TARGET


def test_a_chosen_row_gives_targets_that_are_not_yet_agreed() -> None:
    written = datetime(2026, 3, 1, 9, tzinfo=UTC)
    targets = targets_of(_BY_CODE["ada_older_poor"], date(2026, 3, 1), written)
    assert [target.kind for target in targets] == [
        TargetKind.FASTING,
        TargetKind.BEFORE_MEALS,
        TargetKind.BEDTIME,
    ]
    for target in targets:
        assert not target.is_agreed
        assert target.set_by is SetBy.PUBLISHED
        assert target.set_by_name == "American Diabetes Association"
        assert "table 13.1" in target.source
        assert target.edition == "2024"
        assert target.holds_from == date(2026, 3, 1)
        assert target.written_at == written
    assert len({target.id for target in targets}) == 3


def test_a_row_is_offered_only_where_it_is_printed_in_the_unit_of_the_log() -> None:
    in_mmol = {point.code for point in starting_points(Unit.MMOL_L)}
    in_mg_dl = {point.code for point in starting_points(Unit.MG_DL)}
    assert in_mmol == {
        "ada_older_good",
        "ada_older_several_illnesses",
        "ada_older_poor",
        "ada_adults",
        "diabetes_canada_adults",
        "nice_type_1_adults",
    }
    assert not {"diabetes_canada_adults", "nice_type_1_adults"} & in_mg_dl
    assert "ada_adults" in in_mg_dl


@pytest.mark.parametrize("can_have_lows", [True, None])
def test_not_sure_about_lows_counts_as_yes(can_have_lows: bool | None) -> None:
    offered = starting_points(Unit.MG_DL, Health.GOOD, can_have_lows=can_have_lows)
    assert [point.code for point in offered] == [
        "ada_older_good",
        "endocrine_society_older_good_with_medicine",
    ]


def test_without_such_medicine_the_other_rows_are_offered() -> None:
    offered = starting_points(Unit.MG_DL, Health.POOR, can_have_lows=False)
    assert [point.code for point in offered] == ["ada_older_poor", "endocrine_society_older_poor"]


# With such a medicine a floor under 90 mg/dL, or none, needs a word of caution: a rule of this
# program's own, after the Endocrine Society's rows, none of which goes under 90.
@pytest.mark.parametrize(
    ("code", "expected"),
    [
        ("ada_older_good", True),
        ("ada_older_several_illnesses", False),
        ("ada_older_poor", False),
        ("endocrine_society_older_good", True),
        ("endocrine_society_older_good_with_medicine", False),
        ("ada_adults", True),
        ("diabetes_canada_adults", True),
        ("nice_type_1_adults", True),
    ],
)
def test_caution_where_a_row_has_a_low_floor_or_none(code: str, expected: bool) -> None:
    point = _BY_CODE[code]
    assert needs_caution(point, can_have_lows=True) is expected
    assert needs_caution(point, can_have_lows=None) is expected
    assert not needs_caution(point, can_have_lows=False)


def test_codes_are_names_for_good_and_every_row_names_its_source() -> None:
    assert len(_BY_CODE) == len(STARTING_POINTS)

    def is_told(point: StartingPoint) -> bool:
        return bool(point.body and point.source and point.edition and point.printed)

    assert all(is_told(point) for point in STARTING_POINTS)


def test_there_are_no_rows_for_pregnancy() -> None:
    # Pregnancy targets after meals end at 140 (7.8) or less (ADA, read at the journal); the least
    # upper limit after meals offered here is 9.0 mmol/L, which an adult's row prints.
    uppers = {
        Glucose.number(limits.upper.steps, limits.unit).text
        for point in STARTING_POINTS
        for printed in point.printed
        if TargetKind.AFTER_MEALS in printed.kinds
        for limits in printed.limits
        if limits.upper is not None
    }
    assert uppers == {"180", "10.0", "9.0"}
