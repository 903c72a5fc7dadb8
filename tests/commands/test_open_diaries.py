"""All ten open diaries, through the command `import`, against figures computed elsewhere."""

import csv
import json
import math
import os
import re
from pathlib import Path

import pytest

from logbook.book import Book
from logbook.commands.export_file import export_log
from logbook.commands.import_file import ImportOutcome, ImportWish, import_file
from logbook.domain.moments import Moment
from tests.commands.command_runs import (
    DATA,
    DIARY,
    clock,
    run,
)

HOME = "America/New_York"


def _expected_diaries() -> list[dict[str, str]]:
    with (DATA / "open_diaries_expected.csv").open(encoding="utf-8") as file:
        return list(csv.DictReader(file))


def _numbers_sharing_a_minute(diary: Path) -> int:
    """Glucose lines (codes 48 and 57 to 64) of one date and time with others, counted."""
    minutes: dict[tuple[str, str], list[str]] = {}
    with diary.open(encoding="utf-8", errors="replace", newline="") as file:
        for fields in csv.reader(file, delimiter="\t"):
            if len(fields) == 4 and fields[2] in {"48", *map(str, range(57, 65))}:
                minutes.setdefault((fields[0], fields[1]), []).append(fields[3])
    return sum(len(numbers) for numbers in minutes.values() if len(numbers) > 1)


@pytest.fixture(scope="module")
def open_data() -> Path:
    folder = os.environ.get("LOGBOOK_OPEN_DATA")
    if not folder:
        pytest.skip("LOGBOOK_OPEN_DATA does not say where the open diaries are")
    return Path(folder) / "uci-diabetes"


@pytest.mark.parametrize("expected", _expected_diaries(), ids=lambda row: row["file"])
def test_an_open_diary_comes_in_whole(
    expected: dict[str, str], open_data: Path, log: Path, tmp_path: Path
) -> None:
    """Source: the ten diaries of M. Kahn, "Diabetes", UCI, doi 10.24432/C5T59G.

    The expected figures were computed from the files with plain Python and with NumPy, apart from
    this program.
    """
    refused = tmp_path / "refused.csv"
    sharing = _numbers_sharing_a_minute(open_data / expected["file"])
    assert sharing == (2 if expected["file"] == "data-27" else 0)
    arguments = ("import", open_data / expected["file"], *DIARY, "--log", log)
    done = run(*arguments, "--refused", refused)
    assert (done.status, done.err) == (0, "")
    assert re.search(rf"^Lines read +{int(expected['lines']):,}$", done.out, re.MULTILINE)
    shared = re.search(r"^Same time as another +(\d+)$", done.out, re.MULTILINE)
    assert int(shared[1] if shared else 0) == sharing
    with refused.open(encoding="utf-8", newline="") as file:
        told = [f"{row['number']}:{row['reason']}" for row in csv.DictReader(file)]
    assert told == expected["refused"].split()

    found = json.loads(run("summary", "--json", "--from", "1980-01-01", "--log", log).out)
    numbers, low, high = (int(expected[k]) for k in ("numbers", "reads_low", "reads_high"))
    assert found["readings"] == {
        "count": numbers + low + high,
        "numbers": numbers,
        "reads_low": low,
        "reads_high": high,
        "rechecks": 0,
        "not_believed": 0,
        "crossed_out": 0,
    }
    figures = found["figures"]
    assert math.isclose(figures["mean"], float(expected["mean"]), abs_tol=1e-4)
    assert math.isclose(figures["sd"], float(expected["sd"]), abs_tol=1e-4)
    assert figures["min"] == float(expected["min"])
    assert figures["max"] == float(expected["max"])
    assert figures["median"] == float(expected["median_of_all"])
    if expected["file"] == "data-02":
        assert (figures["q1"], figures["q3"]) == (141, 251.25)
    assert found["bands"] == {
        "below_54": int(expected["below_54"]) + low,
        "54_to_69": int(expected["54_to_69"]),
        "70_to_180": int(expected["70_to_180"]),
        "181_to_250": int(expected["181_to_250"]),
        "above_250": int(expected["above_250"]) + high,
    }
    assert sum(slot["count"] for slot in found["slots"]) <= numbers + low + high

    twice = run(*arguments)
    assert re.search(r"^Added +0$", twice.out, re.MULTILINE)
    with Book.open(log, clock) as book:
        assert len(book.readings()) == numbers + low + high
        book.undo()
        assert book.readings() == []


@pytest.mark.parametrize("expected", _expected_diaries(), ids=lambda row: row["file"])
def test_an_open_diary_goes_out_and_comes_in_again_equal(
    expected: dict[str, str], open_data: Path, log: Path, tmp_path: Path
) -> None:
    """The same source: out as tables, as an archive of them, and as FHIR; each in again."""

    def take_in(file: Path, into: Path, layout: str = "") -> ImportOutcome:
        return import_file(ImportWish(file, into, layout), clock, HOME)

    diary = open_data / expected["file"]
    take_in(diary, log, "four-column-diary")
    with Book.open(log, clock, read_only=True) as book:
        before = book.readings()
    assert before
    now = Moment.at(clock(), HOME)
    for name, form in (("out.csv", "csv"), ("out.zip", "csv"), ("out.json", "fhir")):
        out, again = tmp_path / name, tmp_path / f"again-{name}.logbook"
        assert list(export_log(log, form, out, now, clock))
        assert take_in(out, again).added == len(before)
        with Book.open(again, clock, read_only=True) as book:
            assert book.readings() == before
        assert take_in(out, log).added == 0
        assert take_in(diary, again, "four-column-diary").added == 0
