"""Where fonts, icons, layouts and catalogues are, in an installed wheel or in a source tree.

The one place that knows. It imports nothing of the project, and reads no file: what a resource
means is for those who ask.
"""

from __future__ import annotations

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent


def resource_path(*parts: str) -> Path:
    """The file or folder below `resources/`, for example `resource_path("fonts", "name.ttf")`.

    A wheel carries the folder inside the package; in a source tree it lies beside the package.

    Raises:
        FileNotFoundError: the program was installed without it.
    """
    installed = _PACKAGE / "resources"
    root = installed if installed.is_dir() else _PACKAGE.parent / "resources"
    path = root.joinpath(*parts)
    if not path.exists():
        raise FileNotFoundError(path)
    return path
