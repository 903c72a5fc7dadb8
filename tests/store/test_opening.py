"""What is opened, what is refused and why, and that looking leaves no trace."""

from __future__ import annotations

import hashlib
import os
import random
import shutil
import sqlite3
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from contextlib import closing
from pathlib import Path

import pytest

from logbook.book import Book, check_log
from logbook.domain.errors import (
    DamagedLog,
    LogBusy,
    LogInUse,
    LogReadOnly,
    NewerLog,
    NoSuchLog,
    NotALog,
)
from logbook.store import engine as store_engine
from logbook.store.engine import Access, connect
from logbook.store.files import Beside
from tests.other_account import as_other_account
from tests.store.records import Clock, make_log, make_reading

ROOT = Path(__file__).parents[2]


def traces(folder: Path) -> dict[str, str]:
    """Every file of a folder by name, with what is in it."""
    return {
        str(path.relative_to(folder)): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in folder.rglob("*")
        if path.is_file()
    }


def _database(path: Path, *statements: str) -> None:
    with closing(sqlite3.connect(path)) as connection:
        for statement in statements:
            connection.execute(statement)
        connection.commit()


def _cut(path: Path, alter: Callable[[bytes], bytes]) -> None:
    make_log(path)
    path.write_bytes(alter(path.read_bytes()))


