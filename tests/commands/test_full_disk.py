"""No room on the disk: told in words, and nothing half-written stays."""

from pathlib import Path

import pytest

from logbook.book import Book
from tests.commands.command_runs import (
    DEFECTS,
    DIARY,
    FULL_DISK,
    assert_plain,
    clock,
    content_of,
    run,
)


@pytest.mark.parametrize("most", [0, 1, 5_000, 40_000, 100_000])
def test_on_a_full_disk_no_new_log_is_left(most: int, tmp_path: Path) -> None:
    big = tmp_path / "big.txt"
    big.write_text(
        "".join(f"03-01-2026\t{n // 60}:{n % 60:02d}\t58\t{100 + n % 90}\n" for n in range(1400)),
        encoding="utf-8",
    )
    log = tmp_path / "logs" / "a.logbook"
    log.parent.mkdir()
    done = run(most, "import", big, *DIARY, "--log", log, program=FULL_DISK)
    assert_plain(done)
    assert content_of(log) == {}


@pytest.mark.parametrize("room", [0, 1, 5_000, 40_000])
def test_on_a_full_disk_a_log_stays_as_it_was(room: int, full_log: Path, tmp_path: Path) -> None:
    big = tmp_path / "files" / "big.txt"
    big.parent.mkdir()
    big.write_text(
        "".join(f"03-02-2026\t{n // 60}:{n % 60:02d}\t58\t{100 + n % 90}\n" for n in range(1400)),
        encoding="utf-8",
    )
    with Book.open(full_log, clock, read_only=True) as book:
        before = book.readings()
    most = full_log.stat().st_size + room
    for arguments in (
        ("import", big, *DIARY),
        ("import", DEFECTS, *DIARY, "--refused", tmp_path / "refused.csv"),
    ):
        done = run(most, *arguments, "--log", full_log, program=FULL_DISK)
        assert "Traceback" not in done.err
        if arguments[1] == big:
            assert_plain(done)
    with Book.open(full_log, clock) as book:
        assert book.readings() == before
    assert run("import", big, *DIARY, "--log", full_log).status == 0


def test_on_a_full_disk_no_report_is_left(full_log: Path, tmp_path: Path) -> None:
    out = tmp_path / "r.pdf"
    done = run(2_000, "report", "--out", out, "--log", full_log, program=FULL_DISK)
    assert_plain(done, out.name)
    assert not list(tmp_path.glob("*r.pdf*"))
