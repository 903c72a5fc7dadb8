"""The formulas, held against NumPy, the standard library's statistics and SciPy."""

from __future__ import annotations

import random
import statistics

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import binomtest

from logbook.domain.figures import Share, figures_of, unrounded
from logbook.domain.glucose import HI_STEPS, LO_STEPS, Unit


def _quartiles(values: list[float]) -> list[float]:
    # NumPy's default method, "linear", is type 7 of Hyndman and Fan (NumPy's own documentation).
    return [float(np.quantile(values, q)) for q in (0.25, 0.5, 0.75)]


@pytest.mark.parametrize("unit", list(Unit))
@pytest.mark.parametrize("count", [2, 3, 4, 5, 8, 21, 1000])
def test_figures_agree_with_numpy_and_statistics(unit: Unit, count: int) -> None:
    generator = random.Random(count)
    steps = [generator.randint(20, 500) for _ in range(count)]
    values = [value / unit.steps_per_one for value in steps]
    figures = figures_of(unit, steps)
    assert figures.mean == pytest.approx(np.mean(values), rel=1e-12)
    assert figures.sd == pytest.approx(np.std(values, ddof=1), rel=1e-12)
    assert figures.sd == pytest.approx(statistics.stdev(values), rel=1e-12)
    assert figures.cv_percent == pytest.approx(
        100 * statistics.stdev(values) / statistics.mean(values), rel=1e-12
    )
    assert (figures.least, figures.greatest) == (min(values), max(values))
    assert [figures.q1, figures.median, figures.q3] == pytest.approx(_quartiles(values), rel=1e-12)


@given(
    own=st.lists(st.integers(10, 1000), max_size=30),
    other=st.lists(st.integers(6, 550), min_size=1, max_size=30),
)
def test_a_log_of_two_units_is_reckoned_in_its_own_without_rounding(
    own: list[int], other: list[int]
) -> None:
    # The factor: molar mass of glucose, 180.156 g/mol (LOINC's glucose group, read at the source).
    values = [float(value) for value in own] + [value / 10 * 18.0156 for value in other]
    figures = figures_of(Unit.MG_DL, own, other)
    assert figures.count == len(values)
    assert figures.mean == pytest.approx(np.mean(values), rel=1e-12)
    assert [figures.q1, figures.median, figures.q3] == pytest.approx(_quartiles(values), rel=1e-12)
    assert (figures.least, figures.greatest) == pytest.approx((min(values), max(values)))
    if len(values) > 1:
        assert figures.sd == pytest.approx(np.std(values, ddof=1), rel=1e-9, abs=1e-9)


def test_the_other_unit_is_converted_both_ways() -> None:
    # 7.0 mmol/L is 126.1092 mg/dL with 18.0156; 126 mg/dL is 6.9939 mmol/L.
    assert unrounded(70, Unit.MMOL_L, Unit.MG_DL) == pytest.approx(126.1092, abs=1e-9)
    assert unrounded(126, Unit.MG_DL, Unit.MMOL_L) == pytest.approx(6.993938, abs=1e-6)
    assert unrounded(71, Unit.MMOL_L, Unit.MMOL_L) == 7.1
    assert figures_of(Unit.MMOL_L, [70], [126]).mean == pytest.approx((7.0 + 126 / 18.0156) / 2)


@given(
    numbers=st.lists(st.integers(20, 600), max_size=25),
    reads_low=st.integers(0, 4),
    reads_high=st.integers(0, 4),
)
def test_lo_and_hi_take_their_places_at_the_ends(
    numbers: list[int], reads_low: int, reads_high: int
) -> None:
    """A quartile stays the same whatever LO and HI stand for, or it is not given."""
    steps = [LO_STEPS] * reads_low + numbers + [HI_STEPS] * reads_high
    figures = figures_of(Unit.MG_DL, steps)
    assert (figures.reads_low, figures.numbers, figures.reads_high) == (
        reads_low,
        len(numbers),
        reads_high,
    )
    if not steps:
        return
    given_quartiles = [figures.q1, figures.median, figures.q3]
    # NumPy with two different stand-ins for LO and HI: where it gives two answers there is none.
    near = _quartiles([19.0] * reads_low + numbers + [601.0] * reads_high)
    far = _quartiles([-9e5] * reads_low + numbers + [9e5] * reads_high)
    for ours, one, other in zip(given_quartiles, near, far, strict=True):
        if one == pytest.approx(other):
            assert ours == pytest.approx(one)
        else:
            assert ours is None
    if numbers:
        assert (figures.least, figures.greatest) == (min(numbers), max(numbers))
        assert figures.mean == pytest.approx(np.mean(numbers))


