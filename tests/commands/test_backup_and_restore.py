"""The commands `backup`, `restore` and `rebuild`, and what they say when they can't."""

from __future__ import annotations

from pathlib import Path

from logbook.book import Book
from tests.commands.command_runs import DEFECTS, DIARY, assert_plain, clock, content_of, run


def count_in(log: Path) -> int:
    with Book.open(log, clock, read_only=True) as book:
        return len(book.readings())


def path_told(out: str) -> Path:
    """The path at the end of the line that names a file."""
    return Path(next(line for line in out.splitlines() if ": /" in line).split(": ", 1)[1])


def test_a_backup_lies_beside_the_log_or_where_it_was_wanted(
    full_log: Path, tmp_path: Path
) -> None:
    done = run("backup", "--log", full_log)
    assert (done.status, done.err) == (0, "")
    assert path_told(done.out).parent == full_log.with_name("a.logbook-copies")
    stick = tmp_path / "stick"
    stick.mkdir()
    done = run("backup", "--to", stick, "--log", full_log)
    assert (done.status, done.err) == (0, "")
    (copy,) = stick.iterdir()
    assert path_told(done.out) == copy
    assert count_in(copy) == count_in(full_log)


def test_a_backup_that_cannot_be_made_says_why(full_log: Path, tmp_path: Path) -> None:
    before = content_of(full_log)
    assert_plain(run("backup", "--to", tmp_path / "gone", "--log", full_log), tmp_path / "gone")
    assert_plain(run("backup", "--log", tmp_path / "none.logbook"), "none.logbook")
    with Book.open(full_log, clock):
        assert_plain(run("backup", "--log", full_log), full_log, "open elsewhere")
    assert content_of(full_log) == before


def test_restore_goes_back_and_back_again(full_log: Path) -> None:
    copy = path_told(run("backup", "--log", full_log).out)
    all_of_them = count_in(full_log)
    with Book.open(full_log, clock) as book:
        book.undo()
    assert count_in(full_log) == 0
    done = run("restore", copy, "--log", full_log)
    assert (done.status, done.err) == (0, "")
    assert count_in(full_log) == all_of_them
    aside = Path(done.out.splitlines()[-1].split(": ", 1)[1])
    assert count_in(aside) == 0
    assert run("restore", aside, "--log", full_log).status == 0
    assert count_in(full_log) == 0
    assert run("check", "--log", full_log).status == 0


def test_restore_refuses_in_words_and_changes_nothing(full_log: Path, tmp_path: Path) -> None:
    other = tmp_path / "other" / "b.logbook"
    other.parent.mkdir()
    assert run("import", DEFECTS, *DIARY, "--log", other).status == 0
    empty = tmp_path / "empty.logbook"
    empty.touch()
    before = content_of(full_log)
    assert_plain(run("restore", other, "--log", full_log), other, "another log")
    assert_plain(run("restore", full_log, "--log", full_log), full_log, "the log itself")
    assert_plain(run("restore", empty, "--log", full_log), empty)
    assert_plain(run("restore", tmp_path, "--log", full_log), tmp_path, "folder")
    assert_plain(run("restore", tmp_path / "none", "--log", full_log), tmp_path / "none")
    assert_plain(run("restore", DEFECTS, "--log", full_log), "not a log")
    assert content_of(full_log) == before
    assert run("restore", "--log", full_log).status == 2


def test_a_damaged_log_is_gone_back_from_and_kept(full_log: Path) -> None:
    copy = path_told(run("backup", "--log", full_log).out)
    full_log.write_bytes(b"")
    assert_plain(run("summary", "--log", full_log), full_log)
    done = run("restore", copy, "--log", full_log)
    assert (done.status, done.err) == (0, "")
    aside = Path(done.out.splitlines()[-1].split(": ", 1)[1])
    assert aside.read_bytes() == b""
    assert run("check", "--log", full_log).status == 0


def test_rebuild_makes_the_log_from_its_journal(full_log: Path, tmp_path: Path) -> None:
    journal = full_log.with_name("a.logbook-changes.txt")
    made = tmp_path / "again.logbook"
    done = run("rebuild", journal, "--to", made)
    assert (done.status, done.err) == (0, "")
    assert count_in(made) == count_in(full_log)
    assert run("check", "--log", made).status == 0
    assert_plain(run("rebuild", journal, "--to", made), made, "already")
    assert_plain(run("rebuild", DEFECTS, "--to", tmp_path / "c.logbook"), "not the journal")
    assert not (tmp_path / "c.logbook").exists()


def test_a_line_left_out_is_told_and_ends_with_status_1(full_log: Path, tmp_path: Path) -> None:
    with Book.open(full_log, clock) as book:
        book.cross_out(book.readings(limit=1)[0].id)
    journal = full_log.with_name("a.logbook-changes.txt")
    content = journal.read_bytes()
    cut = tmp_path / "cut.txt"
    cut.write_bytes(content[:-20])
    made = tmp_path / "again.logbook"
    done = run("rebuild", cut, "--to", made)
    assert_plain(done, "1 line", "line 4")
    assert count_in(made) == count_in(full_log)
