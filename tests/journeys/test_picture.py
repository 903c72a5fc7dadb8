"""The picture of the README can be made by its command, and shows a window."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

from PySide6.QtGui import QImage

ROOT = Path(__file__).resolve().parents[2]
KEPT = ROOT / "docs" / "pictures" / "write-down.png"


def test_the_command_makes_a_picture_of_the_window(tmp_path: Path) -> None:
    path = tmp_path / "new folder" / "write-down.png"
    command = [sys.executable, "-m", "tests.journeys.picture", str(path)]
    made = subprocess.run(
        command, cwd=ROOT, capture_output=True, text=True, check=False, timeout=120
    )
    assert made.returncode == 0, made.stderr
    _check(QImage(str(path)))


def test_the_picture_that_is_kept_is_one() -> None:
    _check(QImage(str(KEPT)))


def _check(picture: QImage) -> None:
    assert (picture.width(), picture.height()) == (1280, 720)
    colours = {
        picture.pixel(x, y)
        for x in range(0, picture.width(), 3)
        for y in range(0, picture.height(), 3)
    }
    assert len(colours) > 100
