"""The tests and slopes that findings rest on: the formulas alone.

Each is told in words, with its source, in docs/method.md; the tests hold them against SciPy and
statsmodels. What is compared, and at what level, is for `statistical`.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from itertools import combinations
from math import comb, erfc, exp, lgamma, log, log1p, sqrt
from statistics import median


def theil_sen_slope(places: Sequence[float], values: Sequence[float]) -> float:
    """The median of the slopes between all pairs of points; places are all different.

    Sen, J Am Stat Assoc 1968;63:1379 (from memory). Raises `ValueError` for under two points.
    """
    points = zip(places, values, strict=True)
    slopes = [(y2 - y1) / (x2 - x1) for (x1, y1), (x2, y2) in combinations(points, 2)]
    if not slopes:
        raise ValueError(len(places))
    return median(slopes)


def kendall_p(values: Sequence[float]) -> float:
    """The two-sided chance of so much order over time, by Kendall's tau.

    `values` are in order of time. Normal approximation, its variance corrected for equal values
    (Kendall, Rank Correlation Methods, 4th ed. 1970; from memory). 1 for under three values and
    for values that are all equal.
    """
    n = len(values)
    ups_less_downs = sum((b > a) - (b < a) for a, b in combinations(values, 2))
    ties = Counter(values).values()
    variance = (n * (n - 1) * (2 * n + 5) - sum(t * (t - 1) * (2 * t + 5) for t in ties)) / 18
    if n < 3 or variance == 0:
        return 1.0
    return _two_sided(abs(ups_less_downs) / sqrt(variance))


def ranks(values: Sequence[float]) -> list[float]:
    """The places of `values` in their order, from 1, equal ones sharing the mean of theirs."""
    order = sorted(range(len(values)), key=values.__getitem__)
    found = [0.0] * len(values)
    start = 0
    while start < len(order):
        end = start
        while end < len(order) and values[order[end]] == values[order[start]]:
            end += 1
        for place in order[start:end]:
            found[place] = (start + 1 + end) / 2
        start = end
    return found


def rank_sum_z(first: Sequence[float], second: Sequence[float]) -> float:
    """How many standard deviations the ranks of `first` lie above what no difference would give.

    Mann and Whitney, Ann Math Stat 1947;18:50 (from memory), with the correction for equal values,
    none for continuity. 0 when a group is empty or all values are equal.
    """
    m, n = len(first), len(second)
    together = [*first, *second]
    whole = m + n
    ties = sum(t**3 - t for t in Counter(together).values())
    if not m or not n or whole**3 - whole == ties:
        return 0.0
    variance = m * n / 12 * ((whole + 1) - ties / (whole * (whole - 1)))
    return (sum(ranks(together)[:m]) - m * (whole + 1) / 2) / sqrt(variance)


def rank_sum_p(first: Sequence[float], second: Sequence[float], inflation: float = 1.0) -> float:
    """The two-sided chance of two groups lying so far apart, by the rank sum test.

    Of few values the normal curve puts small chances too high and Student's on the ranks too low,
    so the mean of both is taken (after Iman, Commun Stat 1976;5:587; from memory). `inflation`, 1
    or more, is how many times the variance is that of independent values. 1 for under three values.
    """
    whole = len(first) + len(second)
    if whole < 3:
        return 1.0
    z_squared = rank_sum_z(first, second) ** 2 / inflation
    by_normal = _two_sided(sqrt(z_squared))
    rest = whole - 1 - z_squared
    if rest <= 0:  # only two values differ, and the groups part them wholly
        return by_normal / 2
    return (by_normal + student_p(sqrt(z_squared * (whole - 2) / rest), whole - 2)) / 2


def student_p(t: float, degrees: int) -> float:
    """The two-sided chance of `t` or more under Student's t with so many degrees of freedom."""
    return _incomplete_beta(degrees / 2, 0.5, degrees / (degrees + t * t))


def more_often_p(with_both: int, with_first: int, with_second: int, of: int) -> float:
    """The one-sided chance of two things falling together on so many days or more.

    Fisher's exact test: `with_first` of `of` days have the one, `with_second` the other,
    `with_both` both.
    """
    most = min(with_first, with_second)
    ways = sum(
        comb(with_first, both) * comb(of - with_first, with_second - both)
        for both in range(with_both, most + 1)
    )
    return ways / comb(of, with_second)


def holm(chances: Iterable[float]) -> list[float]:
    """Chances of several comparisons made at once, each adjusted so that it answers for all.

    Holm, Scand J Stat 1979;6:65 (from memory). The order is kept.
    """
    given = list(chances)
    adjusted = [0.0] * len(given)
    highest = 0.0
    for passed, place in enumerate(sorted(range(len(given)), key=given.__getitem__)):
        highest = max(highest, min(1.0, (len(given) - passed) * given[place]))
        adjusted[place] = highest
    return adjusted


def variance_inflation(days: Sequence[int], is_in_group: Sequence[bool], r: float) -> float:
    """How many times the variance of a difference between groups of days is that of free days.

    The days (numbers in order) hang together with r, r², r³ ... at 1, 2, 3 ... days apart. Never
    under 1, so that a guess at r can't make a difference look surer than free days would.
    """
    whole = len(days)
    inside = sum(is_in_group)
    if r <= 0 or not 0 < inside < whole:
        return 1.0
    weights = [is_in - inside / whole for is_in in is_in_group]
    squares = sum(weight * weight for weight in weights)
    together = 0.0
    for place, day in enumerate(days):
        for later in range(place + 1, whole):
            apart = days[later] - day
            if apart > _FURTHEST_DAYS_APART:
                break
            together += weights[place] * weights[later] * r**apart
    return max(1.0, 1 + 2 * together / squares)


def day_to_day(days: Sequence[int], values: Sequence[float]) -> tuple[float, int]:
    """The correlation of values on consecutive days, and from how many pairs of days."""
    centre = sum(values) / len(values) if values else 0.0
    centred = [value - centre for value in values]
    spread = sum(value * value for value in centred)
    products = [
        centred[place] * centred[place + 1]
        for place in range(len(days) - 1)
        if days[place + 1] - days[place] == 1
    ]
    if not products or spread == 0:
        return 0.0, len(products)
    return (sum(products) / len(products)) / (spread / len(values)), len(products)


# r to a higher power than this adds nothing that could be seen.
_FURTHEST_DAYS_APART = 7


def _incomplete_beta(a: float, b: float, x: float) -> float:
    """The regularised incomplete beta function, by its continued fraction (from memory)."""
    if x <= 0 or x >= 1:
        return 0.0 if x <= 0 else 1.0
    if x > (a + 1) / (a + b + 2):
        return 1 - _incomplete_beta(b, a, 1 - x)
    front = exp(lgamma(a + b) - lgamma(a) - lgamma(b) + a * log(x) + b * log1p(-x)) / a
    # Lentz's way of reckoning the fraction; no denominator is nought for these a, b and x.
    c, d = 1.0, 1 / (1 - (a + b) * x / (a + 1))
    value = d
    for step in range(1, 500):
        even = step * (b - step) * x / ((a + 2 * step - 1) * (a + 2 * step))
        odd = -(a + step) * (a + b + step) * x / ((a + 2 * step) * (a + 2 * step + 1))
        for term in (even, odd):
            d = 1 / (1 + term * d)
            c = 1 + term / c
            value *= c * d
        if abs(c * d - 1) < 1e-15:
            break
    return front * value


def _two_sided(z: float) -> float:
    return erfc(z / sqrt(2))
