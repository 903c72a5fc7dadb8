"""Where a person's files are: the folders of their system, and nothing else.

The folders follow platformdirs, and so the XDG variables on Linux. Nothing is made here; a folder
is made by `private_folder`, readable by its owner alone.
"""

from __future__ import annotations

import os
import tempfile
from pathlib import Path

APPLICATION = "fingerstick-logbook"
LOG_NAME = "my.logbook"
_SUFFIX = ".logbook"


def own_log() -> Path:
    """The person's own log, which commands take when none is named."""
    return data_folder() / LOG_NAME


def logs_beside(log: Path) -> list[Path]:
    """The logs in the folder of `log`, the person's own first, then by name."""
    found = [one for one in log.parent.glob(f"*{_SUFFIX}") if one.is_file()]
    return sorted(found, key=lambda one: (one.name != LOG_NAME, one.name))


def next_log(log: Path) -> Path:
    """A path beside `log` at which no log is yet: "my-2.logbook", "my-3.logbook"."""
    stem, number = LOG_NAME.removesuffix(_SUFFIX), 2
    while os.path.lexists(path := log.with_name(f"{stem}-{number}{_SUFFIX}")):
        number += 1
    return path


def data_folder() -> Path:
    """The folder of the person's own log, its copies and its journal."""
    import platformdirs

    return _allowed(platformdirs.user_data_path(APPLICATION, appauthor=False))


def config_folder() -> Path:
    """The folder of this computer's choices."""
    import platformdirs

    return _allowed(platformdirs.user_config_path(APPLICATION, appauthor=False))


def layouts_folder() -> Path:
    """The folder of the layouts a person keeps for files from elsewhere."""
    return config_folder() / "layouts"


def state_folder() -> Path:
    """The folder for notes about what went wrong in the program."""
    import platformdirs

    return _allowed(platformdirs.user_state_path(APPLICATION, appauthor=False))


def documents_folder() -> Path:
    """The folder in which a person looks for documents."""
    import platformdirs

    return _allowed(platformdirs.user_documents_path())


def fresh_path(folder: Path, name: str) -> Path:
    """A path in `folder` at which nothing is: `name`, else `name 2`, `name 3` and so on."""
    path = folder / name
    number = 1
    while os.path.lexists(path):
        number += 1
        path = folder / f"{name} {number}"
    return path


def private_folder(folder: Path) -> Path:
    """Make a folder and those above it where they are missing, for its owner alone (0700)."""
    missing = [one for one in (folder, *folder.parents) if not one.exists()]
    for one in reversed(missing):
        one.mkdir(mode=0o700, exist_ok=True)
    return folder


def _allowed(path: Path) -> Path:
    """Refuse the real folders of whoever runs the tests: no test may touch a real log."""
    is_real = "PYTEST_CURRENT_TEST" in os.environ and path.is_relative_to(_real_home())
    if is_real and not path.is_relative_to(tempfile.gettempdir()):
        raise RuntimeError(f"a test asked for a real folder: {path}")
    return path


def _real_home() -> Path:
    """The home folder of the account, whatever the environment says."""
    try:
        import pwd
    except ImportError:  # not a POSIX system
        return Path(os.environ.get("USERPROFILE", Path.home()))
    return Path(pwd.getpwuid(os.getuid()).pw_dir)
