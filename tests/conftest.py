"""What every test stands on: folders of its own, and nothing left behind.

A test fails when it, or what it called, logs a warning it did not ask for, leaves a window, a
timer, a thread or a file open, or leaves another umask. Warnings and Qt's own messages are set to
fail in pyproject.toml. Fixtures of one area are in that area's own conftest.
"""

from __future__ import annotations

import gc
import logging
import os
import re
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from hypothesis import settings

# Read when the application object is made, so here is early enough.
os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

# The same examples on every run, and no failure because a machine is slow.
settings.register_profile("project", derandomize=True, deadline=None, max_examples=100)
settings.load_profile("project")

_UMASK = 0o022  # what a desktop has: private files must be made private by the program


# --- the person's folders -------------------------------------------------------------------------


def _use_folders_below(folder: Path, patch: pytest.MonkeyPatch) -> None:
    names = {
        "HOME": "home",
        "XDG_CACHE_HOME": "cache",
        "XDG_CONFIG_HOME": "config",
        "XDG_DATA_HOME": "data",
        "XDG_DOCUMENTS_DIR": "documents",
        "XDG_RUNTIME_DIR": "runtime",
        "XDG_STATE_HOME": "state",
    }
    for variable, name in names.items():
        (folder / name).mkdir(mode=0o700)
        patch.setenv(variable, str(folder / name))
    patch.setenv("LC_ALL", "C.UTF-8")
    patch.delenv("LANGUAGE", raising=False)


@pytest.fixture(scope="session", autouse=True)
def _session_folders(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """For fixtures that outlive one test."""
    with pytest.MonkeyPatch.context() as patch:
        _use_folders_below(tmp_path_factory.mktemp("session"), patch)
        yield


@pytest.fixture(autouse=True)
def person_folder(
    tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch
) -> Iterator[Path]:
    """A new person's home, configuration, data and cache folders, and the usual umask."""
    folder = tmp_path_factory.mktemp("person")
    _use_folders_below(folder, monkeypatch)
    umask_before = os.umask(_UMASK)
    yield folder
    umask_after = os.umask(umask_before)
    assert umask_after == _UMASK, f"the test left umask {umask_after:03o}"


# --- the log of the program -----------------------------------------------------------------------


class _Records(logging.Handler):
    """Keeps what is logged at WARNING or above, and what a test said it expects."""

    def __init__(self) -> None:
        super().__init__(logging.WARNING)
        self.messages: list[str] = []
        self.expected: list[str] = []

    def emit(self, record: logging.LogRecord) -> None:
        self.messages.append(f"{record.name} {record.levelname}: {record.getMessage()}")


@pytest.fixture(autouse=True)
def _logged() -> Iterator[_Records]:
    records = _Records()
    logging.getLogger().addHandler(records)
    yield records
    logging.getLogger().removeHandler(records)
    for pattern in records.expected:
        found = [message for message in records.messages if re.search(pattern, message)]
        assert found, f"nothing was logged that matches {pattern!r}"
        records.messages = [message for message in records.messages if message not in found]
    assert not records.messages, "logged, and not asked for:\n" + "\n".join(records.messages)


@pytest.fixture
def expect_logged(_logged: _Records) -> Callable[[str], None]:
    """Ask for a warning: `expect_logged("journal .* behind")`, a regular expression."""
    return _logged.expected.append


# --- what is left behind --------------------------------------------------------------------------


def _open_files(below: Path) -> set[str]:
    """The files below a folder that this process holds open (Linux only; elsewhere none)."""
    names = set()
    descriptors = Path("/proc/self/fd")
    for link in descriptors.iterdir() if descriptors.is_dir() else ():
        try:
            name = str(link.readlink())
        except OSError:  # the descriptor of the listing itself
            continue
        if name.startswith(f"{below}/"):
            names.add(name)
    return names


def _live_qt_objects() -> dict[int, str]:
    """Windows without a parent, running timers, threads and jobs, by identity, in words."""
    if "PySide6.QtWidgets" not in sys.modules:
        return {}
    import shiboken6
    from PySide6.QtCore import QCoreApplication, QEvent, QThread, QThreadPool, QTimer
    from PySide6.QtWidgets import QApplication

    application = QCoreApplication.instance()
    if application is None:
        return {}
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)
    windows = QApplication.topLevelWidgets() if isinstance(application, QApplication) else []
    found = {
        id(window): f"window {window!r}" for window in windows if window.parentWidget() is None
    }
    main_thread = application.thread()
    for thing in shiboken6.getAllValidWrappers():
        if (
            (isinstance(thing, QTimer) and thing.isActive())
            or (isinstance(thing, QThread) and thing is not main_thread and thing.isRunning())
            or (isinstance(thing, QThreadPool) and thing.activeThreadCount())
        ):
            found[id(thing)] = f"still at work: {thing!r}"
    return found


@pytest.fixture(autouse=True)
def _nothing_left_behind(
    tmp_path_factory: pytest.TempPathFactory, person_folder: Path, _logged: _Records
) -> Iterator[None]:
    base = tmp_path_factory.getbasetemp()
    files_before = _open_files(base)
    objects_before = _live_qt_objects()
    yield
    files = _open_files(base) - files_before
    assert not files, f"left open: {', '.join(sorted(files))}"
    if _live_qt_objects().keys() - objects_before.keys():
        gc.collect()  # what only a cycle held is no leak
    left = [words for key, words in _live_qt_objects().items() if key not in objects_before]
    assert not left, "left behind: " + "; ".join(left)
