"""The pinned PySide6 keeps its references: calls that return nothing must not use up None.

On Python 3.11, PySide6 6.12.0 dropped one reference to None at each such call and the process
aborted after some thousands (measured). From Python 3.12 on None is immortal and the count is
constant; the calls are made all the same.
"""

from __future__ import annotations

import sys

from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot


def test_calls_that_return_nothing_keep_none_alive(qtbot: QtBot) -> None:
    label = QLabel()
    qtbot.addWidget(label)
    before = sys.getrefcount(None)
    for count in range(20_000):
        label.setText(str(count))
    assert abs(sys.getrefcount(None) - before) < 2_000
