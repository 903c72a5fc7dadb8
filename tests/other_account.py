"""An account for which the modes of files hold: root may read and write everywhere."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from functools import cache
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent


def as_other_account() -> tuple[str, ...]:
    """What to put before a command so that another account runs it; nothing unless we are root.

    Skips, in words, where no other account can be had, or where it can't enter the folder of this
    checkout or of its Python (a checkout in root's own folder, say).
    """
    if os.geteuid() != 0:
        return ()
    setpriv = shutil.which("setpriv")
    if setpriv is None:
        pytest.skip("running as root, and setpriv is not installed")
    command = (setpriv, "--reuid=65534", "--regid=65534", "--clear-groups")
    if not _can_run_the_program(command):
        pytest.skip("another account can't enter the folder of this checkout or of its Python")
    return command


@cache
def _can_run_the_program(command: tuple[str, ...]) -> bool:
    tried = subprocess.run(
        [*command, sys.executable, "-c", "import logbook.book"],
        cwd=ROOT,
        env=os.environ | {"PYTHONDONTWRITEBYTECODE": "1", "PYTHONPATH": str(ROOT)},
        capture_output=True,
        check=False,
    )
    return tried.returncode == 0
