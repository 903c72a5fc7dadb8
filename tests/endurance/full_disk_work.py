"""One place without room: `python -m tests.endurance.full_disk_work PLACE WAY FOLDER [CONTROL]`.

In a log of thirty readings something is done while there is no room for it; what the person is told
is said, then there is room, and the same is done again. Each line on standard output says what came
of it: `told` a sentence, `done`, or `fault`.
"""

from __future__ import annotations

import contextlib
import io
import os
import sys
import tempfile
import traceback
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from logbook.book import Book, rebuild_log, restore_log
from logbook.domain.errors import LogbookError
from logbook.domain.settings import LogSettings
from tests.endurance.no_room import ROOMS, NotHere
from tests.store.records import Clock, make_log, make_reading
from tests.store.revision_1 import put_copy

if TYPE_CHECKING:
    from tests.ui.writing_window import Writer

AT = datetime(2026, 5, 1, 8, 30, tzinfo=UTC)
BEFORE = 30
NAME = "a.logbook"
_SAVE = "save again"
_TRY = "try again"
_STILL_THERE = "What was there before is still there"

Act = Callable[[], object]
Work = Callable[[Path], AbstractContextManager[Act]]


@dataclass(frozen=True)
class Place:
    """What is done, where there is no room for it, and words that the person must be told.

    `work` prepares, and gives what is to be done; None of `words` is for what must go well all the
    same.
    """

    work: Work
    area: str
    words: str | None
    ways_left_out: tuple[str, ...] = ()


def say(*words: object) -> None:
    """Say at once, by one call to the system."""
    os.write(1, (" ".join(map(str, words)) + "\n").encode())


def log_of(folder: Path) -> Path:
    """Where the log lies."""
    return folder / "log" / NAME


@contextmanager
def _book(folder: Path) -> Iterator[Book]:
    with Book.open(log_of(folder), Clock(AT)) as book:
        yield book


def _with_book(do: Callable[[Book, Path], object]) -> Work:
    @contextmanager
    def work(folder: Path) -> Iterator[Act]:
        with _book(folder) as book:
            yield lambda: do(book, folder)

    return work


def _alone(do: Callable[[Path], object]) -> Work:
    @contextmanager
    def work(folder: Path) -> Iterator[Act]:
        yield lambda: do(folder)

    return work


def _correct(book: Book, _folder: Path) -> None:
    one = book.reading(make_reading(1).id)
    book.correct(one.id, make_reading(50).glucose, one.at, one.slot, "misread")


def _temp(book: Book, folder: Path) -> None:
    tempfile.tempdir = str(folder / "temp")
    book.check()


def _copy_there(book: Book, folder: Path) -> None:
    book.make_copy(folder / "stick")


def _open_older(folder: Path) -> None:
    with Book.open(folder / "older" / "old.logbook", Clock(AT)) as book:
        book.readings()


@contextmanager
def _migration(folder: Path) -> Iterator[Act]:
    # There is room for the copy before it, on another disk, and none for the log itself.
    copies = folder / "older" / "old.logbook-copies"
    (folder / "older-copies").mkdir()
    copies.symlink_to(folder / "older-copies")
    yield lambda: _open_older(folder)


def _restore(folder: Path) -> None:
    copy = min((folder / "log" / f"{NAME}-copies").glob("*.logbook"))
    restore_log(log_of(folder), copy, AT)


def _command(*arguments: str) -> Callable[[Path], None]:
    """A command, whose sentence is raised here as a person would read it."""

    def do(folder: Path) -> None:
        from logbook import cli

        told = io.StringIO()
        given = [one.format(log=log_of(folder), folder=folder) for one in arguments]
        with contextlib.redirect_stderr(told), contextlib.redirect_stdout(io.StringIO()):
            status = cli.main(given)
        if status:
            raise Told(told.getvalue().strip())

    return do


def _list_to_file(folder: Path) -> None:
    """A command whose output goes to a file on the full disk."""
    import subprocess

    with (folder / "output" / "summary.json").open("wb") as file:
        done = subprocess.run(
            [sys.executable, "-m", "logbook", "summary", "--json", "--log", str(log_of(folder))],
            stdout=file,
            stderr=subprocess.PIPE,
            text=True,
            check=False,
        )
    if done.returncode:
        raise Told(done.stderr.strip())


class Told(Exception):
    """What a person was told in another way than by one of the domain's errors."""


# --- in the window --------------------------------------------------------------------------------


@contextmanager
def _window(folder: Path, do: str) -> Iterator[Act]:
    from PySide6.QtWidgets import QApplication

    from tests.ui.writing_window import writing_window

    application = QApplication.instance() or QApplication([])
    assert isinstance(application, QApplication)
    with writing_window(folder / "window") as person:
        yield lambda: _WINDOW[do](person)


def _window_save(person: Writer) -> None:
    if not person.page.filling.draft.text:
        person.type("1 2 8")
    before = len(person.readings)
    person.click(person.page.save_button)
    if len(person.readings) == before:
        if person.page.filling.draft.text != "128":
            raise AssertionError("the number that was typed is gone")
        raise Told(person.message)
    if not person.page.result_step.isVisible():
        raise AssertionError("saved, and not said")


def _window_choice(person: Writer) -> None:
    person.press("Larger text")
    if "could not be kept" in person.message:
        raise Told(person.message)


