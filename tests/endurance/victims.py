"""Forking a process that works on a log, and killing it in the middle of something."""

from __future__ import annotations

import os
import select
import signal
import time
import traceback
from collections.abc import Callable
from pathlib import Path

# A victim that says nothing for so long is stuck, which is a fault of its own.
_PATIENCE_SECONDS = 120.0

Say = Callable[[str], None]


def run_and_kill(
    work: Callable[[Say], None], after_lines: int, wait_seconds: float, *, counting: str = ""
) -> list[str]:
    """Fork, let `work` run, and kill it (SIGKILL) a while after it said so many lines.

    `work` says a line for everything it was told is safe; only lines that begin with `counting`
    are counted. Returns the lines that were said whole.
    """
    reading_end, writing_end = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(reading_end)
        _be_victim(work, writing_end)
    os.close(writing_end)
    said = b""
    until = time.monotonic() + _PATIENCE_SECONDS
    is_waiting = False
    try:
        while (left := until - time.monotonic()) > 0:
            counted = sum(line.startswith(counting) for line in said.decode().splitlines())
            if not is_waiting and said.endswith(b"\n") and counted >= after_lines:
                until, is_waiting = time.monotonic() + wait_seconds, True
                continue
            if select.select([reading_end], [], [], left)[0]:
                part = os.read(reading_end, 65_536)
                if not part:
                    break
                said += part
    finally:
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        while part := os.read(reading_end, 65_536):
            said += part
        os.close(reading_end)
    assert is_waiting, "the victim did not say what was waited for"
    return said.decode().splitlines()[: said.count(b"\n")]


def run_whole(work: Callable[[Say], None]) -> list[str]:
    """Fork, let `work` end by itself, and return the lines that it said."""
    reading_end, writing_end = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(reading_end)
        _be_victim(work, writing_end)
    os.close(writing_end)
    said = b""
    until = time.monotonic() + _PATIENCE_SECONDS
    while select.select([reading_end], [], [], max(0.0, until - time.monotonic()))[0]:
        part = os.read(reading_end, 65_536)
        if not part:
            break
        said += part
    os.kill(child, signal.SIGKILL)  # harmless when it has ended
    os.waitpid(child, 0)
    os.close(reading_end)
    return said.decode().splitlines()


def _be_victim(work: Callable[[Say], None], writing_end: int) -> None:
    try:

        def say(line: str) -> None:
            os.write(writing_end, f"{line}\n".encode())

        work(say)
    except BaseException:  # noqa: BLE001 (told here, since nothing goes on from here)
        traceback.print_exc()
    finally:
        os._exit(1)


def open_files_left(folder: Path) -> list[str]:
    """What a kill left beside a log that no start has cleared away."""
    return [
        str(path.relative_to(folder))
        for path in folder.rglob("*")
        if ".birth-" in path.name or path.name.startswith(".unfinished-")
    ]
