"""Times with an offset to UTC in a table: instant and clock as Python itself reads them."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from logbook.domain.errors import LayoutWrong
from logbook.domain.readings import Reading
from logbook.exchange.diary_file import FileRead, read_diary
from logbook.exchange.draft import Draft
from logbook.exchange.first_look import look_at
from logbook.exchange.layout_check import check_layout
from logbook.exchange.refusals import Reason

HOME = "America/New_York"
NOW = datetime(2120, 1, 1, tzinfo=UTC)

moments = st.datetimes(
    datetime(1990, 1, 1),
    datetime(2040, 1, 1),
    timezones=st.sampled_from([ZoneInfo("Asia/Kolkata"), ZoneInfo("America/Lima"), UTC]),
).map(lambda at: at.replace(microsecond=at.microsecond // 1_000 * 1_000))


def read(folder: Path, texts: list[str]) -> FileRead:
    """The file as it is found out, with nothing said of its columns."""
    path = folder / "a.csv"
    lines = [f"{text},{90 + n}" for n, text in enumerate(texts)]
    path.write_text("\n".join(["when,mg/dL", *lines]) + "\n", encoding="utf-8")
    draft = Draft.of(look_at(path))
    assert not draft.lacks()
    return read_diary(path, draft.layout("x"), HOME, NOW)


def as_python_reads_it(text: str, reading: Reading) -> None:
    told = datetime.fromisoformat(text)
    if told.tzinfo is None:
        told = told.replace(tzinfo=ZoneInfo(HOME))
    elif not told.utcoffset():  # UTC says nothing of the clock on the wall
        told = told.astimezone(ZoneInfo(HOME))
    told = told.replace(microsecond=0)
    assert reading.at.instant == told
    assert reading.at.wall == told.replace(tzinfo=None)
    assert reading.at.zone == HOME
    assert reading.at.zone_assumed


@given(
    st.lists(moments, min_size=1, max_size=6),
    st.sampled_from("T "),
    st.sampled_from(["minutes", "seconds", "milliseconds"]),
)
def test_a_time_with_its_offset_is_the_one_that_python_reads(
    tmp_path_factory: pytest.TempPathFactory, ats: list[datetime], between: str, to: str
) -> None:
    texts = [at.isoformat(between, to) for at in ats]
    found = read(tmp_path_factory.mktemp("offsets"), texts)
    assert found.refused == ()
    for text, reading in zip(texts, found.readings, strict=True):
        as_python_reads_it(text, reading)


@pytest.mark.parametrize(
    "text",
    [
        "2026-03-01T07:15:00Z",
        "2026-03-01T07:15:00.000Z",
        "2026-07-01 07:15:00+0530",
        "2026-07-01 07:15:00.5-05:00",
        "2026-07-01 07:15:00.500",
    ],
)
def test_as_other_programs_write_it(tmp_path: Path, text: str) -> None:
    (reading,) = read(tmp_path, [text]).readings
    as_python_reads_it(text, reading)


def test_a_layout_that_names_its_zone_knows_the_clock(tmp_path: Path) -> None:
    path = tmp_path / "a.csv"
    path.write_text("2026-07-01T07:15:00Z,128\n", encoding="utf-8")
    layout = check_layout(
        {
            "delimiter": "comma",
            "unit": "mg/dL",
            "zone": "Europe/Berlin",
            "header": False,
            "columns": {"moment": 1, "value": 2},
            "written": {"moment": "%Y-%m-%dT%H:%M:%S%z"},
        },
        "x",
    )
    (reading,) = read_diary(path, layout, HOME, NOW).readings
    assert reading.at.wall == datetime(2026, 7, 1, 9, 15)
    assert reading.at.offset == timedelta(hours=2)
    assert not reading.at.zone_assumed


def test_an_offset_that_no_clock_has_is_refused(tmp_path: Path) -> None:
    found = read(tmp_path, ["2026-07-01T07:15:00+02:00", "2026-07-01T07:15:00+25:00"])
    assert [one.reason for one in found.refused] == [Reason.TIME_IMPOSSIBLE]


@pytest.mark.parametrize("written", [{"date": "%Y-%m-%d%z", "time": "%H:%M"},
                                     {"date": "%Y-%m-%d", "time": "%H:%M%z"}])  # fmt: skip
def test_an_offset_needs_date_and_time_beside_it(written: dict[str, str]) -> None:
    with pytest.raises(LayoutWrong) as caught:
        check_layout(
            {
                "delimiter": "comma",
                "unit": "mg/dL",
                "columns": {"date": 1, "time": 2, "value": 3},
                "written": written,
            },
            "x",
        )
    assert caught.value.facts["why"] == "pattern_wrong"
