"""SIGKILL at every step of going back to a copy.

The log is sound, or has a damaged record, or can't be read and has a hot rollback journal beside
it, or is gone. Afterwards, with no step by hand, there is the log of before or the copy, byte for
byte; what was there before is never lost; and no rollback journal of the one lies beside the other.
The control writes the copy over the log, and must be caught.
"""

from __future__ import annotations

import os
import random
import shutil
import signal
import sys
from collections.abc import Callable
from datetime import UTC, datetime
from functools import cache
from pathlib import Path
from typing import Any

from logbook.book import Book
from logbook.store.log_store import LogStore
from logbook.store.restore import restore
from tests.endurance.runs import Outcome, main
from tests.store.records import Clock, make_log, make_reading

AT = datetime(2026, 5, 1, 8, 30, tzinfo=UTC)
STEPS = 60
_SITUATIONS = ("sound", "damaged", "unreadable", "gone")
_CALLS = ("link", "unlink", "replace", "rename", "fsync", "open", "write", "truncate")


@cache
def _made(folder: Path) -> Path:
    path = make_log(folder / "made" / "a.logbook", make_reading(1))
    with Book.open(path, Clock(datetime(2026, 4, 1, tzinfo=UTC))) as book:
        book.add(make_reading(2))
    return path


def kill_in_restore(number: int, seed: int, folder: Path, control: bool) -> Outcome:
    """One kill before one call to the system, and what is left."""
    situation = _SITUATIONS[number % 4]
    step = number // 4 * 7 % STEPS  # 7 and 60 have no factor in common, so each comes once
    path = folder / "log" / "a.logbook"
    shutil.copytree(_made(folder.parent).parent, path.parent)
    rollback = path.with_name("a.logbook-journal")
    content = bytearray(path.read_bytes())
    chance = random.Random(f"{seed}/{number}")
    if situation == "damaged":
        content[content.rindex(b"America")] ^= 1
    elif situation == "unreadable":
        content[:16] = b"no longer SQLite"
        rollback.write_bytes(b"a hot journal" + chance.randbytes(600))
    path.write_bytes(content)
    before: bytes | None = bytes(content)
    if situation == "gone":
        path.unlink()
        before = None
    copy = min(path.with_name("a.logbook-copies").glob("*.logbook"))
    was_killed = _restore_and_kill(path, copy, step, control=control)
    has_plan = path.with_name(".a.logbook.restore").exists()
    outcome = Outcome(
        counts={
            "restores": 1,
            "killed": int(was_killed),
            "finished at the next start": int(has_plan),
        }
    )
    _look(path, copy, before, was_killed=was_killed, outcome=outcome)
    outcome.faults = [f"{situation}, step {step}: {fault}" for fault in outcome.faults]
    return outcome


def _restore_and_kill(path: Path, copy: Path, step: int, *, control: bool) -> bool:
    child = os.fork()
    if child == 0:
        try:
            _die_before_call(step)
            if control:
                with copy.open("rb") as source, path.open("wb") as log:
                    while part := source.read(4_096):
                        os.write(log.fileno(), part)
            else:
                restore(path, copy, AT)
        finally:
            os._exit(0)
    _, status = os.waitpid(child, 0)
    return os.WIFSIGNALED(status)


def _die_before_call(step: int) -> None:
    """Have this process killed at the step-th call that alters something on the disk."""
    left = [step]

    def dying(call: Callable[..., Any]) -> Callable[..., Any]:
        def counted(*arguments: Any, **named: Any) -> Any:
            if left[0] == 0:
                os.kill(os.getpid(), signal.SIGKILL)
            left[0] -= 1
            return call(*arguments, **named)

        return counted

    for name in _CALLS:
        setattr(os, name, dying(getattr(os, name)))


def _look(
    path: Path, copy: Path, before: bytes | None, *, was_killed: bool, outcome: Outcome
) -> None:
    """Open as the program does, then hold what is there against what may be there."""
    try:
        LogStore.open(path, Clock(AT), read_only=True).close()
    except Exception as error:  # noqa: BLE001 (a log that was unreadable before may still be)
        if before is not None and path.exists() and path.read_bytes() != before:
            outcome.faults.append(f"not opened: {error!r}")
    there = path.read_bytes() if path.exists() else None
    gone_back = copy.read_bytes()
    if there not in (before, gone_back):
        outcome.faults.append("there is neither the log of before nor the copy")
    if not was_killed and there != gone_back:
        outcome.faults.append("it was done and the copy is not there")
    if there != gone_back:
        return
    if before not in (None, gone_back):
        kept = [one.read_bytes() for one in path.parent.glob("a-set-aside-*.logbook")]
        if before not in kept:
            outcome.faults.append("what was there before is lost")
        if path.with_name("a.logbook-journal").exists():
            outcome.faults.append("a strange rollback journal lies beside the log")
    _use(path, outcome)


def _use(path: Path, outcome: Outcome) -> None:
    """Write into the log that was gone back to."""
    try:
        with Book.open(path, Clock(AT)) as book:
            book.add(make_reading(9))
            outcome.faults += [f"not sound: {finding}" for finding in book.check().findings]
    except Exception as error:  # noqa: BLE001 (whatever it is, it is a fault)
        outcome.faults.append(f"not usable: {error!r}")
    left = [one.name for one in path.parent.iterdir() if one.name.startswith(".")]
    if left:
        outcome.faults.append(f"left behind: {left}")


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:], __doc__ or "", 4 * STEPS, kill_in_restore))
