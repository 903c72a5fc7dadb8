"""What the long runs of faults found once, each kept as a case of its own."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from logbook.book import Book, check_log
from logbook.domain.errors import DamagedLog
from logbook.domain.health import FindingKind
from tests.store.records import Clock, make_log, make_reading


def journal_of(path: Path) -> Path:
    return path.with_name(path.name + "-changes.txt")


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return make_log(tmp_path / "a.logbook", *(make_reading(n) for n in (1, 2, 3)))


@pytest.mark.parametrize("hole", [slice(0, 100), slice(200, 400), slice(-300, None)])
@pytest.mark.parametrize("has_end", [True, False])
def test_a_last_line_with_a_hole_from_a_power_cut_is_written_anew(
    path: Path, hole: slice, *, has_end: bool
) -> None:
    whole = journal_of(path).read_bytes()
    *before, last = whole.splitlines(keepends=True)
    line = bytearray(last)
    line[hole] = bytes(len(line[hole]))
    if has_end:
        line[-1:] = b"\n"
    else:
        line[-1:] = b"\0"
    journal_of(path).write_bytes(b"".join(before) + bytes(line))
    with Book.open(path, Clock()):
        pass
    assert journal_of(path).read_bytes() == whole
    assert check_log(path).is_sound


def test_a_strange_last_line_is_kept_all_the_same(path: Path) -> None:
    whole = journal_of(path).read_bytes()
    journal_of(path).write_bytes(whole + b"my own note\n")
    with Book.open(path, Clock()) as book:
        book.add(make_reading(4))
    assert journal_of(path).read_bytes().startswith(whole + b"my own note\n")


def test_several_lines_at_once_take_the_journals_place_whole(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    whole = journal_of(path).read_bytes()
    journal_of(path).write_bytes(b"".join(whole.splitlines(keepends=True)[:2]))
    left = path.with_name(".a.logbook-changes.txt.unfinished")
    left.write_bytes(b"what a kill left")

    def failing(_self: Path, _to: Path) -> Path:
        raise OSError(5, "Input/output error")

    with monkeypatch.context() as patch:
        patch.setattr(Path, "replace", failing)
        with Book.open(path, Clock()):
            pass
    assert journal_of(path).read_bytes() == b"".join(whole.splitlines(keepends=True)[:2])
    with Book.open(path, Clock()):
        pass
    assert journal_of(path).read_bytes() == whole
    assert not left.exists()


def test_definitions_that_are_no_text_any_more_are_damage(path: Path) -> None:
    content = path.read_bytes()
    damaged = content.replace(b"CREATE TABLE readings", b"CREATE TABLE re\xc1\xffings")
    assert damaged != content
    path.write_bytes(damaged)
    for read_only in (True, False):
        with pytest.raises(DamagedLog):
            Book.open(path, Clock(), read_only=read_only)
    assert FindingKind.STRUCTURE in {finding.kind for finding in check_log(path).findings}


@pytest.mark.parametrize(
    "alteration",
    [
        "UPDATE log SET log_id = 'nobody'",
        "UPDATE log SET writer = substr(writer, 2)",
        "UPDATE changes SET id = 'nobody' WHERE sequence = 3",
        "UPDATE changes SET instant = 9000000000000000000 WHERE sequence = 3",
    ],
)
def test_what_nothing_here_ever_wrote_is_damage_and_no_fault_of_the_program(
    path: Path, alteration: str
) -> None:
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("PRAGMA ignore_check_constraints = ON")
        connection.execute(alteration)
        connection.commit()
    assert not check_log(path).is_sound
    try:
        book = Book.open(path, Clock())
    except DamagedLog:
        return
    with book:
        try:
            assert book.undoable is not None
            book.undo()
        except DamagedLog:
            pass


def test_a_digest_that_is_a_number_is_found(path: Path) -> None:
    # As when the page of another table took the place of the readings' page.
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("PRAGMA writable_schema = ON")
        connection.execute(
            "UPDATE sqlite_schema SET sql = replace(sql, 'STRICT', '') WHERE name = 'readings'"
        )
        connection.commit()
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("PRAGMA ignore_check_constraints = ON")
        connection.execute("UPDATE readings SET digest = 7")
        connection.commit()
    found = {finding.kind for finding in check_log(path).findings}
    assert {FindingKind.ROW, FindingKind.LOG_DIGEST} <= found


@pytest.mark.parametrize(
    "alteration",
    [
        "UPDATE log SET last_sequence = last_sequence + (1 << 40)",
        "UPDATE changes SET sequence = 1 << 40 WHERE sequence = 4",
    ],
)
def test_a_sequence_that_is_any_number_keeps_nobody_waiting(path: Path, alteration: str) -> None:
    with closing(sqlite3.connect(path)) as connection:
        connection.execute(alteration)
        connection.commit()
    assert FindingKind.SEQUENCE in {finding.kind for finding in check_log(path).findings}
    with Book.open(path, Clock()) as book:
        assert len(book.readings()) == 3
        with pytest.raises(DamagedLog):
            book.add(make_reading(4))


@pytest.mark.parametrize("column", ["kind", "record_id", "before", "after"])
@pytest.mark.parametrize("count", [3, 150], ids=["a few records", "a long import"])
def test_a_change_whose_texts_are_no_texts_is_damage_and_no_fault_of_the_program(
    path: Path, column: str, count: int
) -> None:
    with Book.open(path, Clock()) as book:
        book.take_in([make_reading(n) for n in range(10, 10 + count)], "file.csv")
    # As when one flipped bit makes a text into bytes: the kind of a value is kept apart from it.
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("PRAGMA writable_schema = ON")
        connection.execute(
            "UPDATE sqlite_schema SET sql = replace(sql, 'STRICT', '')"
            " WHERE name = 'change_records'"
        )
        connection.commit()
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("PRAGMA ignore_check_constraints = ON")
        connection.execute(
            f"UPDATE change_records SET {column} = CAST({column} || 'x' AS BLOB)"
            " WHERE sequence = 5 AND position = 0"
        )
        connection.commit()
    assert FindingKind.CHANGE in {finding.kind for finding in check_log(path).findings}
    with Book.open(path, Clock()) as book:
        done = book.undoable
        assert done is not None
        assert done.record is None
        with pytest.raises(DamagedLog):
            book.undo()
        assert len(book.readings()) == 3 + count


def test_a_long_import_whose_first_record_is_another_text_is_named_without_it(path: Path) -> None:
    with Book.open(path, Clock()) as book:
        book.take_in([make_reading(n) for n in range(10, 160)], "file.csv")
    for text in ("{", "[]", '{"steps":"x"}', "null"):
        with closing(sqlite3.connect(path)) as connection:
            connection.execute("PRAGMA ignore_check_constraints = ON")
            connection.execute(
                "UPDATE change_records SET after = ? WHERE sequence = 5 AND position = 0", [text]
            )
            connection.commit()
        with Book.open(path, Clock()) as book:
            done = book.undoable
            assert done is not None
            assert (done.record, done.count) == (None, 150)
