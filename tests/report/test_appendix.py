"""The appendix *Method and kit* and the grid's diamonds, read back from the paper.

The figures are held against NumPy and against counts made here from the invented log, not against
the functions that the report asks.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime, timedelta

import numpy as np
import pytest

from logbook.domain.kit.kit_data import KitData
from logbook.domain.moments import Moment, Period
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Slot
from logbook.domain.visit_data import VisitData
from logbook.report.appendix_lows import MOST_LOWS
from logbook.report.options import Paper, Print, ReportOptions
from logbook.report.visit import visit_report
from tests.report.invented import LAST_DAY, invented_visit, reading, visit_data
from tests.report.reading_back import Printed
from tests.report.with_kit import FAILED_AGAIN, LATE_FROM, NEXT_OPENED, PASSED, days_ago, kit_visit


def as_one_line(text: str) -> str:
    return " ".join(text.replace("\N{NO-BREAK SPACE}", " ").split())


def printed(data: VisitData, **options: object) -> Printed:
    made = ReportOptions(appendix=True, grid_days=None, **options)  # type: ignore[arg-type]
    return Printed(visit_report(data, made))


def appendix_of(made: Printed) -> str:
    texts = [made.text(page) for page in range(made.page_count)]
    first = next(n for n, text in enumerate(texts) if text.startswith("Method and kit"))
    return as_one_line(" ".join(texts[first:]))


@pytest.fixture(scope="module")
def data() -> VisitData:
    return kit_visit()


@pytest.fixture(scope="module")
def paper(data: VisitData) -> Iterator[Printed]:
    made = printed(data)
    yield made
    made.close()


@pytest.fixture(scope="module")
def appendix(paper: Printed) -> str:
    return appendix_of(paper)


# --- figures --------------------------------------------------------------------------------------


def test_spread_is_what_numpy_finds(data: VisitData, appendix: str) -> None:
    values = np.array(data.series.steps, dtype=float)
    mean, deviation = values.mean(), values.std(ddof=1)
    quarter, middle, three = np.quantile(values, [0.25, 0.5, 0.75], method="linear")
    assert (
        f"{len(values)} readings: mean {mean:.0f} mg/dL, SD {deviation:.0f} mg/dL,"
        f" CV {100 * deviation / mean:.0f}%."
    ) in appendix
    assert (
        f"Middle value {middle:.0f} mg/dL, middle half {quarter:.0f} to {three:.0f} mg/dL."
    ) in appendix


def test_bands_hold_all_readings(data: VisitData, appendix: str) -> None:
    counts, _edges = np.histogram(data.series.steps, bins=[0, 54, 70, 181, 251, 10_000])
    names = ("below 54", "54 to 69", "70 to 180", "181 to 250", "above 250")
    for name, count in zip(names, counts, strict=True):
        assert f"{name} {count} {100 * count / len(data.series):.0f}%" in appendix


def test_too_few_readings_have_no_spread_and_no_percentage() -> None:
    few = [reading(LAST_DAY, 7 + 4 * n, 101 + n, Slot.OTHER) for n in range(3)]
    made = printed(visit_data(few, Period.ending(LAST_DAY, 90)))
    text = appendix_of(made)
    assert "SD, CV and middle half: too few to tell (3 readings)." in text
    assert "%" not in text.partition("What the figures mean")[0]
    made.close()


def test_the_days_before_stand_beside(data: VisitData, appendix: str) -> None:
    assert "Beside the 90 days before, in mg/dL (before / now)" in appendix
    assert f"All readings {len(data.before)} / {len(data.series)}" in appendix


def test_the_days_of_a_spell_are_left_out_in_a_second_line(data: VisitData, appendix: str) -> None:
    spell = data.spells[0]
    days = [datetime.fromtimestamp(instant / 1e6, UTC).date() for instant in data.series.instants]
    inside = sum(spell.first <= day <= (spell.last or day) for day in days)
    assert inside
    assert "Without 7 days of: Steroid course" in appendix
    told = re.findall(r"(All days|Without them): (\d+) readings", appendix)
    assert told[0] == ("All days", str(len(data.series)))
    assert told[1] == ("Without them", str(len(data.series) - inside))


def test_bedtime_and_fasting_are_paired(appendix: str) -> None:
    found = re.search(
        r"Bedtime to fasting \(before breakfast\) (\d+) ([−+±]\d+) ([−+]\d+) to ([−+]\d+)", appendix
    )
    assert found is not None
    assert 0 < int(found[1]) <= 90


# --- lows and calls -------------------------------------------------------------------------------


def test_each_low_is_listed_with_what_followed(data: VisitData, appendix: str) -> None:
    low = [steps for steps in data.series.steps if steps < 70]
    assert low
    rows = appendix.partition("Lows, one by one")[2].partition("To call about")[0]
    for steps in low:
        assert f"{steps} mg/dL" in rows
    assert rows.count("felt") == 2
    assert "helped" in rows
    assert re.search(r"\d+ lows\. Checked again within 2 hours: \d+\.", rows)


def test_the_list_of_lows_has_an_end() -> None:
    many = [reading(LAST_DAY, hours, 60, Slot.OTHER) for hours in (6, 12, 18)]
    readings = [
        replace(one, id=type(one.id)(int=back * 10 + n), at=moved(one.at, back))
        for back in range(40)
        for n, one in enumerate(many)
    ]
    made = printed(visit_data(readings, Period.ending(LAST_DAY, 90)))
    text = appendix_of(made)
    assert f"The latest {MOST_LOWS} of 120 lows are listed." in text
    rows = text.partition("are listed.")[2].partition("To call about")[0]
    assert rows.count("60 mg/dL") == MOST_LOWS
    made.close()


def moved(at: Moment, days: int) -> Moment:
    return Moment.from_wall(at.wall - timedelta(days=days), "UTC")


def test_every_reason_to_call_says_whether_the_person_called(appendix: str) -> None:
    calls = appendix.partition("To call about")[2].partition("Laboratory A1C")[0]
    assert "Someone had to help with a low (Feb 25): not called yet." in calls
    assert calls.count("not called yet") >= 2


# --- beside the log -------------------------------------------------------------------------------


def test_a1c_stands_beside_the_mean_of_the_90_days_before(data: VisitData, appendix: str) -> None:
    drawn = data.a1cs[0].drawn_on
    starts = np.datetime64(drawn) - np.timedelta64(90, "D")
    days = np.array(data.reach.wall_minutes, dtype="datetime64[m]") - np.timedelta64(4, "h")
    inside = (days >= starts) & (days < np.datetime64(drawn))
    values = np.array(data.reach.steps)[inside]
    assert "Laboratory A1C of March 21, 2026: 7.2% (55 mmol/mol)." in appendix
    # 28.7 × 7.2 − 46.7 = 159.9 (Nathan 2008).
    assert "an average of 160 mg/dL went with such an A1C" in appendix
    assert (
        f"in the 90 days before it: {values.mean():.0f} mg/dL ({len(values)} readings)." in appendix
    )
    assert "Sep 22, 2025 7.6% (60 mmol/mol)" in appendix


def test_the_meters_average_proves_nothing(appendix: str) -> None:
    assert "The meter shows an average of 140 mg/dL from 60 readings over 14 days." in appendix
    assert "It does not show that either is right." in appendix


def test_planned_checks_are_counted_by_time_of_day(data: VisitData, appendix: str) -> None:
    fasting = {
        (minute - 240) // 1440
        for minute, slot in zip(data.series.wall_minutes, data.series.slots, strict=True)
        if slot is Slot.FASTING
    }
    assert f"Fasting (before breakfast) {len(fasting)} of 90" in appendix


def test_planned_checks_of_all_weeks_are_those_of_all_times_of_day(appendix: str) -> None:
    """Both ways of counting have to give the same sums as the sentence above them."""
    told = appendix.partition("Checks planned and done")[2].partition("By week:")
    total = re.search(r"Planned checks done: (\d+) of (\d+)\.", told[0])
    assert total is not None
    weeks = re.findall(r"(\d+) of (\d+)", told[2].partition(".")[0])
    by_slot = re.findall(r"(\d+) of (\d+)", told[0][total.end() :])
    whole = tuple(map(int, total.groups()))
    for counted in (weeks, by_slot):
        assert (sum(int(a) for a, _ in counted), sum(int(b) for _, b in counted)) == whole


# --- kit ------------------------------------------------------------------------------------------


def between(data: VisitData, first: datetime, last: datetime) -> int:
    ends = [int(one.timestamp() * 1e6) for one in (first, last)]
    return sum(ends[0] < instant <= ends[1] for instant in data.series.instants)


def in_question(data: VisitData) -> tuple[int, int]:
    """Readings with strips past their date, and those between the pass and the second fail."""
    late, ended = days_ago(LATE_FROM - 1), days_ago(NEXT_OPENED)
    first = datetime(late.year, late.month, late.day, 4, tzinfo=data.kit.vials[0].written_at.tzinfo)
    last = datetime(ended.year, ended.month, ended.day, 6, tzinfo=first.tzinfo)
    tests = {one.at.wall.date(): one.at.instant for one in data.kit.control_tests}
    return (
        between(data, first, last),
        between(data, tests[days_ago(PASSED)], tests[days_ago(FAILED_AGAIN)]),
    )


def test_readings_in_question_are_counted(data: VisitData, appendix: str) -> None:
    late, doubtful = in_question(data)
    assert late > 5
    assert doubtful > 5
    assert f"{late} readings were made with strips past their use-until date." in appendix
    assert f"{doubtful} readings lie between the last passed control test" in appendix


def test_each_of_them_has_a_diamond_in_the_grid_and_no_other(data: VisitData) -> None:
    sound = replace(data, kit=KitData(meters=data.meters))
    with_diamonds, without = printed(data), printed(sound)
    assert "Diamond: " in with_diamonds.whole_text
    assert "Diamond: " not in without.whole_text
    grids = [
        sum(
            made.path_count(page)
            for page in range(1, made.page_count)
            if "Every day" in made.text(page)
        )
        for made in (with_diamonds, without)
    ]
    assert grids[0] - grids[1] == sum(in_question(data))
    with_diamonds.close()
    without.close()


def test_control_tests_are_listed_and_are_no_readings(data: VisitData, appendix: str) -> None:
    assert "4 made: 2 passed, 2 failed, 0 without a range." in appendix
    assert "A control test is never a reading and is in no figure." in appendix
    assert "Mar 22, 2026 · failed · bedside · 171 mg/dL; the range is 104 to 141 mg/dL" in appendix
    assert f"{len(data.series)} readings: mean" in appendix


def test_vials_and_lots_stock_meters_and_questions_are_told(appendix: str) -> None:
    for part in (
        "bedside · Strip pot (vial) · lot INV-one · opened Jan 30, 2026",
        "lot INV-two",
        "bedside · Dropped",
        "clock is 4 minutes ahead",
        "139 mg/dL and 128 mg/dL. Meter and laboratory agree",
        "I use insulin and have no glucagon in date.",
        "Stock on March 31, 2026",
        "Glucose tablets: kitchen.",
        "Medicine taken late · evening dose two hours late",
        "Pielou’s J",
    ):
        assert part in appendix, part


def test_a_person_without_control_solution_is_not_asked_for_tests() -> None:
    data = kit_visit()
    settings = replace(data.settings, has_control_solution=False)
    kit = replace(data.kit, control_tests=())
    made = printed(replace(data, settings=settings, kit=kit))
    text = appendix_of(made)
    assert "There is no control solution, so no control tests are made." in text
    assert "on record." not in text.partition("Control tests")[2].partition("Meters")[0]
    made.close()


def test_a_log_without_a_kit_has_no_empty_headings() -> None:
    made = printed(replace(invented_visit(), meters=()))
    text = appendix_of(made)
    for heading in ("Strips used", "Control tests ", "Stock on", "Laboratory A1C and", "Pairs:"):
        assert (heading in text) == (heading == "Pairs:"), heading
    made.close()


def test_own_limits_and_named_days_are_told_and_usual_ones_are_not(appendix: str) -> None:
    assert "Limits chosen" not in appendix
    assert "Days compared" not in appendix
    data = kit_visit()
    groups = (("dialysis", "024"),)
    own = replace(data.settings, low_repeat_days=28, high_margin=30, day_groups=groups)
    made = printed(replace(data, settings=own))
    told = appendix_of(made)
    made.close()
    assert "Limits chosen for this log: lows within 28 days (usual: 14 days), " in told
    assert "middle value 30 mg/dL above target (usual: 20 mg/dL)." in told
    assert "Days compared beside weekends: dialysis (Mon, Wed, Fri)." in told


def test_an_empty_log_has_an_appendix() -> None:
    made = printed(visit_data([], Period.ending(LAST_DAY, 90), LogSettings(home_zone="UTC")))
    assert "What the figures mean" in appendix_of(made)
    made.close()


@pytest.mark.parametrize("paper_kind", list(Paper))
@pytest.mark.parametrize("print_kind", list(Print))
def test_nothing_runs_over_the_edge(data: VisitData, paper_kind: Paper, print_kind: Print) -> None:
    made = printed(data, paper=paper_kind, print=print_kind)
    for page in range(made.page_count):
        width, _height = made.size(page)
        for left, _bottom, right, _top in made.drawn_boxes(page):
            assert left > 54
            assert right < width - 54
    made.close()
