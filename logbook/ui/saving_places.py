"""Where a person may want a file: their Documents, their Desktop, a USB stick."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from PySide6.QtCore import QStandardPaths

from logbook.domain.errors import LogbookError
from logbook.domain.moments import Moment
from logbook.places import documents_folder
from logbook.wording import _
from logbook.wording.dates import clock_text, day_text

# Below these, desktops put the media that they mount for the person who is logged in.
MEDIA_FOLDERS = (Path("/media"), Path("/run/media"))
# No file system for sticks takes these in a name.
_NOT_IN_NAMES = '<>:"/\\|?*'
_LONGEST_NAME = 80
_MOST_FOLDERS = 200


@dataclass(frozen=True, slots=True)
class SavingPlace:
    """A folder, what its button says, and how the place is told: "in your Documents folder"."""

    folder: Path
    name: str
    phrase: str


def where_and_when(file: Path, place: str, zone: str) -> str:
    """Where a file lies and when it was written, by the clock here: files of like names differ."""
    try:
        written = datetime.fromtimestamp(file.stat().st_mtime, UTC)
        at = Moment.at(written, zone)
    except (OSError, OverflowError, ValueError, LogbookError):
        return place
    return _("{folder}, {day}, {clock}").format(
        folder=place, day=day_text(at.wall.date()), clock=clock_text(at)
    )


def find_places(
    media_folders: Iterable[Path] = MEDIA_FOLDERS,
    is_mounted: Callable[[Path], bool] = os.path.ismount,
) -> list[SavingPlace]:
    """The places that can be offered now; Documents always, even before that folder is made."""
    places = [SavingPlace(documents_folder(), _("Documents"), _("in your Documents folder"))]
    desktop = Path(QStandardPaths.writableLocation(QStandardPaths.StandardLocation.DesktopLocation))
    if desktop.is_dir() and desktop not in (Path.home(), places[0].folder):
        places.append(SavingPlace(desktop, _("Desktop"), _("on your Desktop")))
    return [*places, *find_sticks(media_folders, is_mounted)]


def find_sticks(
    media_folders: Iterable[Path] | None = None,
    is_mounted: Callable[[Path], bool] = os.path.ismount,
) -> list[SavingPlace]:
    """The sticks that are plugged in now."""
    return [
        SavingPlace(
            folder,
            _("USB stick {name}").format(name=folder.name),
            _("on the USB stick {name}").format(name=folder.name),
        )
        for folder in _sticks(MEDIA_FOLDERS if media_folders is None else media_folders, is_mounted)
    ]


def folders_of_copies(folder: Path) -> list[Path]:
    """Where copies may lie below a folder: in it, and two folders down, as when all was copied."""
    found = [folder]
    for one in _folders_in(folder)[:_MOST_FOLDERS]:
        found += [one, *(two for two in _folders_in(one) if two.name.endswith("-copies"))]
    return found


def free_path(folder: Path, name: str, ending: str) -> Path:
    """A path in `folder` at which nothing is: `name`, else `name 2`, `name 3` and so on."""
    kept = "".join(" " if letter in _NOT_IN_NAMES else letter for letter in name)
    kept = " ".join(kept.split())[:_LONGEST_NAME]
    path = folder / f"{kept}{ending}"
    number = 1
    while os.path.lexists(path):
        number += 1
        path = folder / f"{kept} {number}{ending}"
    return path


def _sticks(media_folders: Iterable[Path], is_mounted: Callable[[Path], bool]) -> list[Path]:
    """What is mounted right below a media folder, or below a person's folder in it."""
    found = []
    for root in media_folders:
        for folder in _folders_in(root):
            found += [
                one
                for one in (folder, *_folders_in(folder))
                if is_mounted(one) and os.access(one, os.W_OK)
            ]
    return sorted(set(found))


def _folders_in(folder: Path) -> list[Path]:
    try:
        return [one for one in folder.iterdir() if one.is_dir() and not one.name.startswith(".")]
    except OSError:  # not there, or not for this person
        return []
