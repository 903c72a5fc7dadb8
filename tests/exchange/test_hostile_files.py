"""Files that were made to harm: memory stays bounded, and all that comes out is plain words."""

import subprocess
import sys
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from logbook.domain.errors import CannotRead
from logbook.exchange.diary_file import read_diary
from logbook.exchange.layout_files import find_layout
from logbook.exchange.refusals import Reason
from logbook.exchange.sentences import import_problem_text

DIARY = find_layout("four-column-diary")
TABLE = find_layout("readings-mg-dl")
HEADINGS = "date,time,value,unit,slot,minutes after,site,note\n"
GOOD = "03-01-2026\t7:15\t58\t128\n"


def _write(tmp_path: Path, text: str) -> Path:
    path = tmp_path / "hostile.txt"
    path.write_bytes(text.encode("utf-8", "surrogatepass"))
    return path


def test_one_line_of_ten_million_characters_is_refused_and_the_next_is_read(
    tmp_path: Path, now: datetime
) -> None:
    path = _write(tmp_path, "9" * 10_000_000 + "\n" + GOOD)
    found = read_diary(path, DIARY, "UTC", now)
    assert [line.reason for line in found.refused] == [Reason.LINE_TOO_LONG]
    assert len(found.refused[0].text) <= 1001
    assert len(found.readings) == 1


def test_a_line_of_just_the_longest_length_is_read(tmp_path: Path, now: datetime) -> None:
    line = "2026-03-01,07:15,128,,,,,"
    for length, taken in ((10_000, 1), (10_001, 0)):
        path = _write(tmp_path, HEADINGS + line + "n" * (length - len(line)) + "\n")
        assert len(read_diary(path, TABLE, "UTC", now).readings) == taken


def test_a_quotation_mark_that_is_never_closed_costs_one_line(
    tmp_path: Path, now: datetime
) -> None:
    good = "2026-03-01,07:{n:02d},128,,,,,\n"
    lines = "".join(good.format(n=n) for n in range(50))
    path = _write(tmp_path, HEADINGS + '2026-03-01,07:15,128,,,,,"oh\n' + lines)
    found = read_diary(path, TABLE, "UTC", now)
    assert [(line.number, line.reason) for line in found.refused] == [(2, Reason.QUOTES_WRONG)]
    assert len(found.readings) == 50


_READ = """
import resource, sys
from datetime import UTC, datetime
from pathlib import Path
from typing import Any
from logbook.exchange.diary_file import read_diary
from logbook.exchange.layout_files import find_layout
path, how = Path(sys.argv[1]), sys.argv[2]
layout = find_layout("four-column-diary")
small = path.with_name("small.txt")
read_diary(small, layout, "UTC", datetime(2026, 3, 31, tzinfo=UTC))
pages = int(Path("/proc/self/statm").read_text().split()[0])
most = pages * resource.getpagesize() + 15 * 2**20
resource.setrlimit(resource.RLIMIT_AS, (most, most))
if how == "by line":
    print(read_diary(path, layout, "UTC", datetime(2026, 3, 31, tzinfo=UTC)).lines)
else:
    print(len(path.read_text().splitlines()))
"""


def test_very_many_lines_need_no_more_memory_than_a_few(tmp_path: Path) -> None:
    """A process that may grow by 15 MB reads them line by line; all at once it could not."""
    skipped = "03-01-2026\t7:15\t33\t006\n"
    (tmp_path / "small.txt").write_text(skipped, encoding="utf-8")
    path = tmp_path / "long.txt"
    path.write_text(skipped * 300_000, encoding="utf-8")

    def run(how: str) -> subprocess.CompletedProcess[str]:
        return subprocess.run(
            [sys.executable, "-c", _READ, path, how],
            cwd=Path(__file__).parents[2],
            capture_output=True,
            text=True,
            check=False,
        )

    done = run("by line")
    assert (done.stdout, done.stderr) == ("300000\n", "")
    control = run("all at once")
    assert "MemoryError" in control.stderr


@pytest.mark.parametrize(
    ("line", "limits", "why"),
    [
        (GOOD, {"most_readings": 10}, "too_many_readings"),
        ("nothing\n", {"most_refused": 10}, "too_many_refused"),
    ],
)
def test_a_file_with_too_many_lines_is_told(
    tmp_path: Path, line: str, limits: dict[str, Any], why: str, now: datetime
) -> None:
    assert read_diary(_write(tmp_path, line * 10), DIARY, "UTC", now, **limits).lines == 10
    with pytest.raises(CannotRead) as caught:
        read_diary(_write(tmp_path, line * 11), DIARY, "UTC", now, **limits)
    assert caught.value.facts["why"] == why
    assert "10" in import_problem_text(caught.value)


@given(st.text(st.characters(exclude_categories=["Cs"]), max_size=60))
def test_any_text_is_taken_or_refused_and_never_more(
    tmp_path_factory: pytest.TempPathFactory, text: str
) -> None:
    now = datetime.fromisoformat("2026-03-31T12:00:00+00:00")
    path = tmp_path_factory.mktemp("any") / "any.txt"
    whys: set[str] = set()
    for layout, begins in ((DIARY, ""), (TABLE, HEADINGS)):
        path.write_text(begins + text + "\n" + text, encoding="utf-8", newline="")
        try:
            found = read_diary(path, layout, "UTC", now)
        except CannotRead as error:
            whys.add(str(error.facts["why"]))
            continue
        skipped = sum(found.skipped.values())
        assert found.lines == len(found.readings) + len(found.refused) + skipped
    assert whys <= {"empty", "encoding", "not_text"}
