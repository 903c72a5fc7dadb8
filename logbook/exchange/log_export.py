"""The log written for other programs: which files there are, and what is in each.

Three forms: one file of tables (a zip archive), the same tables with the readings in the file that
was named and the others in a folder beside it, and a FHIR bundle. The calendar of the plan is in
`plan_calendar`. A file is written whole or not at all, and can be read by its owner alone.
"""

from __future__ import annotations

import io
import zipfile
from pathlib import Path

from logbook.domain.errors import CannotWrite
from logbook.domain.whole_log import WholeLog
from logbook.exchange.log_tables import READINGS, log_tables
from logbook.whole_file import write_whole

ARCHIVE_ENDING = ".zip"

# What the archive says of its files: the earliest day that a zip archive can tell.
_NO_DAY = (1980, 1, 1, 0, 0, 0)


def table_archive(log: WholeLog) -> bytes:
    """All tables in one zip archive. The same log gives the same bytes."""
    content = io.BytesIO()
    with zipfile.ZipFile(content, "w", zipfile.ZIP_DEFLATED) as archive:
        for table in log_tables(log):
            entry = zipfile.ZipInfo(f"{table.name}.csv", _NO_DAY)
            entry.compress_type = zipfile.ZIP_DEFLATED
            entry.external_attr = 0o600 << 16
            archive.writestr(entry, table.content(log))
    return content.getvalue()


def reading_table(log: WholeLog) -> bytes:
    """The table of readings alone."""
    return next(one for one in log_tables(log) if one.name == READINGS).content(log)


def folder_of_others(out: Path) -> Path:
    """Where the other tables lie when the readings are written to `out`."""
    return out.with_name(f"{out.stem}-more")


def write_tables(log: WholeLog, out: Path) -> None:
    """Write the tables: all into `out` if it ends in .zip, else the readings there, others beside.

    The readings are written last, once all else is there. Raises `CannotWrite`.
    """
    if out.suffix.lower() == ARCHIVE_ENDING:
        write_whole(out, table_archive(log))
        return
    if out.is_dir():
        raise CannotWrite(out, why="directory")
    others = folder_of_others(out)
    is_new = _make_folder(others, out)
    written: list[Path] = []
    try:
        for table in log_tables(log):
            if table.name != READINGS:
                path = others / f"{table.name}.csv"
                write_whole(path, table.content(log))
                written.append(path)
        write_whole(out, reading_table(log))
    except CannotWrite:
        if is_new:
            for path in written:
                path.unlink(missing_ok=True)
            others.rmdir()
        raise


def _make_folder(folder: Path, out: Path) -> bool:
    """Make the folder beside `out`; false when it was there. Raises `CannotWrite`."""
    if folder.is_dir():
        return False
    try:
        folder.mkdir(mode=0o700)
    except FileExistsError as error:
        raise CannotWrite(folder, why="exists") from error
    except FileNotFoundError as error:
        raise CannotWrite(out, why="missing") from error
    except PermissionError as error:
        raise CannotWrite(out, why="permission") from error
    except OSError as error:
        raise CannotWrite(out, why="system") from error
    return True
