"""The sound of a due recheck, played by the player that this system has.

No library of sounds is needed: a small program that plays a file lies on most desktops. Where there
is none, or it fails, or the person did not hear it when asked, nothing here pretends to ring.
"""

from __future__ import annotations

import shutil
from collections.abc import Callable

from PySide6.QtCore import QObject, QProcess, Signal

from logbook.resources import resource_path
from logbook.ui.desk import Desk

# Each takes a file to play as its last argument; the first that is found is taken. They are those
# of Linux desktops and of macOS; elsewhere the kitchen timer is named.
_PLAYERS = (
    ("pw-play",),
    ("paplay",),
    ("aplay", "-q"),
    ("afplay",),
)
_LET_GO_MILLISECONDS = 1_000


def find_player(which: Callable[[str], str | None] = shutil.which) -> tuple[str, ...]:
    """The command that plays a file, without the file; empty where none was found."""
    for program, *options in _PLAYERS:
        path = which(program)
        if path is not None:
            return (path, *options)
    return ()


class Ring(QObject):
    """Plays the sound. `ended` tells whether it was played to its end."""

    ended = Signal(bool)

    def __init__(self, desk: Desk, player: tuple[str, ...] | None = None) -> None:
        super().__init__(desk)
        self._desk = desk
        self._player = find_player() if player is None else player
        self._has_failed = False
        self._process = QProcess(self)
        # A player that talks must not fill a pipe that nobody reads.
        self._process.setStandardOutputFile(QProcess.nullDevice())
        self._process.setStandardErrorFile(QProcess.nullDevice())
        self._process.finished.connect(self._finished)
        self._process.errorOccurred.connect(self._failed)

    @property
    def has_player(self) -> bool:
        """Whether anything here could play a sound."""
        return bool(self._player) and not self._has_failed

    @property
    def can_ring(self) -> bool:
        """Whether the person may rely on it: a player that works, and they did hear it."""
        return self.has_player and self._desk.preferences.heard_ring is True

    def play(self, *, is_loud: bool = False) -> bool:
        """Begin the sound, unless it is playing; whether it can be begun at all."""
        if not self.has_player:
            return False
        if self._process.state() is QProcess.ProcessState.NotRunning:
            name = "ring_loud.wav" if is_loud else "ring.wav"
            program, *options = self._player
            self._process.start(program, [*options, str(resource_path("sounds", name))])
        return True

    def stop(self) -> None:
        """Be silent at once."""
        if self._process.state() is not QProcess.ProcessState.NotRunning:
            self._process.kill()
            self._process.waitForFinished(_LET_GO_MILLISECONDS)

    def _finished(self, code: int, status: QProcess.ExitStatus) -> None:
        # One that was stopped by us ended by a signal, which is no fault of the player.
        if status is QProcess.ExitStatus.NormalExit:
            self._has_failed = code != 0
            self.ended.emit(code == 0)

    def _failed(self, error: QProcess.ProcessError) -> None:
        if error is QProcess.ProcessError.FailedToStart:
            self._has_failed = True
            self.ended.emit(False)
