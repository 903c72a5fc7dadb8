"""The command `check`: sound logs, and damage that was made on purpose."""

import shutil
import sqlite3
from contextlib import closing
from pathlib import Path

from tests.commands.command_runs import (
    assert_plain,
    content_of,
    run,
)


def test_a_sound_log_is_called_sound(full_log: Path) -> None:
    before = content_of(full_log)
    done = run("check", "--log", full_log)
    assert (done.status, done.err) == (0, "")
    assert "sound" in done.out
    assert content_of(full_log) == before


def test_having_no_copy_yet_is_told_and_no_problem(full_log: Path) -> None:
    shutil.rmtree(full_log.with_name("a.logbook-copies"))
    done = run("check", "--log", full_log)
    assert (done.status, done.err) == (0, "")
    assert "no checked copy yet" in done.out


def test_a_record_that_is_not_what_was_written_is_found(full_log: Path) -> None:
    with closing(sqlite3.connect(full_log)) as connection:
        tables = [
            name
            for (name,) in connection.execute("SELECT name FROM sqlite_master WHERE type='table'")
            if "reading" in name
        ]
        columns = [row[1] for row in connection.execute(f"PRAGMA table_info({tables[0]})")]
        assert "steps" in columns
        connection.execute(f"UPDATE {tables[0]} SET steps = steps + 1 WHERE steps = 128")
        connection.commit()
    done = run("check", "--log", full_log)
    assert_plain(done, "problem")
    assert "no longer what was written" in done.out
