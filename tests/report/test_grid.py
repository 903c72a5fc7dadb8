"""The grid on paper: every reading, every mark, no day left out."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from datetime import date, timedelta

import pytest

from logbook.domain.happenings import What
from logbook.domain.moments import Period
from logbook.domain.readings import Source
from logbook.domain.slots import Slot
from logbook.domain.summary import summarise
from logbook.domain.visit_data import VisitData
from logbook.report.visit import Paper, ReportOptions, visit_report
from logbook.wording.manner import Manner
from tests.report.invented import (
    FOUR_A_DAY,
    LAST_DAY,
    SEVEN_A_DAY,
    USUAL,
    invented_readings,
    invented_visit,
    long_series,
    reading,
    series_of,
    visit_data,
)
from tests.report.reading_back import Printed

MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")


def printed(data: VisitData, **options: object) -> Printed:
    return Printed(visit_report(data, ReportOptions(**options)))  # type: ignore[arg-type]


def day_name(day: date) -> str:
    return f"{WEEKDAYS[day.weekday()]} {MONTHS[day.month - 1]} {day.day}"


def grid_lines(made: Printed) -> list[str]:
    pages = (n for n in range(made.page_count) if "Every day" in made.text(n))
    return [line for page in pages for line in made.lines(page)]


def row_of(lines: list[str], day: date) -> str:
    """All that stands beside a day, on the pages of its morning and of its evening."""
    name = day_name(day)
    parts = [line[len(name) :] for line in lines if line == name or line.startswith(f"{name} ")]
    assert parts, day
    return name + "".join(parts)


@pytest.fixture
def oddities() -> Iterator[tuple[VisitData, list[str], Printed]]:
    data = invented_visit()
    made = printed(data)
    yield data, grid_lines(made), made
    made.close()


def test_each_day_has_one_row_in_order() -> None:
    made = printed(invented_visit(), grid_days=14)
    names = [day_name(LAST_DAY - timedelta(days=n)) for n in reversed(range(14))]
    rows = [line for line in grid_lines(made) if line.startswith(WEEKDAYS)]
    assert [" ".join(row.split()[:3]) for row in rows] == names
    made.close()


@pytest.mark.parametrize("slots", [FOUR_A_DAY, SEVEN_A_DAY, tuple(USUAL)], ids=len)
@pytest.mark.parametrize("paper", list(Paper))
def test_every_value_of_every_day_stands_in_its_row(slots: tuple[Slot, ...], paper: Paper) -> None:
    period = Period.ending(LAST_DAY, 60)
    data = visit_data(invented_readings(period, slots, seed=5), period)
    made = printed(data, paper=paper, grid_days=None)
    lines = grid_lines(made)
    series = data.series
    for day in period:
        wanted = Counter(
            str(series.steps[n])
            for n, wall in enumerate(series.wall_minutes)
            if date(1970, 1, 1) + timedelta(days=(wall - 240) // 1440) == day
        )
        shown = Counter(row_of(lines, day).split()[3:])
        assert not wanted - shown, (day, wanted, row_of(lines, day))
    made.close()


def test_ten_years_have_every_day_and_every_reading() -> None:
    series = long_series(3650, (Slot.FASTING, Slot.BEFORE_DINNER))
    period = Period.ending(LAST_DAY, 3650)
    made = printed(replace(visit_data((), period), series=series), grid_days=None)
    lines = grid_lines(made)
    rows = {" ".join(line.split()[:3]): line.split()[3:] for line in lines if line[:3] in MONTHS}
    assert len(rows) == 3650
    shown = sum(word.isdigit() for words in rows.values() for word in words)
    assert shown == len(series)
    made.close()


def test_odd_readings_are_written_as_they_are(
    oddities: tuple[VisitData, list[str], Printed],
) -> None:
    data, lines, made = oddities
    days = {r.at.wall.date(): r for r in data.noted}
    doubted = next(r for r in data.noted if r.doubt)
    assert f"({doubted.glucose.text})" in row_of(lines, doubted.at.wall.date())
    foreign = next(r for r in data.noted if r.is_foreign)
    assert f"{foreign.glucose.text} *" in row_of(lines, foreign.at.wall.date())
    assert any(" HI" in line and line.startswith(WEEKDAYS) for line in lines)
    assert any("LO LL" in line for line in lines)
    assert len(days) >= 4
    text = " ".join(lines)
    for words in (
        "L: low, below 70 mg/dL (3.9 mmol/L). LL: very low, below 54 (3.0).",
        "Clock: written down on a later day.",
        "Line through a number: crossed out, in no figure.",
        "In brackets: not believed, in no figure.",
        "*: from another meter",
        "Corrected: Mar 28 181: earlier 134 mg/dL",
        "Felt low and",
    ):
        assert words in text, words
    assert made.page_count >= 2


def test_signs_that_do_not_occur_are_not_explained() -> None:
    period = Period.ending(LAST_DAY, 10)
    plain = [reading(day, 7, 120, Slot.FASTING) for day in period]
    made = printed(visit_data(plain, period))
    text = " ".join(grid_lines(made))
    assert "Clock" not in text
    assert "LL" not in text
    assert "crossed" not in text
    made.close()


def test_l_stands_only_beside_low_and_very_low() -> None:
    period = Period.ending(LAST_DAY, 7)
    values: tuple[int | str, ...] = (53, 54, 69, 70, 71, "LO", "HI")
    readings = [
        reading(day, 7, value, Slot.FASTING) for day, value in zip(period, values, strict=True)
    ]
    made = printed(visit_data(readings, period))
    lines = grid_lines(made)
    shown = [row_of(lines, day).split(maxsplit=3)[3] for day in period]
    assert shown == ["53 LL", "54 L", "69 L", "70", "71", "LO LL", "HI"]
    made.close()


def test_a_crossed_out_number_has_a_line_through_it_and_a_late_one_a_clock() -> None:
    period = Period.ending(LAST_DAY, 3)
    plain = [reading(day, 7, 120, Slot.FASTING) for day in period]
    crossed = [*plain[:2], replace(plain[2], crossed_out=invented_visit().noted[-1].crossed_out)]
    assert crossed[2].crossed_out is not None
    late = [
        *plain[:2],
        replace(plain[2], written_at=plain[2].at.instant + timedelta(days=2), source=Source.TYPED),
    ]
    counts = []
    for readings in (plain, crossed, late):
        made = printed(visit_data(readings, period))
        counts.append(made.path_count(1))
        made.close()
    assert counts[1] == counts[0] + 1  # the line
    assert counts[2] == counts[0] + 2  # the clock's round and its hands


def test_the_clock_time_stands_under_a_value_only_when_it_is_unusual() -> None:
    period = Period.ending(LAST_DAY, 5)
    hours = (7.0, 7.5, 7.0, 8.5, 7.0)
    readings = [
        reading(day, hour, 120, Slot.FASTING) for day, hour in zip(period, hours, strict=True)
    ]
    made = printed(visit_data(readings, period), manner=Manner("en_GB"))
    lines = grid_lines(made)
    assert "08:30" in lines
    assert not any("07:30" in line for line in lines)
    made.close()


def test_the_foot_has_the_domains_figures_for_the_grids_own_days() -> None:
    data = invented_visit()
    period = Period.ending(LAST_DAY, 14)
    summary = summarise(
        data.series, period, data.settings, data.targets, data.happenings, data.answers
    )
    made = printed(data, grid_days=14)
    lines = grid_lines(made)
    checks = next(line for line in lines if line.startswith("Checks "))
    assert checks.split()[1:] == [str(slot.count) for slot in summary.slots]
    lows = next(line for line in lines if line.startswith("Lows "))
    assert lows.split()[1:] == [str(slot.low) for slot in summary.slots]
    middle = next(line for line in lines if line.startswith("Middle value "))
    assert middle.split()[2:] == [
        str(int((slot.figures.median or 0) + 0.5)) for slot in summary.slots
    ]
    made.close()


def test_a_change_has_its_own_line_above_its_day() -> None:
    made = printed(invented_visit())
    lines = grid_lines(made)
    place = lines.index("Mar 11: Steroid course begins, for the shoulder")
    assert lines[place + 1].startswith("Wed Mar 11")
    assert lines[lines.index("Mar 18: Steroid course over") + 1].startswith("Wed Mar 18")
    made.close()


def test_a_long_gap_is_told_in_one_line_only_when_every_day_is_printed() -> None:
    period = Period.ending(LAST_DAY, 400)
    days = [period.first, period.last]
    data = visit_data([reading(day, 7, 120, Slot.FASTING) for day in days], period)
    made = printed(data, grid_days=None)
    assert any("nothing written on 398 days" in line for line in grid_lines(made))
    made.close()
    made = printed(data, grid_days=28)
    assert sum(line.startswith(WEEKDAYS) for line in grid_lines(made)) == 28
    made.close()


def test_readings_in_two_units_keep_their_own() -> None:
    period = Period.ending(LAST_DAY, 2)
    mixed = [reading(period.first, 7, 128, Slot.FASTING), reading(LAST_DAY, 7, 128, Slot.FASTING)]
    data = visit_data(mixed, period)
    units = (data.series.units[0], data.series.units[1].other)
    series = replace(series_of(mixed), units=units, steps=(128, 71))
    made = printed(replace(data, series=series))
    assert any(line.endswith("7.1 mmol/L") for line in grid_lines(made))
    made.close()


def test_a_damaged_reading_is_never_shown_as_a_number() -> None:
    period = Period.ending(LAST_DAY, 2)
    readings = [
        reading(period.first, 7, 128, Slot.FASTING),
        reading(LAST_DAY, 7, 317, Slot.FASTING, is_damaged=True, note="still here"),
    ]
    made = printed(visit_data(readings, period), appendix=True)
    assert row_of(grid_lines(made), LAST_DAY).endswith(" damaged")
    assert "317" not in made.whole_text
    assert "still here" in made.whole_text
    made.close()


def test_what_happened_without_any_reading_is_a_list() -> None:
    period = Period.ending(LAST_DAY, 28)
    happened = invented_visit().happenings
    made = printed(replace(visit_data((), period), happenings=happened))
    rows = [line for line in grid_lines(made) if line.startswith(WEEKDAYS)]
    assert rows == ["Sat Mar 28 3:18 PM Felt low and treated it"]
    made.close()


def test_a_failed_strip_alone_makes_no_grid() -> None:
    period = Period.ending(LAST_DAY, 28)
    strip = replace(invented_visit().happenings[0], what=What.STRIP_FAILED)
    made = printed(replace(visit_data((), period), happenings=(strip,)))
    assert made.page_count == 1
    made.close()
