"""Weekends and drifts of the open diaries against SciPy, and shifts planted into the diaries."""

from __future__ import annotations

from datetime import date, time
from functools import cache
from itertools import groupby

import numpy as np
import pytest
from scipy import stats

from logbook.domain.findings import FindingKind
from logbook.domain.findings.comparisons import Comparison, day_groups, drifts
from logbook.domain.findings.finding import PartOfDay
from logbook.domain.findings.material import material_of
from logbook.domain.findings.review import find_over_weeks
from logbook.domain.moments import Period
from logbook.domain.readings import Reading
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Slot
from logbook.domain.targets import TargetBook
from tests.domain.open_diaries import DIARIES, diary_lines, needs_open_data
from tests.domain.series_of import reading, series_of

pytestmark = needs_open_data

SLOTS = {
    48: Slot.OTHER,
    57: Slot.OTHER,
    58: Slot.FASTING,
    59: Slot.AFTER_BREAKFAST,
    60: Slot.BEFORE_LUNCH,
    61: Slot.AFTER_LUNCH,
    62: Slot.BEFORE_DINNER,
    63: Slot.AFTER_DINNER,
    64: Slot.BEFORE_SNACK,
}
SETTINGS = LogSettings(day_starts_at=time(0))
# Under four weeks of checks, so nothing is compared.
TOO_SHORT = {"data-40"}


def _shown(text: str) -> float:
    return {"LO": 20.0, "HI": 600.0}.get(text) or float(text)


def _readings(diary: str, more_at_weekends: float = 0) -> list[Reading]:
    found = []
    for wall, code, shown in diary_lines(diary):
        if code in SLOTS:
            is_shifted = shown.isdigit() and wall.weekday() >= 5
            value = str(round(int(shown) + more_at_weekends)) if is_shifted else shown
            found.append(reading(wall.isoformat(" "), value, SLOTS[code]))
    return found


def _period(readings: list[Reading]) -> Period:
    days = [one.at.wall.date() for one in readings]
    return Period(min(days), max(days))


@cache
def _compared(diary: str) -> list[Comparison]:
    readings = _readings(diary)
    period = _period(readings)
    material = material_of(series_of(readings), period, SETTINGS, TargetBook(()), (), ())
    return [*day_groups(material, period), *drifts(material, period)]


def _value_of_each_day(diary: str) -> dict[date, float]:
    """Reckoned again with NumPy: how far a day's values lie from the medians of their slots."""
    lines = [
        (wall, SLOTS[code], _shown(text))
        for wall, code, text in diary_lines(diary)
        if code in SLOTS
    ]
    medians = {
        slot: np.median([value for _, of, value in lines if of is slot])
        for slot in {slot for _, slot, _ in lines}
    }
    return {
        day: float(np.mean([value - medians[slot] for _, slot, value in of_day]))
        for day, of_day in groupby(lines, key=lambda line: line[0].date())
    }


@pytest.mark.parametrize("diary", sorted(set(DIARIES) - TOO_SHORT))
def test_the_weekend_is_as_significant_as_scipy_says(diary: str) -> None:
    values = _value_of_each_day(diary)
    weekend = [value for day, value in values.items() if day.weekday() >= 5]
    others = [value for day, value in values.items() if day.weekday() < 5]
    expected = stats.mannwhitneyu(weekend, others, use_continuity=False, method="asymptotic")
    [ours] = [
        one
        for one in _compared(diary)
        if one.finding.kind is FindingKind.DAY_GROUP and one.finding.part is PartOfDay.WHOLE_DAY
    ]
    assert (ours.finding.count, ours.finding.of) == (len(weekend), len(values))
    # Days that hang together make ours a little less sure than SciPy's free days.
    assert ours.chance == pytest.approx(expected.pvalue, rel=0.4)
    assert (ours.chance < 0.05) == (expected.pvalue < 0.05)


def test_a_diary_of_a_week_compares_nothing() -> None:
    assert _compared("data-40") == []


@pytest.mark.parametrize("diary", DIARIES)
def test_drift_is_as_significant_as_scipy_says(diary: str) -> None:
    readings = _readings(diary)
    period = _period(readings)
    weeks = period.days // 7
    first = Period.ending(period.last, weeks * 7).first
    for ours in _compared(diary):
        if ours.finding.kind is not FindingKind.DRIFT:
            continue
        by_week: dict[int, list[float]] = {}
        for one in readings:
            week = (one.at.wall.date() - first).days // 7
            if one.slot is ours.finding.slot and week >= 0:
                by_week.setdefault(week, []).append(_shown(one.glucose.text))
        kept = {week: np.median(of) for week, of in by_week.items() if len(of) >= 2}
        places, middles = list(kept), list(kept.values())
        tau = stats.kendalltau(places, middles, method="asymptotic")
        slope = stats.theilslopes(middles, places).slope
        assert ours.chance == pytest.approx(tau.pvalue, rel=1e-9)
        assert ours.finding.change == pytest.approx(slope * (places[-1] - places[0]), abs=1e-9)
        assert ours.finding.count == len(kept)


@pytest.mark.parametrize("diary", sorted(set(DIARIES) - TOO_SHORT))
def test_a_shift_planted_into_the_weekends_is_found(diary: str) -> None:
    plain = [_shown(one.glucose.text) for one in _readings(diary)]
    shifted = _readings(diary, more_at_weekends=1.5 * float(np.std(plain)))
    period = _period(shifted)
    found = find_over_weeks(series_of(shifted), period, SETTINGS, as_report=True)
    groups = [one for one in found if one.group == "weekend"]
    assert len(groups) == 1
    assert groups[0].change is not None
    assert groups[0].change > 0
