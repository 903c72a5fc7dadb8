"""The plain-text journal: it follows the log, heals itself, and never loses a line."""

from __future__ import annotations

import importlib
import os
import shutil
import subprocess
from pathlib import Path

import pytest

from logbook.book import Book, rebuild_log
from logbook.domain.errors import LogbookError
from logbook.domain.health import FindingKind
from logbook.domain.settings import LogSettings
from logbook.store.journal import Journal
from tests.store.records import Clock, make_log, make_reading


@pytest.fixture
def log(tmp_path: Path) -> Path:
    return make_log(tmp_path / "a.logbook", *(make_reading(n) for n in range(1, 6)))


def journal_of(log: Path) -> Path:
    return log.with_name(log.name + "-changes.txt")


def reopen(log: Path) -> Book:
    return Book.open(log, Clock())


def test_every_change_is_a_line_that_sha256sum_agrees_with(log: Path) -> None:
    first, *lines = journal_of(log).read_bytes().splitlines()
    assert first.startswith(b"# Fingerstick Logbook, changes, form 1, log ")
    assert len(lines) == 6
    for line in lines:
        told, text = line.split(b" ", 1)
        if shutil.which("sha256sum") is None:
            pytest.skip("needs sha256sum")
        done = subprocess.run(["sha256sum"], input=text, capture_output=True, check=True)
        assert done.stdout.split()[0] == told


def damage(journal: Path, how: str) -> None:
    whole = journal.read_bytes()
    lines = whole.splitlines(keepends=True)
    match how:
        case "gone":
            journal.unlink()
        case "empty":
            journal.write_bytes(b"")
        case "first line only":
            journal.write_bytes(lines[0])
        case "half of the first line":
            journal.write_bytes(lines[0][:20])
        case "two lines missing":
            journal.write_bytes(b"".join(lines[:-2]))
        case "last line torn":
            journal.write_bytes(whole[:-40])
        case "last line without its end":
            journal.write_bytes(whole[:-1])
        case "first change torn":
            journal.write_bytes(b"".join(lines[:1]) + lines[1][:100])
        case _:
            raise AssertionError(how)


@pytest.mark.parametrize(
    "how",
    [
        "gone",
        "empty",
        "first line only",
        "half of the first line",
        "two lines missing",
        "last line torn",
        "last line without its end",
        "first change torn",
    ],
)
def test_what_is_missing_is_written_again_at_the_next_opening(log: Path, how: str) -> None:
    journal = journal_of(log)
    whole = journal.read_bytes()
    damage(journal, how)
    reopen(log).close()
    assert journal.read_bytes() == whole
    with reopen(log) as book:
        assert book.check().is_sound


def test_a_line_torn_at_any_byte_is_mended(log: Path) -> None:
    journal = journal_of(log)
    whole = journal.read_bytes()
    last = len(whole.splitlines(keepends=True)[-1])
    for cut in range(1, last + 20, 7):
        journal.write_bytes(whole[:-cut])
        reopen(log).close()
        assert journal.read_bytes() == whole, cut


def test_a_change_the_log_does_not_have_is_kept_and_told(log: Path) -> None:
    older = log.read_bytes()
    with reopen(log) as book:
        book.add(make_reading(20))
    journal = journal_of(log)
    ahead = journal.read_bytes()
    log.write_bytes(older)  # someone put an older copy back
    with reopen(log) as book:
        assert journal.read_bytes() == ahead
        (finding,) = book.check().findings
        assert (finding.kind, finding.count) == (FindingKind.JOURNAL_UNKNOWN, 1)
        book.add(make_reading(30))
        assert journal.read_bytes().startswith(ahead)
        assert len(journal.read_bytes().splitlines()) == 9
    with reopen(log) as book:
        assert len(journal.read_bytes().splitlines()) == 9
        assert [f.kind for f in book.check().findings] == [FindingKind.JOURNAL_UNKNOWN]


def test_a_strange_tail_is_kept(log: Path) -> None:
    journal = journal_of(log)
    strange = journal.read_bytes() + b"something else"
    journal.write_bytes(strange)
    with reopen(log) as book:
        assert journal.read_bytes().startswith(strange + b"\n")
        book.add(make_reading(30))
        assert FindingKind.JOURNAL_LINE in {f.kind for f in book.check().findings}
    assert journal.read_bytes().count(b"\n") == 9


def test_lines_altered_or_missing_within_are_found(log: Path) -> None:
    journal = journal_of(log)
    lines = journal.read_bytes().splitlines(keepends=True)
    altered = lines[2].replace(b'"steps":', b'"steps":1')
    assert altered != lines[2]
    journal.write_bytes(b"".join([*lines[:2], altered, *lines[4:]]))
    with reopen(log) as book:
        found = {f.kind: f.count for f in book.check().findings}
    assert found == {FindingKind.JOURNAL_LINE: 1, FindingKind.JOURNAL_BEHIND: 2}


