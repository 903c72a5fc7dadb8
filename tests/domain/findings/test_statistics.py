"""The tests and slopes against SciPy and statsmodels, on numbers drawn at random with many ties."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import stats

from logbook.domain.findings.statistics import (
    day_to_day,
    holm,
    kendall_p,
    more_often_p,
    rank_sum_p,
    rank_sum_z,
    ranks,
    student_p,
    theil_sen_slope,
    variance_inflation,
)

SEEDS = range(30)


def _drawn(seed: int, most: int = 60) -> list[float]:
    chance = np.random.default_rng(seed)
    # Rounded to tens on every second draw, so that many values are equal.
    values = chance.normal(140, 35, chance.integers(4, most))
    return [float(value) for value in (np.round(values, -1) if seed % 2 else values)]


@pytest.mark.parametrize("seed", SEEDS)
def test_the_slope_is_that_of_scipy(seed: int) -> None:
    values = _drawn(seed)
    places = [float(place) for place in range(0, 2 * len(values), 2)]
    expected = stats.theilslopes(values, places).slope
    assert theil_sen_slope(places, values) == pytest.approx(expected, rel=1e-12, abs=1e-12)


@pytest.mark.parametrize("seed", SEEDS)
def test_the_chance_of_an_order_over_time_is_that_of_scipy(seed: int) -> None:
    values = _drawn(seed)
    expected = stats.kendalltau(range(len(values)), values, method="asymptotic").pvalue
    assert kendall_p(values) == pytest.approx(expected, rel=1e-9)


def test_an_order_of_equal_or_too_few_values_is_chance() -> None:
    assert kendall_p([140.0] * 12) == 1
    assert kendall_p([140.0, 150.0]) == 1
    with pytest.raises(ValueError, match="1"):
        theil_sen_slope([1.0], [140.0])


@pytest.mark.parametrize("seed", SEEDS)
def test_the_rank_sum_is_that_of_scipy(seed: int) -> None:
    first, second = _drawn(seed), [value + 12 for value in _drawn(seed + 1000)]
    assert ranks([*first, *second]) == list(stats.rankdata([*first, *second]))
    expected = stats.mannwhitneyu(first, second, use_continuity=False, method="asymptotic")
    z = rank_sum_z(first, second)
    assert 2 * stats.norm.sf(abs(z)) == pytest.approx(expected.pvalue, rel=1e-9)


@pytest.mark.parametrize("seed", SEEDS)
def test_its_chance_is_the_mean_of_scipys_normal_and_t(seed: int) -> None:
    first, second = _drawn(seed), [value + 12 for value in _drawn(seed + 1000)]
    ranked = stats.rankdata([*first, *second])
    by_t = stats.ttest_ind(ranked[: len(first)], ranked[len(first) :]).pvalue
    normal = stats.mannwhitneyu(first, second, use_continuity=False, method="asymptotic").pvalue
    assert rank_sum_p(first, second) == pytest.approx((by_t + normal) / 2, rel=1e-7)


@pytest.mark.parametrize(("inside", "others"), [(8, 20), (6, 20), (12, 16)])
def test_its_chance_is_close_to_the_exact_one(inside: int, others: int) -> None:
    # As of four weeks: eight days of weekends, or twelve of a group, and the others. The exact
    # chance is SciPy's, from counting all orders; between 0.2 % and 5 % it decides.
    chance = np.random.default_rng(7)
    compared = 0
    for _ in range(300):
        first = list(chance.normal(chance.uniform(0, 2), 1, inside))
        second = list(chance.normal(0, 1, others))
        exact = stats.mannwhitneyu(first, second, method="exact").pvalue
        if 0.002 < exact < 0.05:
            compared += 1
            assert 0.88 < rank_sum_p(first, second) / exact < 1.3
    assert compared > 30


def test_a_greater_variance_makes_the_same_difference_less_sure() -> None:
    first, second = [1.0, 2.0, 3.0, 9.0], [5.0, 6.0, 7.0, 8.0, 10.0, 11.0]
    assert rank_sum_p(first, second, 1.5) > rank_sum_p(first, second)
    assert rank_sum_p([5.0, 5.0], [5.0, 5.0]) == 1
    assert rank_sum_p([], [5.0]) == 1
    # Two values alone, each group all of one: the least chance that so few can give.
    assert 0 < rank_sum_p([1.0, 1.0, 1.0], [2.0, 2.0]) < 0.05


@pytest.mark.parametrize("degrees", [1, 2, 5, 26, 300, 728])
@pytest.mark.parametrize("t", [0.0, 0.3, 1.0, 2.0, 4.0, 12.0])
def test_students_curve_is_that_of_scipy(t: float, degrees: int) -> None:
    assert student_p(t, degrees) == pytest.approx(2 * stats.t.sf(t, degrees), rel=1e-9)


@pytest.mark.parametrize(
    ("both", "first", "second", "of"),
    [(3, 5, 7, 60), (0, 5, 7, 60), (5, 5, 5, 20), (2, 10, 10, 91)],
)
def test_two_things_on_one_day_are_as_in_fishers_test_of_scipy(
    both: int, first: int, second: int, of: int
) -> None:
    table = [[both, first - both], [second - both, of - first - second + both]]
    expected = stats.fisher_exact(table, alternative="greater").pvalue
    assert more_often_p(both, first, second, of) == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize("seed", SEEDS)
def test_holm_is_that_of_statsmodels(seed: int) -> None:
    multipletests = pytest.importorskip("statsmodels.stats.multitest").multipletests
    chance = np.random.default_rng(seed)
    given = list(chance.random(chance.integers(1, 20)) ** 3)
    expected = multipletests(given, method="holm")[1]
    assert holm(given) == pytest.approx(list(expected), rel=1e-12)


def test_holm_of_nothing_is_nothing() -> None:
    assert holm([]) == []


@pytest.mark.parametrize("weekdays", [{5, 6}, {0, 2, 4}, {6}])
@pytest.mark.parametrize("r", [0.1, 0.3, 0.6])
def test_the_variance_of_days_that_hang_together_is_that_of_numpy(
    weekdays: set[int], r: float
) -> None:
    days = [day for day in range(91) if day % 11]
    is_in = [day % 7 in weekdays for day in days]
    weights = np.array(is_in) - np.mean(is_in)
    apart = np.abs(np.subtract.outer(days, days))
    expected = weights @ np.power(r, apart) @ weights / (weights @ weights)
    # Over seven days apart is left out: 0.6 to the eighth power is under 0.02.
    found = variance_inflation(days, is_in, r)
    assert found == pytest.approx(max(1.0, expected), rel=0.03)


def test_days_that_hang_together_are_measured_as_numpy_does() -> None:
    chance = np.random.default_rng(3)
    values = [0.0]
    for step in chance.normal(size=4000):
        values.append(0.3 * values[-1] + step)
    r, pairs = day_to_day(range(len(values)), values)
    assert pairs == len(values) - 1
    assert r == pytest.approx(np.corrcoef(values[:-1], values[1:])[0, 1], abs=0.002)
    assert day_to_day([1, 3, 5], [1.0, 2.0, 3.0]) == (0.0, 0)
