"""Leaving nothing behind when something that makes new files fails half-way."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path


@contextmanager
def nothing_left_on_failure(*paths: Path) -> Iterator[None]:
    """When the block fails, take away what it made at `paths` and beside them.

    Beside a path is what begins with its name: a log's journal, lock and copies. What was there
    before the block is left as it was.
    """
    before = {path: set(_beside(path)) for path in paths}
    try:
        yield
    except BaseException:
        for path, there in before.items():
            for made in set(_beside(path)) - there:
                with suppress(OSError):
                    _remove(made)
        raise


def _beside(path: Path) -> Iterator[Path]:
    with suppress(OSError):
        yield from (
            one for one in path.parent.iterdir() if one.name.removeprefix(".").startswith(path.name)
        )


def _remove(path: Path) -> None:
    if path.is_dir() and not path.is_symlink():
        shutil.rmtree(path)
    else:
        path.unlink()