def _window_draft(person: Writer) -> None:
    """Typing and saving go on where the draft cannot be kept."""
    person.type("1 2 8")
    person.page.keep_typed()
    _window_save(person)
    person.click(person.page.save_button)


_WINDOW = {"save": _window_save, "choice": _window_choice, "draft": _window_draft}


def _in_window(do: str) -> Work:
    return lambda folder: _window(folder, do)


_REPORT = ("report", "--log", "{log}", "--out", "{folder}/out/report.pdf")
_DEFECTS = "tests/data/readings_with_every_defect.csv"
_REFUSED = ("import", _DEFECTS, "--log", "{log}", "--refused", "{folder}/out/refused.csv")

PLACES: dict[str, Place] = {
    "save": Place(_with_book(lambda b, _: b.add(make_reading(100))), "log", _SAVE),
    "correct": Place(_with_book(_correct), "log", _SAVE),
    "cross out": Place(_with_book(lambda b, _: b.cross_out(make_reading(2).id)), "log", _SAVE),
    "undo": Place(_with_book(lambda b, _: b.undo()), "log", _SAVE),
    "settings": Place(
        _with_book(lambda b, _: b.save_settings(LogSettings(person_name="Anna"))), "log", _SAVE
    ),
    "import": Place(
        _with_book(lambda b, _: b.take_in([make_reading(n) for n in range(200, 260)], "file.csv")),
        "log",
        _SAVE,
    ),
    "plain-text journal": Place(
        _with_book(lambda b, _: b.add(make_reading(100 + len(b.readings())))),
        f"log/{NAME}-changes.txt",
        None,
        ("limit on sizes",),  # it does not tell one file from another
    ),
    "birth": Place(
        _alone(lambda folder: Book.create(folder / "new" / NAME, LogSettings(), Clock()).close()),
        "new",
        _SAVE,
    ),
    "copies": Place(_with_book(lambda b, _: b.make_copy()), f"log/{NAME}-copies", _SAVE),
    "second folder": Place(_with_book(_copy_there), "stick", _SAVE),
    "copy before migration": Place(_alone(_open_older), "older", _SAVE),
    "migration": Place(_migration, "older", _SAVE, ("limit on sizes",)),
    "going back": Place(_alone(_restore), "log", _SAVE),
    "making again": Place(
        _alone(
            lambda folder: rebuild_log(
                folder / "log" / f"{NAME}-changes.txt", folder / "new" / "again.logbook"
            )
        ),
        "new",
        _SAVE,
    ),
    "temporary folder": Place(_with_book(_temp), "temp", _STILL_THERE),
    "report": Place(_alone(_command(*_REPORT)), "out", _TRY),
    "refused lines": Place(_alone(_command(*_REFUSED)), "out", _TRY),
    "summary to a file": Place(_alone(_list_to_file), "output", _TRY),
    "save in the window": Place(_in_window("save"), "window", _SAVE),
    "choices of this computer": Place(_in_window("choice"), "window/config", "could not be kept"),
    "draft": Place(_in_window("draft"), "window/state", None, ("limit on sizes",)),
}


def prepare(folder: Path) -> None:
    """Everything that any place needs."""
    make_log(log_of(folder), *(make_reading(n) for n in range(1, BEFORE + 1)))
    for name in ("out", "output", "stick", "new", "temp", "older", "window/config", "window/state"):
        (folder / name).mkdir(parents=True)
    put_copy(folder / "older")
    for name in ("report.pdf", "refused.csv"):
        (folder / "out" / name).write_bytes(b"what was here before")


def content_of(folder: Path) -> dict[str, bytes]:
    """Everything under a folder but locks, which are only handles."""
    return {
        str(one.relative_to(folder)): one.read_bytes()
        for one in sorted(folder.rglob("*"))
        if one.is_file() and one.suffix != ".lock" and one.name != "filler"
    }


def run(place: Place, way: str, folder: Path, *, control: bool) -> None:
    """Do it without room and then with room."""
    area = folder / place.area
    room = ROOMS[way](area)
    room.prepare()
    with place.work(folder) as act:
        before = content_of(area) if area.is_dir() else {}
        room.fill()
        told = _try(act, control=control)
        room.free()
        if place.words is None:
            say("done" if told is None else f"fault was refused: {told}")
        else:
            say("fault was not refused" if told is None else f"told {told}")
            # A refused save may leave a log's pages in another order, but all files of before.
            after = content_of(area) if area.is_dir() else {}
            others = [name for name in before if NAME not in name]
            harmed = [name for name in others if after.get(name) != before[name]]
            new = [name for name in after if name not in before]
            new = [name for name in new if name != "summary.json"]  # the shell makes it
            if harmed or new:
                say(f"fault harmed {harmed}, left behind {new}")
        again = _try(act, control=False)
        say("again done" if again is None else f"fault again: {again}")


def _try(act: Act, *, control: bool) -> str | None:
    """What the person is told; None when it was done."""
    from logbook.wording.problems import problem_text

    try:
        act()
    except LogbookError as error:
        return None if control else problem_text(error)
    except Told as told:
        return None if control else str(told)
    return None


if __name__ == "__main__":
    name, way, where, *more = sys.argv[1:]
    os.umask(0o077)
    try:
        run(PLACES[name], way, Path(where), control=bool(more))
    except NotHere as reason:
        say("not here:", reason)
    except Exception as error:  # noqa: BLE001 (whatever it is, it is a fault)
        traceback.print_exc()
        say("fault", repr(error))
