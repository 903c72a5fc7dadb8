"""Starting with the computer: an entry in the folder of programs that a desktop starts.

It is a small text file, by the Desktop Application Autostart Specification and the Desktop Entry
Specification (from memory, not checked). Other systems have other ways; there it is not offered.
"""

from __future__ import annotations

import shutil
import sys
from pathlib import Path

from logbook.places import APPLICATION, config_folder
from logbook.whole_file import write_whole
from logbook.wording import _

_NAME = f"{APPLICATION}.desktop"


def can_start_with_computer() -> bool:
    """Whether this system has such a folder."""
    return sys.platform.startswith(("linux", "freebsd"))


def autostart_path() -> Path:
    """Where the entry lies, whether or not it is there."""
    return config_folder().parent / "autostart" / _NAME


def is_started_with_computer() -> bool:
    """Whether the entry is there."""
    return autostart_path().is_file()


def start_with_computer(log_path: Path, *, is_wanted: bool) -> None:
    """Write the entry, for this log, or take it away. Raises `OSError` and `CannotWrite`."""
    path = autostart_path()
    if not is_wanted:
        path.unlink(missing_ok=True)
        return
    path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    write_whole(path, entry_text(log_path).encode())


def entry_text(log_path: Path) -> str:
    """What the entry says."""
    program = shutil.which(APPLICATION)
    command = [program] if program else [sys.executable, "-m", "logbook"]
    line = " ".join(_quoted(word) for word in [*command, "--log", str(log_path)])
    return "\n".join(
        (
            "[Desktop Entry]",
            "Type=Application",
            f"Name={_('Fingerstick Logbook')}",
            f"Exec={line}",
            "Terminal=false",
            "",
        )
    )


def _quoted(word: str) -> str:
    """An argument as the specification quotes it: inside the quotes and, once more, in a value."""
    for character in ("\\", '"', "`", "$"):
        word = word.replace(character, f"\\{character}")
    word = word.replace("%", "%%").replace("\\", "\\\\")
    return f'"{word}"'