def test_a_journal_that_can_not_be_written_does_not_stop_a_save(
    log: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    journal = journal_of(log)
    before = journal.read_bytes()
    with reopen(log) as book:

        def full(*_arguments: object) -> None:
            raise OSError(28, "No space left on device")

        with monkeypatch.context() as patch:
            patch.setattr(Journal, "_write", full)
            book.add(make_reading(20))
            assert journal.read_bytes() == before
            assert FindingKind.JOURNAL_BEHIND in {f.kind for f in book.check().findings}
        book.add(make_reading(21))
        assert len(journal.read_bytes().splitlines()) == len(before.splitlines()) + 2
        assert book.check().is_sound


def test_a_folder_in_its_place_does_not_stop_a_save(log: Path) -> None:
    journal = journal_of(log)
    journal.unlink()
    journal.mkdir()
    with reopen(log) as book:
        book.add(make_reading(20))
        assert len(book.readings()) == 6
        assert FindingKind.JOURNAL_MISSING in {f.kind for f in book.check().findings}


def test_a_journal_taken_away_while_the_log_is_open_is_made_again(log: Path) -> None:
    journal = journal_of(log)
    with reopen(log) as book:
        whole = journal.read_bytes()
        journal.unlink()
        book.add(make_reading(20))
        assert journal.read_bytes().startswith(whole)
        assert journal.stat().st_mode & 0o777 == 0o600


def test_a_long_import_is_one_line_and_healed_as_such(tmp_path: Path) -> None:
    path = tmp_path / "a.logbook"
    with Book.create(path, LogSettings(), Clock()) as book:
        book.take_in([make_reading(n) for n in range(1, 1000)], "long.csv")
    journal = journal_of(path)
    whole = journal.read_bytes()
    assert len(whole.splitlines()[-2]) > 200_000
    journal.write_bytes(whole[:-100_000])
    reopen(path).close()
    assert journal.read_bytes() == whole


@pytest.fixture
def imported(tmp_path: Path) -> Path:
    """A log whose last change is a long import."""
    path = tmp_path / "a.logbook"
    with Book.create(path, LogSettings(), Clock()) as book:
        book.take_in([make_reading(n) for n in range(1, 400)], "long.csv")
    return path


def test_a_start_does_not_read_the_line_of_a_long_import(
    imported: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    long_line, mark = journal_of(imported).read_bytes().splitlines()[-2:]
    assert len(long_line) > 65_536
    assert mark == b"# up to 2: " + long_line[:64]

    def too_far(_path: Path) -> object:
        raise AssertionError("the long line was read")

    with monkeypatch.context() as patch:
        patch.setattr("logbook.store.journal._tail", too_far)
        with reopen(imported) as book:
            book.add(make_reading(500))
    with reopen(imported) as book:
        assert book.check().is_sound
        assert len(book.readings()) == 400


def test_control_without_its_mark_the_long_line_is_read(
    imported: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    journal = journal_of(imported)
    journal.write_bytes(b"".join(journal.read_bytes().splitlines(keepends=True)[:-1]))
    looked: list[Path] = []
    tail = importlib.import_module("logbook.store.journal")._tail

    def seen(path: Path) -> object:
        looked.append(path)
        return tail(path)

    monkeypatch.setattr("logbook.store.journal._tail", seen)
    reopen(imported).close()
    assert looked == [journal]


def test_a_long_line_of_an_older_version_gets_its_mark(imported: Path) -> None:
    journal = journal_of(imported)
    whole = journal.read_bytes()
    journal.write_bytes(b"".join(whole.splitlines(keepends=True)[:-1]))
    reopen(imported).close()
    assert journal.read_bytes() == whole


@pytest.mark.parametrize("how", ["cut", "nothing in places"])
def test_a_mark_that_a_power_cut_left_in_part_is_mended(imported: Path, how: str) -> None:
    journal = journal_of(imported)
    whole = journal.read_bytes()
    mark = whole.splitlines(keepends=True)[-1]
    for size in range(0, len(mark), 9):
        left = mark[:size] if how == "cut" else mark[:size] + bytes(len(mark) - size)
        journal.write_bytes(whole[: -len(mark)] + left)
        with reopen(imported) as book:
            assert journal.read_bytes() == whole, size
            assert book.check().is_sound


def test_the_mark_of_another_change_is_not_believed(imported: Path) -> None:
    journal = journal_of(imported)
    lines = journal.read_bytes().splitlines(keepends=True)
    # Someone took the long line out and left its mark, with other letters.
    journal.write_bytes(lines[0] + lines[1] + b"# up to 2: " + b"0" * 64 + b"\n")
    with reopen(imported) as book:
        assert book.check().is_sound
    assert lines[2] in journal.read_bytes()


def test_a_log_is_made_again_from_a_journal_with_marks(imported: Path, tmp_path: Path) -> None:
    with reopen(imported) as book:
        book.add(make_reading(500))
        wanted = book.readings()
    made = rebuild_log(journal_of(imported), tmp_path / "again.logbook")
    assert made.left_out == 0
    with reopen(tmp_path / "again.logbook") as book:
        assert book.readings() == wanted
        assert book.check().is_sound


def test_append_is_synced(log: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    synced: list[str] = []
    fsync = os.fsync

    def seen(descriptor: int) -> None:
        synced.append(str(Path(f"/proc/self/fd/{descriptor}").readlink()))
        fsync(descriptor)

    if not Path("/proc/self/fd").exists():
        pytest.skip("needs /proc to see which file was synced")
    with reopen(log) as book:
        monkeypatch.setattr(os, "fsync", seen)
        book.add(make_reading(20))
        monkeypatch.undo()
    assert synced == [str(journal_of(log))]


def test_reading_does_not_need_a_journal(log: Path) -> None:
    journal_of(log).unlink()
    with Book.open(log, Clock(), read_only=True) as book:
        assert len(book.readings()) == 5
        with pytest.raises(LogbookError):
            book.add(make_reading(9))
    assert not journal_of(log).exists()
