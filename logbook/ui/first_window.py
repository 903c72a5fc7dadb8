"""One window for one log: a second start asks the first window to come forward.

They talk over a local socket whose name comes from the place of the log. This module is imported
before it is known whether Qt is there, so each function imports what it needs of it.
"""

from __future__ import annotations

import hashlib
from pathlib import Path
from typing import TYPE_CHECKING

from logbook import places

if TYPE_CHECKING:
    from logbook.ui.main_window import MainWindow

_ANSWERS_WITHIN = 2_000  # milliseconds


def bring_first_forward(log_path: Path) -> bool:
    """Ask the window that has this log to come forward; whether one answered."""
    from PySide6.QtNetwork import QLocalSocket

    socket = QLocalSocket()
    socket.connectToServer(_socket_name(log_path))
    has_answered = socket.waitForConnected(_ANSWERS_WITHIN)
    socket.abort()
    return has_answered


def listen(window: MainWindow, log_path: Path) -> None:
    """Come forward when a second start asks; only this account can."""
    from PySide6.QtNetwork import QLocalServer

    server = QLocalServer(window)
    server.setSocketOptions(QLocalServer.SocketOption.UserAccessOption)
    # The lock on the log says that no other window lives: what is left is of one that fell.
    QLocalServer.removeServer(_socket_name(log_path))
    server.newConnection.connect(window.come_forward_to_caller)
    server.listen(_socket_name(log_path))


def _socket_name(log_path: Path) -> str:
    digest = hashlib.sha256(str(log_path.resolve()).encode()).hexdigest()[:16]
    return f"{places.APPLICATION}-{digest}"
