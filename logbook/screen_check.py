"""Whether a window can be opened here: a screen, and the system's libraries that Qt needs.

Asked before Qt is imported, because Qt ends the whole process where one is missing. Nothing of Qt
is imported here; the libraries are looked for where Qt would look for them.
"""

from __future__ import annotations

import ctypes
import os
import sys
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from importlib.util import find_spec

# What Qt's own wheels do not bring, by the Debian package that does. The first group is needed by
# any window, the second by one on an X11 screen.
_ALWAYS = {
    "libGL.so.1": "libgl1",
    "libEGL.so.1": "libegl1",
    "libfontconfig.so.1": "libfontconfig1",
    "libfreetype.so.6": "libfreetype6",
    "libglib-2.0.so.0": "libglib2.0-0",
    "libdbus-1.so.3": "libdbus-1-3",
    "libxkbcommon.so.0": "libxkbcommon0",
}
_ON_X11 = {
    "libX11-xcb.so.1": "libx11-xcb1",
    "libxkbcommon-x11.so.0": "libxkbcommon-x11-0",
    "libxcb-cursor.so.0": "libxcb-cursor0",
    "libxcb-icccm.so.4": "libxcb-icccm4",
    "libxcb-image.so.0": "libxcb-image0",
    "libxcb-keysyms.so.1": "libxcb-keysyms1",
    "libxcb-randr.so.0": "libxcb-randr0",
    "libxcb-render-util.so.0": "libxcb-render-util0",
    "libxcb-shape.so.0": "libxcb-shape0",
    "libxcb-xkb.so.1": "libxcb-xkb1",
}
# Platforms that draw nowhere, for tests and pictures.
_WITHOUT_SCREEN = ("offscreen", "minimal", "vnc")


class Lack(StrEnum):
    """Why no window can be opened."""

    SCREEN = "screen"
    LIBRARIES = "libraries"
    QT = "qt"


@dataclass(frozen=True, slots=True)
class Missing:
    """What is missing, and the command line that brings it (empty when there is none)."""

    lack: Lack
    line: str = ""


def find_missing(
    environment: Mapping[str, str] | None = None,
    can_load: Callable[[str], bool] | None = None,
    platform: str = sys.platform,
) -> Missing | None:
    """What keeps a window from opening here; None when nothing does.

    `environment` and `can_load` are those of this process unless a test brings its own.
    """
    environment = os.environ if environment is None else environment
    can_load = _can_load if can_load is None else can_load
    if find_spec("PySide6") is None:
        return Missing(Lack.QT, "pip install 'PySide6-Essentials==6.11.*'")
    if not platform.startswith("linux"):
        return None
    wanted = environment.get("QT_QPA_PLATFORM", "").partition(":")[0]
    needed = dict(_ALWAYS)
    if wanted not in _WITHOUT_SCREEN:
        has_x11, has_wayland = (bool(environment.get(n)) for n in ("DISPLAY", "WAYLAND_DISPLAY"))
        if not (has_x11 or has_wayland):
            return Missing(Lack.SCREEN)
        if not has_wayland or wanted == "xcb":
            needed |= _ON_X11
    packages = [package for library, package in needed.items() if not can_load(library)]
    if packages:
        return Missing(Lack.LIBRARIES, f"sudo apt install {' '.join(packages)}")
    return None


def _can_load(library: str) -> bool:
    try:
        ctypes.CDLL(library)
    except OSError:
        return False
    return True
