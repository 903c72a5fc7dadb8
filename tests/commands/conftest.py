"""Logs for the commands to work on."""

import shutil
from pathlib import Path

import pytest

from tests.commands.command_runs import DEFECTS, DIARY, run


@pytest.fixture
def log(tmp_path: Path) -> Path:
    """Where a log may be made."""
    return tmp_path / "a.logbook"


@pytest.fixture(scope="session")
def _log_made_once(tmp_path_factory: pytest.TempPathFactory) -> Path:
    made = tmp_path_factory.mktemp("once") / "a.logbook"
    done = run("import", DEFECTS, *DIARY, "--log", made)
    assert (done.status, done.err) == (0, "")
    return made


@pytest.fixture
def full_log(log: Path, _log_made_once: Path) -> Path:
    """A log with the readings of the invented diary, and with all that belongs to it."""
    shutil.copytree(_log_made_once.parent, log.parent, dirs_exist_ok=True)
    return log
