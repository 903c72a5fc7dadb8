"""Finding and reading layouts: a TOML file by its path, a shipped one by its name."""

from __future__ import annotations

import tomllib
from pathlib import Path

from logbook.domain.errors import CannotRead, LayoutWrong
from logbook.exchange.layout import Layout
from logbook.exchange.layout_check import check_layout
from logbook.resources import resource_path

_LONGEST_LAYOUT_BYTES = 256 * 1024


def find_layout(name_or_path: str) -> Layout:
    """The layout of a TOML file, or a shipped one by name (`four-column-diary`).

    Raises `LayoutWrong` and `CannotRead`.
    """
    path = Path(name_or_path)
    is_bare_name = path.name == name_or_path and path.suffix == ""
    if is_bare_name and not path.is_file():
        if name_or_path not in shipped_layouts():
            raise LayoutWrong(name_or_path, why="no_such_layout", key="", known=shipped_layouts())
        path = resource_path("layouts", f"{name_or_path}.toml")
    return read_layout(path)


def shipped_layouts() -> list[str]:
    """The names of the layouts that come with the program, in order."""
    try:
        return sorted(path.stem for path in resource_path("layouts").glob("*.toml"))
    except FileNotFoundError:
        return []


def read_layout(path: Path) -> Layout:
    """Read and check the layout at `path`.

    Raises `CannotRead` when the file can't be read and `LayoutWrong` with the facts `key` (where,
    as `columns.value`), `why` and, where it helps, `value` and `known` (what would be right).
    """
    try:
        if path.is_dir():
            raise CannotRead(path, why="directory")
        with path.open("rb") as file:
            content = file.read(_LONGEST_LAYOUT_BYTES + 1)
    except FileNotFoundError as error:
        raise CannotRead(path, why="missing") from error
    except PermissionError as error:
        raise CannotRead(path, why="permission") from error
    except (OSError, ValueError) as error:
        raise CannotRead(path, why="disk") from error
    if len(content) > _LONGEST_LAYOUT_BYTES:
        raise LayoutWrong(path.name, why="not_toml", key="")
    try:
        table = tomllib.loads(content.decode("utf-8-sig"))
    except (UnicodeDecodeError, tomllib.TOMLDecodeError, RecursionError) as error:
        raise LayoutWrong(path.name, why="not_toml", key="") from error
    return check_layout(table, path.name)
