"""Finding, reading and keeping layouts: a TOML file by its path, a kept or shipped one by name."""

from __future__ import annotations

import json
import re
import tomllib
from collections.abc import Mapping
from pathlib import Path

from logbook.domain.errors import CannotRead, CannotWrite, LayoutWrong
from logbook.exchange.layout import Layout
from logbook.exchange.layout_check import check_layout
from logbook.resources import resource_path
from logbook.whole_file import write_whole

_LONGEST_LAYOUT_BYTES = 256 * 1024
_LONGEST_NAME = 60
_NAMELESS = "layout"


def find_layout(name_or_path: str, kept_in: Path | None = None) -> Layout:
    """The layout of a TOML file, or one by name: kept in a folder, or shipped.

    Raises `LayoutWrong` and `CannotRead`.
    """
    path = Path(name_or_path)
    is_bare_name = path.name == name_or_path and path.suffix == ""
    if is_bare_name and not path.is_file():
        kept = kept_layouts(kept_in)
        known = sorted({*shipped_layouts(), *kept})
        if name_or_path not in known:
            raise LayoutWrong(name_or_path, why="no_such_layout", key="", known=known)
        path = kept.get(name_or_path) or resource_path("layouts", f"{name_or_path}.toml")
    return read_layout(path)


def kept_layouts(folder: Path | None) -> dict[str, Path]:
    """The layouts that a person kept in `folder`, by the name of the file."""
    try:
        return {} if folder is None else {path.stem: path for path in sorted(folder.glob("*.toml"))}
    except OSError:
        return {}


def keep_layout(folder: Path, name: str, table: Mapping[str, object]) -> Path:
    """Keep a layout under a name; one of the same name is replaced.

    The file's name has letters and figures of any language, and hyphens. Raises `CannotWrite` and
    `LayoutWrong`.
    """
    check_layout(dict(table), name)
    stem = "-".join(re.findall(r"\w+", name.casefold()))[:_LONGEST_NAME] or _NAMELESS
    path = folder / f"{stem}.toml"
    try:
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    except OSError as error:
        raise CannotWrite(folder, why="disk") from error
    write_whole(path, layout_text({**table, "name": name}).encode())
    return path


def layout_text(table: Mapping[str, object]) -> str:
    """A layout's table as TOML, its plain values before its tables."""
    lines: list[str] = []
    _add_table(lines, "", table)
    return "\n".join(lines) + "\n"


def _add_table(lines: list[str], where: str, table: Mapping[str, object]) -> None:
    plain = {key: value for key, value in table.items() if not isinstance(value, Mapping)}
    if where and (plain or not table):
        lines += ["", f"[{where}]"]
    lines += [f"{_quoted(key)} = {_value_text(value)}" for key, value in plain.items()]
    for key, value in table.items():
        if isinstance(value, Mapping):
            _add_table(lines, f"{where}.{_quoted(key)}" if where else _quoted(key), value)


def _value_text(value: object) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int):
        return str(value)
    if isinstance(value, list | tuple):
        return f"[{', '.join(map(_value_text, value))}]"
    return _quoted(str(value), is_key=False)


def _quoted(text: str, *, is_key: bool = True) -> str:
    if is_key and re.fullmatch(r"[A-Za-z0-9_-]+", text):
        return text
    # JSON's strings are TOML's basic strings, but for the one control character JSON leaves bare.
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")


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