MAKE_WRONG: dict[str, Callable[[Path], object]] = {
    "nothing": lambda path: path,
    "directory": Path.mkdir,
    "pipe": os.mkfifo,
    "empty": Path.touch,
    "random": lambda path: path.write_bytes(random.Random(1).randbytes(20_000)),
    "text": lambda path: path.write_text("128, 141\n"),
    "other database": lambda path: _database(path, "CREATE TABLE music (title TEXT)"),
    "other database with an id": lambda path: _database(
        path, "PRAGMA application_id = 12345", "CREATE TABLE readings (title TEXT)"
    ),
    "header only": lambda path: _cut(path, lambda content: content[:60]),
    "half": lambda path: _cut(path, lambda content: content[: len(content) // 2]),
    "first page": lambda path: _cut(path, lambda content: content[:4096]),
    "zeroed magic": lambda path: _cut(path, lambda content: bytes(16) + content[16:]),
    "newer": lambda path: _database(make_log(path), "PRAGMA user_version = 9"),
}

WRONG = [
    ("nothing", NoSuchLog, None),
    ("directory", NotALog, "directory"),
    ("pipe", NotALog, "special_file"),
    ("empty", DamagedLog, "empty"),
    ("random", NotALog, "not_a_database"),
    ("text", NotALog, "not_a_database"),
    ("other database", NotALog, "other_database"),
    ("other database with an id", NotALog, "other_database"),
    ("header only", DamagedLog, "truncated"),
    ("half", DamagedLog, "truncated"),
    ("first page", DamagedLog, "truncated"),
    ("zeroed magic", DamagedLog, "malformed"),
    ("newer", NewerLog, None),
]


@pytest.mark.parametrize("read_only", [False, True], ids=["write", "read"])
@pytest.mark.parametrize(("what", "error", "why"), WRONG, ids=[what for what, *_ in WRONG])
def test_each_wrong_file_has_its_own_error_before_anything_is_written(
    tmp_path: Path, what: str, error: type[Exception], why: str | None, read_only: bool
) -> None:
    path = tmp_path / "a.logbook"
    MAKE_WRONG[what](path)
    Beside(path).lock.unlink(missing_ok=True)
    before = traces(tmp_path)
    if (what, read_only) == ("newer", True):
        Book.open(path, Clock(), read_only=True).close()
    else:
        with pytest.raises(error) as caught:
            Book.open(path, Clock(), read_only=read_only)
        assert getattr(caught.value, "facts", {}).get("why") == why
    assert traces(tmp_path) == before


@pytest.mark.parametrize("what", ["nothing", "directory", "pipe", "empty", "text"])
def test_the_check_of_what_is_no_log_tells_so(tmp_path: Path, what: str) -> None:
    path = tmp_path / "a.logbook"
    MAKE_WRONG[what](path)
    with pytest.raises((NoSuchLog, NotALog, DamagedLog)):
        check_log(path)


def test_a_newer_log_is_read_as_long_as_its_tables_are_known(tmp_path: Path) -> None:
    path = make_log(tmp_path / "a.logbook", make_reading(1))
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("PRAGMA user_version = 7")
    before = traces(tmp_path)
    with Book.open(path, Clock(), read_only=True) as book:
        assert book.readings() == [make_reading(1)]
    assert traces(tmp_path) == before
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("ALTER TABLE readings ADD COLUMN weather TEXT")
    with pytest.raises(NewerLog):
        Book.open(path, Clock(), read_only=True)


def test_reading_takes_no_lock_and_leaves_every_byte(tmp_path: Path) -> None:
    path = make_log(tmp_path / "a.logbook", make_reading(1), make_reading(2))
    Beside(path).lock.unlink()
    before = traces(tmp_path)
    with Book.open(path, Clock(), read_only=True) as book:
        assert book.is_read_only
        assert len(book.readings()) == 2
        assert len(book.series()) == 2
        assert book.undoable is not None
        assert book.check().is_sound
        with pytest.raises(LogReadOnly):
            book.add(make_reading(3))
        with pytest.raises(LogReadOnly):
            book.undo()
    assert traces(tmp_path) == before


def test_every_pragma_is_set_on_every_connection(tmp_path: Path) -> None:
    path = make_log(tmp_path / "a.logbook")
    for access in Access:
        with closing(connect(path, access)) as connection:

            def asked(pragma: str, on: sqlite3.Connection = connection) -> object:
                return on.execute(f"PRAGMA {pragma}").fetchone()[0]

            assert asked("journal_mode") == "delete"
            assert asked("synchronous") == 3  # EXTRA
            assert asked("foreign_keys") == 1
            assert asked("trusted_schema") == 0
            assert asked("cell_size_check") == 1
            assert asked("mmap_size") == 0
            assert asked("busy_timeout") == 5000
            assert asked("query_only") == (access is not Access.WRITE)


def test_odd_names_are_names(tmp_path: Path) -> None:
    folder = tmp_path / "a b?c#d%20e"
    for name in ("log?mode=memory", "100% mine", "ümläut ☃", "\u202eright to left", "x" * 200):
        path = make_log(folder / name, make_reading(1))
        with Book.open(path, Clock()) as book:
            assert book.path == path
            assert len(book.readings()) == 1


def test_a_link_to_a_log_opens_the_log_and_locks_it(tmp_path: Path) -> None:
    path = make_log(tmp_path / "a.logbook", make_reading(1))
    link = tmp_path / "elsewhere" / "mine"
    link.parent.mkdir()
    link.symlink_to(path)
    with Book.open(link, Clock()), pytest.raises(LogInUse):
        Book.open(path, Clock())
    assert {one.name for one in link.parent.iterdir()} == {"mine"}


# --- after a kill ---------------------------------------------------------------------------------

# Writes half a change with a cache too small to hold it, says so and waits to be killed.
DYING_WRITER = """
import os, signal, sqlite3, sys
connection = sqlite3.connect(sys.argv[1], isolation_level=None)
connection.execute("PRAGMA cache_size = 5")
connection.execute("BEGIN IMMEDIATE")
connection.execute("UPDATE change_records SET record_id = record_id || 'x'")
connection.execute("UPDATE readings SET note = 'half', digest = randomblob(32)")
connection.execute("UPDATE log SET last_sequence = 99999")
os.kill(os.getpid(), signal.SIGKILL)
"""


@pytest.fixture
def after_kill(tmp_path: Path) -> Path:
    """A log with a hot rollback journal beside it."""
    path = make_log(tmp_path / "a.logbook", *(make_reading(n) for n in range(1, 80)))
    subprocess.run([sys.executable, "-c", DYING_WRITER, str(path)], check=False)
    rollback = Beside(path).rollback
    assert rollback.stat().st_size > 0
    assert b"half" in path.read_bytes(), "nothing was half written, so nothing is tested"
    return path


@pytest.mark.parametrize("read_only", [False, True], ids=["write", "read"])
def test_what_a_kill_left_half_done_is_rolled_back(after_kill: Path, read_only: bool) -> None:
    with Book.open(after_kill, Clock(), read_only=read_only) as book:
        assert book.readings() == [make_reading(n) for n in range(1, 80)]
        assert book.check().is_sound
    assert not Beside(after_kill).rollback.exists()


def test_the_check_rolls_back_too(after_kill: Path) -> None:
    assert check_log(after_kill).is_sound


# --- another account ------------------------------------------------------------------------------

AS_OTHER = """
import sys
from datetime import datetime, UTC
from pathlib import Path
from logbook.book import Book
from logbook.domain.errors import LogReadOnly
path = Path(sys.argv[1])
clock = lambda: datetime.now(UTC)
with Book.open(path, clock, read_only=True) as book:
    print(len(book.readings()), not any(r.is_damaged for r in book.readings()))
try:
    Book.open(path, clock)
except LogReadOnly:
    print("LogReadOnly")
"""


@pytest.fixture
def open_folder() -> Iterator[Path]:
    """A folder that other accounts may look into (pytest's own they may not)."""
    folder = Path(tempfile.mkdtemp(prefix="logbook-test-"))
    folder.chmod(0o755)
    yield folder
    folder.chmod(0o755)
    shutil.rmtree(folder)


@pytest.mark.parametrize("killed", [False, True], ids=["closed", "after a kill"])
def test_an_account_that_may_not_write_can_read(open_folder: Path, killed: bool) -> None:
    as_other = as_other_account()
    path = make_log(open_folder / "a.logbook", *(make_reading(n) for n in range(1, 80)))
    if killed:
        subprocess.run([sys.executable, "-c", DYING_WRITER, str(path)], check=False)
        assert Beside(path).rollback.exists()
    (open_folder / "tmp").mkdir()
    for one in open_folder.rglob("*"):
        one.chmod(0o755 if one.is_dir() else 0o444)
    (open_folder / "tmp").chmod(0o777)
    open_folder.chmod(0o555)
    private = open_folder / "tmp"
    before = traces(open_folder)
    done = subprocess.run(
        [
            *as_other,
            *(sys.executable, "-c", AS_OTHER, str(path)),
        ],
        cwd=ROOT,
        env={
            **os.environ,
            "PYTHONPATH": str(ROOT),
            "PYTHONDONTWRITEBYTECODE": "1",
            "TMPDIR": str(private),
        },
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.stderr == ""
    assert done.stdout.split() == ["79", "True", "LogReadOnly"]
    assert traces(open_folder) == before
    assert not list(private.iterdir()), "a private copy was left behind"


# --- busy and in use ------------------------------------------------------------------------------


def test_a_second_writer_is_told_at_once(tmp_path: Path) -> None:
    path = make_log(tmp_path / "a.logbook")
    with Book.open(path, Clock()), pytest.raises(LogInUse):
        Book.open(path, Clock())
    Book.open(path, Clock()).close()


def test_a_log_that_another_program_holds_is_busy(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(store_engine, "BUSY_SECONDS", 0.05)
    path = make_log(tmp_path / "a.logbook")
    with Book.open(path, Clock()) as book, closing(connect(path, Access.WRITE)) as other:
        other.execute("BEGIN EXCLUSIVE")
        with pytest.raises(LogBusy):
            book.add(make_reading(1))
        with pytest.raises(LogBusy):
            book.readings()
        other.execute("ROLLBACK")
        assert book.readings() == []
        book.add(make_reading(1))
        assert book.readings() == [make_reading(1)]
