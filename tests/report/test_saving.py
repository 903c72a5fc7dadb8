"""A report is written whole or not at all; what was there before stays."""

from __future__ import annotations

import os
import stat
import subprocess
import sys
from pathlib import Path

import pytest

from logbook.domain.errors import CannotWrite
from logbook.domain.moments import Period
from logbook.report.visit import ReportOptions, write_visit_report
from logbook.whole_file import write_whole
from tests.report.invented import LAST_DAY, invented_visit, visit_data
from tests.report.reading_back import Printed

EMPTY_VISIT = visit_data((), Period.ending(LAST_DAY, 90))

# In a process of its own: no file may grow beyond 2,000 bytes, as on a disk that is nearly full.
_ON_A_FULL_DISK = """
import resource, sys
from pathlib import Path
from logbook.domain.errors import CannotWrite
from logbook.report.visit import ReportOptions, visit_report, write_visit_report
from tests.report.invented import invented_visit
data, out = invented_visit(), Path(sys.argv[2])
content = visit_report(data, ReportOptions())
resource.setrlimit(resource.RLIMIT_FSIZE, (2000, 2000))
if sys.argv[1] == "plainly":
    try:
        out.write_bytes(content)
    except OSError:
        print("failed")
else:
    try:
        write_visit_report(data, out, ReportOptions())
    except CannotWrite as error:
        print("CannotWrite", error.subject == str(out))
"""


def run_on_a_full_disk(how: str, out: Path) -> str:
    done = subprocess.run(
        [sys.executable, "-c", _ON_A_FULL_DISK, how, str(out)],
        cwd=Path(__file__).parents[2],
        capture_output=True,
        text=True,
        check=True,
        timeout=60,
    )
    assert done.stderr == ""
    return done.stdout.strip()


def test_a_report_is_readable_by_its_owner_alone(tmp_path: Path) -> None:
    out = tmp_path / "report.pdf"
    write_visit_report(invented_visit(), out, ReportOptions())
    assert stat.S_IMODE(out.stat().st_mode) == 0o600
    made = Printed(out.read_bytes())
    assert made.page_count >= 2
    made.close()
    assert [path.name for path in tmp_path.iterdir()] == ["report.pdf"]


def test_an_older_report_is_replaced_whole(tmp_path: Path) -> None:
    out = tmp_path / "report.pdf"
    out.write_bytes(b"x" * 1_000_000)
    out.chmod(0o644)
    write_visit_report(EMPTY_VISIT, out, ReportOptions())
    content = out.read_bytes()
    assert content.startswith(b"%PDF-")
    assert content.rstrip().endswith(b"%%EOF")
    assert stat.S_IMODE(out.stat().st_mode) == 0o600


@pytest.mark.skipif(not hasattr(os, "fork"), reason="needs a limit on the size of files")
def test_a_full_disk_leaves_what_was_there(tmp_path: Path) -> None:
    out = tmp_path / "report.pdf"
    out.write_bytes(b"the older report")
    assert run_on_a_full_disk("as the program does", out) == "CannotWrite True"
    assert out.read_bytes() == b"the older report"
    assert [path.name for path in tmp_path.iterdir()] == ["report.pdf"]


@pytest.mark.skipif(not hasattr(os, "fork"), reason="needs a limit on the size of files")
def test_plain_writing_would_leave_half_a_report(tmp_path: Path) -> None:
    """The control: the limit bites, and a file written in place is then neither old nor new."""
    out = tmp_path / "report.pdf"
    out.write_bytes(b"the older report")
    assert run_on_a_full_disk("plainly", out) == "failed"
    assert 0 < out.stat().st_size <= 2_000
    assert out.read_bytes() != b"the older report"


def test_a_folder_that_is_not_there_is_told(tmp_path: Path) -> None:
    with pytest.raises(CannotWrite) as raised:
        write_visit_report(EMPTY_VISIT, tmp_path / "nowhere" / "report.pdf", ReportOptions())
    assert raised.value.subject == str(tmp_path / "nowhere" / "report.pdf")


def test_a_folder_of_that_name_stays(tmp_path: Path) -> None:
    (tmp_path / "report.pdf").mkdir()
    with pytest.raises(CannotWrite):
        write_visit_report(EMPTY_VISIT, tmp_path / "report.pdf", ReportOptions())
    assert list(tmp_path.iterdir()) == [tmp_path / "report.pdf"]


@pytest.mark.skipif(os.geteuid() == 0, reason="the administrator may write everywhere")
def test_a_folder_without_leave_to_write_is_told(tmp_path: Path) -> None:
    out = tmp_path / "report.pdf"
    out.write_bytes(b"the older report")
    tmp_path.chmod(0o500)
    try:
        with pytest.raises(CannotWrite):
            write_visit_report(EMPTY_VISIT, out, ReportOptions())
        assert out.read_bytes() == b"the older report"
    finally:
        tmp_path.chmod(0o700)


def test_a_failing_rename_leaves_nothing_behind(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    out = tmp_path / "report.pdf"
    out.write_bytes(b"the older report")

    def fail(self: Path, target: Path) -> Path:
        raise PermissionError(13, "no", str(target))

    monkeypatch.setattr(Path, "replace", fail)
    with pytest.raises(CannotWrite):
        write_whole(out, b"new")
    assert out.read_bytes() == b"the older report"
    assert [path.name for path in tmp_path.iterdir()] == ["report.pdf"]
