"""A log that may not be written: mounts, modes and owners, in the window and in the commands.

In each cell the log is opened as a person opens it, in the window. It can be read, the window says
why nothing can be written, a press on Save says so again and keeps the number, and a summary works.
Afterwards every byte lies there as before. A cell that cannot be had here says "not run here". The
control opens the log to write whatever the system says, and must be caught.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Callable
from dataclasses import dataclass
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING

from tests.endurance.runs import Outcome, main
from tests.endurance.victims import Say, run_whole
from tests.endurance.whole_window import ERRORS_NAME, NAME, make_log, preload, run_window
from tests.store.revision_1 import put_copy

if TYPE_CHECKING:
    from tests.ui.looking_window import Looker

_NOBODY = 65_534
_MAY_NOT = "You are not allowed to write to"


@dataclass(frozen=True)
class Cell:
    """How the log is made so that it may not be written, and what must be said."""

    make: Callable[[Path], None]
    words: str = _MAY_NOT
    is_mounted: bool = False
    can_read: bool = True
    as_other: bool = True
    saves: bool = False


def _modes(file: int, folder: int) -> Callable[[Path], None]:
    def make(at: Path) -> None:
        for one in at.rglob("*"):
            one.chmod(folder if one.is_dir() else file)
            os.chown(one, _NOBODY, _NOBODY)
        at.chmod(folder)
        os.chown(at, _NOBODY, _NOBODY)

    return make


def _of_root(file: int, folder: int) -> Callable[[Path], None]:
    def make(at: Path) -> None:
        for one in at.rglob("*"):
            one.chmod(folder if one.is_dir() else file)
        at.chmod(folder)

    return make


def _only_log_read_only(at: Path) -> None:
    _modes(0o600, 0o700)(at)
    (at / NAME).chmod(0o400)


def _after_kill(then: Callable[[Path], None]) -> Callable[[Path], None]:
    def make(at: Path) -> None:
        from tests.store.test_opening import DYING_WRITER

        subprocess.run([sys.executable, "-c", DYING_WRITER, str(at / NAME)], check=False)
        assert (at / f"{NAME}-journal").stat().st_size > 0
        then(at)

    return make


def _older(then: Callable[[Path], None]) -> Callable[[Path], None]:
    def make(at: Path) -> None:
        shutil.rmtree(at)
        at.mkdir()
        made = put_copy(at)
        made.rename(at / NAME)
        made.with_name(f"{made.name}-changes.txt").rename(at / f"{NAME}-changes.txt")
        then(at)

    return make


def _lock_of_another(at: Path) -> None:
    _modes(0o600, 0o700)(at)
    os.chown(at / f"{NAME}.lock", 0, 0)


def _journal_of_another(at: Path) -> None:
    _modes(0o600, 0o700)(at)
    os.chown(at / f"{NAME}-changes.txt", 0, 0)


def _copies_of_another(at: Path) -> None:
    _modes(0o600, 0o700)(at)
    os.chown(at / f"{NAME}-copies", 0, 0)


_SOUND = _of_root(0o644, 0o755)

CELLS: dict[str, Cell] = {
    "mount": Cell(_SOUND, is_mounted=True, as_other=False),
    "mount, as another": Cell(_SOUND, is_mounted=True),
    "mount, after a kill": Cell(_after_kill(_SOUND), is_mounted=True, as_other=False),
    "mount, older log": Cell(_older(_SOUND), is_mounted=True, as_other=False),
    "file": Cell(_only_log_read_only),
    "folder": Cell(_modes(0o644, 0o555)),
    "file and folder": Cell(_modes(0o444, 0o555)),
    "of another": Cell(_SOUND),
    "of another, after a kill": Cell(_after_kill(_SOUND)),
    "of another, older log": Cell(_older(_SOUND)),
    "of another, private": Cell(_of_root(0o600, 0o755), "not allowed to read", can_read=False),
    "folder of another, private": Cell(_of_root(0o600, 0o700), "not allowed", can_read=False),
    "lock of another": Cell(_lock_of_another),
    "journal of another": Cell(_journal_of_another, saves=True),
    "copies of another": Cell(_copies_of_another, saves=True),
}
NAMES = list(CELLS)


def open_and_press(number: int, _seed: int, _folder: Path, control: bool) -> Outcome:
    """One cell."""
    name = NAMES[number % len(NAMES)]
    cell = CELLS[name]
    outcome = Outcome(counts={"cells": 1})
    if os.geteuid() != 0:
        outcome.counts = {"not run here: only root can take another account": 1}
        return outcome
    preload()
    import_module("logbook.store.older_copy")  # another account may not be let to its libraries
    # Beside the trial's own folder, which another account may not enter.
    place = Path(tempfile.mkdtemp(prefix="logbook-read-only-"))
    try:
        place.chmod(0o755)
        at = place / "log"
        at.mkdir()
        make_log(at / NAME)
        cell.make(at)
        home = place / "home"
        home.mkdir()
        if cell.as_other:
            os.chown(home, _NOBODY, _NOBODY)
        before = _content(at)
        said = run_whole(lambda say: _in_child(cell, at, home, control=control, say=say))
        if "not here" in said:
            outcome.counts = {"not run here: mounting is refused": 1}
            return outcome
        faults = _faults(cell, said)
        if not cell.saves and _content(at) != before:
            faults.append("a byte of the log's folder is another")
        errors = home / ERRORS_NAME
        if errors.exists() and "Traceback" in errors.read_text("utf-8"):
            faults.append(errors.read_text("utf-8")[-800:])
        outcome.faults = [f"{name}: {fault}" for fault in faults]
        outcome.counts["read and not written"] = int(cell.can_read and not cell.saves)
    finally:
        shutil.rmtree(place)
    return outcome


def _content(at: Path) -> dict[str, bytes]:
    return {
        str(one.relative_to(at)): one.read_bytes()
        for one in sorted(at.rglob("*"))
        if one.is_file() and one.suffix != ".lock"
    }


def _in_child(cell: Cell, at: Path, home: Path, *, control: bool, say: Say) -> None:
    if cell.is_mounted:
        if shutil.which("mount") is None:
            say("not here")
            return
        _take_own_mounts()
        for how in (
            ("--make-rprivate", "/"),
            ("--bind", str(at), str(at)),
            ("-o", "remount,bind,ro", str(at)),
        ):
            done = subprocess.run(["mount", *how], capture_output=True, check=False)
            if done.returncode:
                say("not here")
                return
    if cell.as_other:
        os.setgroups([])
        os.setgid(_NOBODY)
        os.setuid(_NOBODY)
    os.environ["TMPDIR"] = str(home)
    tempfile.tempdir = str(home)
    if control:
        _write_whatever_is_said()
    _open_window(at, home, say)


def _take_own_mounts() -> None:
    import ctypes

    # CLONE_NEWNS, from Linux's sched.h; `os.unshare` came with Python 3.12.
    ctypes.CDLL(None, use_errno=True).unshare(0x00020000)


def _write_whatever_is_said() -> None:
    """The build made wrong on purpose: what may not be written counts as written."""
    from logbook.ui.desk import Desk

    def say_nothing(self: Desk, error: object) -> None:
        """Say nothing."""

    Desk.told = say_nothing  # type: ignore[method-assign]


def _open_window(at: Path, home: Path, say: Say) -> None:
    from logbook import app

    def tell(look: object, text: str) -> None:
        say(f"told {text}")

    app._tell = tell

    def drive(hand: Looker) -> None:
        window = hand.window
        say(f"only read {window.desk.only_read_because is not None}")
        say(f"at start {hand.message}")
        say(f"readings {len(window.desk.book.readings())}")
        page = hand.page
        if page.form.isVisible():
            hand.type("1 2 8")
            hand.click(page.save_button)
            say(f"at Save {hand.message}")
            say(f"number {page.filling.draft.text or 'gone'}")
            say(f"result {page.result_step.isVisible()}")
        else:
            say(f"step {type(page.step).__name__}")
        window.close()

    (home / NAME).symlink_to(at / NAME)
    run_window(home, drive)


def _faults(cell: Cell, said: list[str]) -> list[str]:
    found = {
        name: line.removeprefix(f"{name} ")
        for line in said
        for name in ("told", "only read", "at start", "readings", "at Save", "number", "result")
        if line.startswith(f"{name} ")
    }
    if not found:
        return [f"nothing was said: {said}"]
    if not cell.can_read:
        told = found.get("told", "")
        return [] if cell.words in told else [f"told: {found}"]
    faults: list[str] = []
    wanted = {"only read": str(not cell.saves), "number": "gone" if cell.saves else "128"}
    wanted["result"] = str(cell.saves)
    faults += [
        f"{name} is {found.get(name)}, not {value}"
        for name, value in wanted.items()
        if found.get(name) != value
    ]
    spoken = () if cell.saves else ("at start", "at Save")
    faults += [
        f"{name}: “{found.get(name)}”" for name in spoken if cell.words not in found.get(name, "")
    ]
    if found.get("readings") == "0":
        faults.append("nothing can be read")
    return faults


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:], __doc__ or "", len(NAMES), open_and_press))