def test_without_enough_numbers_there_are_no_figures() -> None:
    nothing = figures_of(Unit.MG_DL, [])
    assert nothing.count == 0
    assert {nothing.mean, nothing.sd, nothing.median, nothing.least, nothing.cv_percent} == {None}
    one = figures_of(Unit.MG_DL, [128])
    assert (one.mean, one.median, one.q1, one.sd, one.cv_percent) == (128, 128, 128, None, None)
    ends = figures_of(Unit.MG_DL, [LO_STEPS, HI_STEPS])
    assert (ends.count, ends.numbers, ends.median, ends.mean) == (2, 0, None, None)
    assert not ends.is_complete
    assert one.is_complete


# A regression set: seven checks a day for three days. All values below were computed, none is
# published.
_DAY_1 = [110, 165, 98, 182, 120, 210, 140]
_DAY_2 = [126, 190, 88, 150, 64, 175, 130]
_DAY_3 = [134, 201, 104, 168, 115, 240, 151]


@pytest.mark.parametrize(
    ("values", "mean", "median", "sd", "cv_percent"),
    [
        (_DAY_1, 146.4286, 140, 40.9547, 27.9690),
        (_DAY_2, 131.8571, 130, 44.9757, 34.1094),
        (_DAY_3, 159.0, 151, 48.4011, 30.4409),
        (_DAY_1 + _DAY_2 + _DAY_3, 145.7619, 140, 44.0680, 30.2329),
        ([70, 180], 125, 125, 77.7817, 62.2254),
        ([100, 100, 100], 100, 100, 0, 0),
    ],
)
def test_the_regression_set(
    values: list[int], mean: float, median: float, sd: float, cv_percent: float
) -> None:
    figures = figures_of(Unit.MG_DL, values)
    assert figures.mean == pytest.approx(mean, abs=5e-5)
    assert figures.median == median
    assert figures.sd == pytest.approx(sd, abs=5e-5)
    assert figures.cv_percent == pytest.approx(cv_percent, abs=5e-5)


def test_the_spread_of_equal_values_is_exactly_none() -> None:
    # Squares of floats near 1e6 would leave a remainder here; whole numbers leave none.
    assert figures_of(Unit.MMOL_L, [71] * 73_000).sd == 0.0


@pytest.mark.parametrize("of", [1, 2, 7, 12, 100, 5000])
def test_the_interval_of_a_share_agrees_with_scipy(of: int) -> None:
    for part in sorted({0, 1, of // 3, of // 2, of - 1, of}):
        interval = binomtest(part, of).proportion_ci(confidence_level=0.95, method="wilson")
        ours = Share(part, of).interval_percent
        assert ours == pytest.approx((100 * interval.low, 100 * interval.high), abs=1e-9)


@pytest.mark.parametrize("of", [1, 5, 12, 28, 365])
def test_the_interval_of_a_share_agrees_with_statsmodels(of: int) -> None:
    confint = pytest.importorskip("statsmodels.stats.proportion").proportion_confint
    for part in range(of + 1):
        low, high = confint(part, of, alpha=0.05, method="wilson")
        assert Share(part, of).interval_percent == pytest.approx((100 * low, 100 * high), abs=1e-9)
        # Another method would be caught.
        other = confint(part, of, alpha=0.05, method="normal")
        assert max(abs(low - other[0]), abs(high - other[1])) > 1e-9


def test_five_are_enough_for_a_spread_and_for_a_percentage() -> None:
    assert not figures_of(Unit.MG_DL, [120, 130, 140, LO_STEPS]).is_enough
    assert figures_of(Unit.MG_DL, [120, 130, 140, LO_STEPS, HI_STEPS]).is_enough
    assert (Share(4, 4).is_enough, Share(0, 5).is_enough) == (False, True)


def test_an_interval_ends_at_none_and_all_exactly() -> None:
    none, every = Share(0, 12).interval_percent, Share(12, 12).interval_percent
    assert none is not None
    assert every is not None
    assert (none[0], every[1]) == (0.0, 100.0)
    assert Share(7, 12).percent == pytest.approx(58.3333, abs=1e-4)


def test_a_share_of_nothing_is_no_number() -> None:
    assert Share(0, 0).percent is None
    assert Share(0, 0).interval_percent is None
