"""Logs that are missing, damaged, newer, held or protected: told in words, and left as they are."""

import os
import shutil
import sqlite3
import subprocess
import sys
import tempfile
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest

from logbook.book import Book
from tests.commands.command_runs import (
    DATA,
    ROOT,
    Run,
    assert_plain,
    clock,
    run,
)
from tests.other_account import as_other_account

IS_ROOT = hasattr(os, "geteuid") and os.geteuid() == 0


def _damaged(log: Path) -> None:
    content = bytearray(log.read_bytes())
    content[len(content) // 2 :] = bytes(len(content) - len(content) // 2)
    log.write_bytes(content)


def _newer(log: Path) -> None:
    with closing(sqlite3.connect(log)) as connection:
        connection.execute("PRAGMA user_version = 999")


def _of_another_program(log: Path) -> None:
    log.unlink()
    with closing(sqlite3.connect(log)) as connection:
        connection.execute("CREATE TABLE music (title TEXT)")


def _empty(log: Path) -> None:
    log.write_bytes(b"")


def _of_text(log: Path) -> None:
    log.write_text("my readings: 128, 141", encoding="utf-8")


def _cut_short(log: Path) -> None:
    log.write_bytes(log.read_bytes()[:5000])


def _a_folder(log: Path) -> None:
    log.unlink()
    log.mkdir()


def _a_pipe(log: Path) -> None:
    log.unlink()
    os.mkfifo(log)


LOG_FAULTS: dict[str, Callable[[Path], None]] = {
    "not there": Path.unlink,
    "empty": _empty,
    "text": _of_text,
    "another program's": _of_another_program,
    "damaged": _damaged,
    "cut short": _cut_short,
    "a folder": _a_folder,
    "a pipe": _a_pipe,
}


@pytest.mark.parametrize("fault", LOG_FAULTS)
@pytest.mark.parametrize("command", ["import", "summary", "report", "check"])
def test_a_log_that_can_not_be_used_is_told_and_left_as_it_is(
    fault: str, command: str, full_log: Path, tmp_path: Path
) -> None:
    if (fault, command) == ("not there", "import"):
        return  # there it makes one
    LOG_FAULTS[fault](full_log)
    before = full_log.read_bytes() if full_log.is_file() else None
    out = tmp_path / "out"
    arguments = {
        "import": ("import", DATA / "readings-mg-dl.csv", "--refused", out),
        "report": ("report", "--out", out),
    }.get(command, (command,))
    done = run(*arguments, "--log", full_log)
    if fault == "damaged" and command == "check":
        assert done.status == 1  # what is damaged is named, line by line
        assert done.err
        assert "Traceback" not in done.err
    else:
        assert_plain(done, full_log.name)
    assert (full_log.read_bytes() if full_log.is_file() else None) == before
    assert not out.exists()


def test_a_newer_log_can_be_read_and_not_written(full_log: Path) -> None:
    _newer(full_log)
    before = full_log.read_bytes()
    assert_plain(run("import", DATA / "readings-mg-dl.csv", "--log", full_log), "newer")
    assert full_log.read_bytes() == before


def test_a_log_that_is_open_elsewhere_is_told_and_can_be_read(full_log: Path) -> None:
    with Book.open(full_log, clock):
        assert_plain(run("import", DATA / "readings-mg-dl.csv", "--log", full_log), full_log.name)
        assert run("summary", "--log", full_log).status == 0


@pytest.mark.slow
def test_a_log_that_another_program_holds_is_told(full_log: Path) -> None:
    with closing(sqlite3.connect(full_log, isolation_level=None)) as connection:
        connection.execute("BEGIN EXCLUSIVE")
        for arguments in (("import", DATA / "readings-mg-dl.csv"), ("summary",)):
            assert_plain(run(*arguments, "--log", full_log), full_log.name, "busy")
        connection.execute("ROLLBACK")
    assert run("summary", "--log", full_log).status == 0


def test_a_log_that_may_not_be_written_is_told_and_can_be_read(full_log: Path) -> None:
    as_nobody = as_other_account()
    # Beside the test's own folder, which only its owner may enter.
    folder = Path(tempfile.mkdtemp(prefix="logbook-read-only-"))
    shutil.copytree(full_log.parent, folder, dirs_exist_ok=True)
    log = folder / full_log.name
    try:
        for path in (*folder.rglob("*"), folder):
            path.chmod(0o555 if path.is_dir() else 0o444)

        def as_other(*arguments: object) -> Run:
            done = subprocess.run(
                [*as_nobody, sys.executable, "-m", "logbook", *map(str, arguments)],
                cwd=ROOT,
                env=os.environ | {"PYTHONDONTWRITEBYTECODE": "1"},
                capture_output=True,
                text=True,
                check=False,
            )
            return Run(done.returncode, done.stdout, done.stderr)

        assert as_other("summary", "--log", log).status == 0
        assert_plain(as_other("import", DATA / "readings-mg-dl.csv", "--log", log), log.name)
        assert_plain(as_other("report", "--out", folder / "r.pdf", "--log", log), "r.pdf")
        fresh = ("import", DATA / "readings-mg-dl.csv", "--log", folder / "new.logbook")
        assert_plain(as_other(*fresh), "new.logbook")
        log.chmod(0o000)
        assert_plain(as_other("summary", "--log", log), log.name)
    finally:
        folder.chmod(0o755)
        for path in folder.rglob("*"):
            path.chmod(0o755)
        shutil.rmtree(folder)
