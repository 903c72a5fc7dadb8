"""The commands `merge` and `backup --locked`, and opening what is locked."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pypdfium2
import pytest

from logbook.book import Book
from logbook.exchange.phrases import phrase_words
from tests.commands.command_runs import ROOT, Run, assert_plain, clock, content_of, run
from tests.store.records import make_log, make_reading


def typing(text: str, *arguments: object) -> Run:
    """Run a command while `text` is typed."""
    done = subprocess.run(
        [sys.executable, "-W", "error", "-m", "logbook", *map(str, arguments)],
        cwd=ROOT,
        env=os.environ | {"PYTHONPATH": str(ROOT)},
        input=text,
        capture_output=True,
        text=True,
        check=False,
        timeout=120,
    )
    return Run(done.returncode, done.stdout, done.stderr)


def ids_in(log: Path) -> set[object]:
    with Book.open(log, clock, read_only=True) as book:
        return {reading.id for reading in book.readings()}


@pytest.fixture
def two(tmp_path: Path) -> tuple[Path, Path]:
    """A log, and a copy of it in which one reading more was written down."""
    here = make_log(tmp_path / "a.logbook", make_reading(1))
    there = tmp_path / "there" / "a.logbook"
    there.parent.mkdir()
    shutil.copy(here, there)
    with Book.open(there, clock) as book:
        book.add(make_reading(2))
    return here, there


def test_merge_brings_in_what_is_new_once(two: tuple[Path, Path]) -> None:
    here, there = two
    before = content_of(here)
    of_other = content_of(there)
    done = run("merge", there, "--dry-run", "--log", here)
    assert (done.status, done.err) == (0, "")
    assert "Nothing was changed" in done.out
    assert "Readings that are new here: 1" in done.out
    assert content_of(here) == before
    done = run("merge", there, "--log", here)
    assert (done.status, done.out, done.err) == (0, "Readings that are new here: 1\n", "")
    assert ids_in(here) == ids_in(there)
    assert content_of(there) == of_other
    done = run("merge", there, "--log", here)
    assert (done.status, done.out) == (0, "Everything in this copy is here already.\n")
    assert run("check", "--log", here).status == 0


def test_merge_tells_what_is_to_be_chosen(two: tuple[Path, Path]) -> None:
    here, there = two
    for log, note in ((here, "here"), (there, "there")):
        with Book.open(log, clock) as book:
            (reading,) = [one for one in book.readings() if one.id == make_reading(1).id]
            book.cross_out(reading.id, note)
    done = run("merge", there, "--log", here)
    assert done.status == 0
    assert "Entries that differ, both kept: 1" in done.out
    assert "To choose between, in the window: 1" in done.out


def test_merge_refuses_in_words_and_changes_nothing(two: tuple[Path, Path], tmp_path: Path) -> None:
    here, there = two
    other = make_log(tmp_path / "b.logbook", make_reading(1))
    text = tmp_path / "notes.txt"
    text.write_text("breakfast 128\n" * 50, encoding="utf-8")
    before = {name: content for name, content in content_of(here).items() if "a.logbook" in name}
    assert_plain(run("merge", other, "--log", here), other, "another log")
    assert_plain(run("merge", text, "--log", here), "not a log")
    assert_plain(run("merge", here, "--log", here), "the log itself")
    assert_plain(run("merge", tmp_path / "none", "--log", here), "no log at")
    whole = there.read_bytes()
    there.write_bytes(whole[:5000])
    assert_plain(run("merge", there, "--log", here), there, "nothing was brought in")
    now = {name: content for name, content in content_of(here).items() if "a.logbook" in name}
    assert {k: v for k, v in now.items() if k.startswith("a.")} == {
        k: v for k, v in before.items() if k.startswith("a.")
    }
    assert run("merge", "--log", here).status == 2


def words_on(sheet: Path) -> str:
    """The seven words, as the sheet shows them."""
    document = pypdfium2.PdfDocument(sheet)
    try:
        read = document[0].get_textpage().get_text_range().split()
    finally:
        document.close()
    known = set(phrase_words())
    after = [read[n + 1] for n, part in enumerate(read[:-1]) if part in {*"1234567"}]
    return " ".join(word for word in after if word in known)


def test_a_locked_copy_opens_with_the_words_on_its_sheet(
    two: tuple[Path, Path], tmp_path: Path
) -> None:
    here, there = two
    stick, sheet = tmp_path / "stick", tmp_path / "sheet.pdf"
    stick.mkdir()
    done = run("backup", "--to", stick, "--locked", sheet, "--log", there)
    assert (done.status, done.err) == (0, "")
    (locked,) = stick.iterdir()
    assert str(locked) in done.out
    assert str(sheet) in done.out
    phrase = words_on(sheet)
    assert len(phrase.split()) == 7
    assert phrase not in done.out
    content = locked.read_bytes()

    told = typing("acorn bridge\n", "merge", locked, "--log", here)
    assert told.status == 1
    assert told.err.splitlines() == [
        "The words on the sheet:",
        (
            "The sheet has 7 words, and “acorn bridge” has 2. "
            "Nothing was changed; compare it with the sheet."
        ),
    ]
    wrong = " ".join(reversed(phrase.split()))
    told = typing(wrong + "\n", "merge", locked, "--log", here)
    assert told.status == 1
    assert "do not open" in told.err
    done = typing(phrase.upper() + "\n", "merge", locked, "--log", here)
    assert (done.status, done.out) == (0, "Readings that are new here: 1\n")
    assert ids_in(here) == ids_in(there)

    fresh = tmp_path / "new computer" / "a.logbook"
    fresh.parent.mkdir()
    done = typing(phrase + "\n", "restore", locked, "--log", fresh)
    assert done.status == 0, done.err
    assert ids_in(fresh) == ids_in(there)
    assert run("check", "--log", fresh).status == 0
    assert locked.read_bytes() == content


def test_a_locked_copy_that_cannot_be_made_leaves_nothing(
    two: tuple[Path, Path], tmp_path: Path
) -> None:
    here, _ = two
    stick = tmp_path / "stick"
    stick.mkdir()
    sheet = stick / "sheet.pdf"
    assert_plain(run("backup", "--to", stick, "--locked", sheet, "--log", here), "beside")
    gone, sheet = tmp_path / "gone", tmp_path / "sheet.pdf"
    assert_plain(run("backup", "--to", gone, "--locked", sheet, "--log", here), gone)
    assert not list(stick.iterdir())
    assert not sheet.exists()
    assert run("backup", "--locked", sheet, "--log", here).status == 2
