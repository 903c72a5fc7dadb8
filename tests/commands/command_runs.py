"""Running a command as a person does, in a process of its own, and what must hold of all."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

ROOT = Path(__file__).parents[2]
DATA = ROOT / "tests" / "data"
DEFECTS = DATA / "diary_with_every_defect.txt"
DIARY = ("--layout", "four-column-diary")


@dataclass(frozen=True)
class Run:
    """What came of a command."""

    status: int
    out: str
    err: str


def run(*arguments: object, program: tuple[str, ...] = ("-m", "logbook"), **more: object) -> Run:
    """Run the program with `arguments`, and with more or other environment variables."""
    environment = os.environ | {"PYTHONPATH": str(ROOT)} | {k: str(v) for k, v in more.items()}
    done = subprocess.run(
        [sys.executable, "-W", "error", *program, *map(str, arguments)],
        cwd=ROOT,
        env=environment,
        capture_output=True,
        text=True,
        check=False,
        timeout=120,
    )
    return Run(done.returncode, done.stdout, done.stderr)


# A process that can write no file beyond so many bytes, as on a full disk. Python ignores SIGXFSZ,
# so writing fails with EFBIG, the way it fails with ENOSPC.
_FULL_DISK = """
import resource, signal, sys
most = int(sys.argv.pop(1))
signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
from logbook import cli
resource.setrlimit(resource.RLIMIT_FSIZE, (most, most))
raise SystemExit(cli.main())
"""
FULL_DISK = ("-c", _FULL_DISK)


def clock() -> datetime:
    """The time at which these tests open a log."""
    return datetime(2026, 3, 31, 12, 0, tzinfo=UTC)


def content_of(log: Path) -> dict[str, bytes]:
    """Everything that lies where the log does, by name; not the lock, which is only a handle."""
    return {
        str(path.relative_to(log.parent)): path.read_bytes()
        for path in sorted(log.parent.rglob("*"))
        if path.is_file() and not path.name.endswith(".lock")
    }


def assert_plain(done: Run, *words: object) -> None:
    """Exit 1, and one or two plain sentences that name what they are about."""
    assert done.status == 1, (done.out, done.err)
    told = done.err.strip()
    assert told.count("\n") == 0, told
    assert "Traceback" not in done.err + done.out
    assert re.search(r"[.]$", told), told
    for word in words:
        assert str(word) in told
    sentences = re.split(r"(?<=[.])\s+(?=[A-Z“/])", told)
    assert 1 <= len(sentences) <= 2, told
    for sentence in sentences:
        # A path or a list of names is one thing to the eye, however long.
        assert len(re.sub(r"Known are .*", "", sentence).split()) <= 20, sentence
    assert not re.search(r"\b(invalid|please|sorry|error|exception)\b|!", told, re.IGNORECASE), told
