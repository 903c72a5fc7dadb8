"""Files and folders of a log: private modes, durable names, and what a file is before it is opened.

POSIX calls beyond `os` and `pathlib` stay in this module and in `lock`.
"""

from __future__ import annotations

import errno
import os
import stat
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path

from logbook.domain.errors import (
    CannotRead,
    CannotWrite,
    DamagedLog,
    DiskFull,
    NoSuchLog,
    NotALog,
    NotSaved,
)
from logbook.store.tables import APPLICATION_ID

FILE_MODE = 0o600
FOLDER_MODE = 0o700

# SQLite file format, section 1.3 "The database header" (from memory, and checked by the tests
# against files that SQLite wrote): what lies where in the first 100 bytes.
_MAGIC = b"SQLite format 3\0"
_HEADER_BYTES = 100
_PAGE_SIZE = slice(16, 18)
_PAGE_COUNT = slice(28, 32)
_VERSION = slice(60, 64)
_APPLICATION_ID = slice(68, 72)


@dataclass(frozen=True, slots=True)
class Beside:
    """Where the things lie that belong to the log at `log`."""

    log: Path

    @property
    def lock(self) -> Path:
        """The lock of the one writer."""
        return self.log.with_name(self.log.name + ".lock")

    @property
    def journal(self) -> Path:
        """The plain-text journal of changes."""
        return self.log.with_name(self.log.name + "-changes.txt")

    @property
    def copies(self) -> Path:
        """The folder of checked copies."""
        return self.log.with_name(self.log.name + "-copies")

    @property
    def rollback(self) -> Path:
        """SQLite's own rollback journal, there only while a change is written or after a kill."""
        return self.log.with_name(self.log.name + "-journal")

    @property
    def births(self) -> str:
        """How the names of unfinished logs begin."""
        return f".{self.log.name}.birth-"

    @property
    def plan(self) -> Path:
        """What a restore was about to do, there only until it is done."""
        return self.log.with_name(f".{self.log.name}.restore")

    @property
    def restores(self) -> str:
        """How the names of files begin that a restore has not put in place yet."""
        return f".{self.log.name}.restore-"


def real_path(path: Path) -> Path:
    """Where a log lies: SQLite follows links, and what lies beside it lies beside the real file.

    Raises `CannotRead` (why=permission) for what lies in a folder that may not be entered.
    """
    try:
        return path.resolve() if path.exists() else path.absolute()
    except PermissionError:
        raise CannotRead(path, why="permission") from None


def make_folder(folder: Path) -> None:
    """Make a folder and those above it, each open to its owner only, whatever the umask."""
    missing = []
    while not folder.exists():
        missing.append(folder)
        folder = folder.parent
    for one in reversed(missing):
        with suppress(FileExistsError):
            one.mkdir(FOLDER_MODE)
            one.chmod(FOLDER_MODE)
            sync_folder(one.parent)  # else a power cut takes the folder with all that is in it


def make_private(path: Path) -> None:
    """Make an empty file that only its owner can read, whatever the umask.

    Raises `FileExistsError` when something is there.
    """
    descriptor = os.open(path, os.O_CREAT | os.O_EXCL | os.O_RDWR, FILE_MODE)
    try:
        if hasattr(os, "fchmod"):
            os.fchmod(descriptor, FILE_MODE)
    finally:
        os.close(descriptor)


def make_scratch_folder() -> Path:
    """A folder for a private copy, in the system's folder for passing things.

    Only this person may enter it. Raises `CannotWrite` (full, permission) about that folder, not
    about the log.
    """
    try:
        return Path(tempfile.mkdtemp(prefix="logbook-"))
    except OSError as error:
        why = "full" if error.errno in (errno.ENOSPC, errno.EDQUOT) else "permission"
        raise CannotWrite(_scratch_place(), why=why) from error


@contextmanager
def copying_to_scratch() -> Iterator[None]:
    """Tell what fails as what it is: of the folder for passing things, and not of the log."""
    try:
        yield
    except DiskFull as error:
        raise CannotWrite(_scratch_place(), why="full") from error
    except NotSaved as error:
        raise CannotWrite(_scratch_place(), why="system") from error


def _scratch_place() -> Path:
    with suppress(OSError):
        return Path(tempfile.gettempdir())
    return Path(os.environ.get("TMPDIR", "/tmp"))  # noqa: S108  (only named, not written to)


def sync_file(path: Path) -> None:
    """Have the file's contents on the disk before going on."""
    descriptor = os.open(path, os.O_RDWR)
    try:
        os.fsync(descriptor)
    finally:
        os.close(descriptor)


def forget_cached(path: Path) -> None:
    """Have a synced file's next reading come from the disk, where the system can do that."""
    if not hasattr(os, "posix_fadvise"):
        return
    descriptor = os.open(path, os.O_RDONLY)
    try:
        with suppress(OSError):
            os.posix_fadvise(descriptor, 0, 0, os.POSIX_FADV_DONTNEED)
    finally:
        os.close(descriptor)


def sync_folder(folder: Path) -> None:
    """Have the folder's names on the disk before going on, where the system can do that."""
    if not hasattr(os, "O_DIRECTORY"):
        return
    descriptor = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
    try:
        os.fsync(descriptor)
    finally:
        os.close(descriptor)


def name_without_overwriting(unfinished: Path, name: Path) -> None:
    """Give a finished file its name. Raises `FileExistsError` when something has that name.

    Where the file system has no links (FAT on a stick), a rename after a look has to do; the log's
    lock is held meanwhile, so no other writer of this program can slip in between.
    """
    try:
        os.link(unfinished, name)
    except FileExistsError:
        raise
    except OSError:
        if name.exists() or name.is_symlink():
            raise FileExistsError(name) from None
        unfinished.rename(name)
    else:
        unfinished.unlink()
    sync_folder(name.parent)


def write_durably(unfinished: Path, name: Path, content: bytes) -> None:
    """Write a small file under `unfinished` and then give it its name, in place of what has it.

    After a power cut there is what was there before, or all of the new.
    """
    make_private(unfinished)
    unfinished.write_bytes(content)
    sync_file(unfinished)
    unfinished.replace(name)
    sync_folder(name.parent)


def recognise(path: Path) -> int:
    """The version of the log at `path`, by looking at its header, before anything is opened.

    Raises `NoSuchLog`, `CannotRead` (why=permission), `NotALog` (why=directory, special_file,
    other_database, not_a_database) or `DamagedLog` (why=empty, truncated, malformed). Must not be
    called while this process has the log open: closing any handle of a file drops the locks that
    SQLite holds on it (POSIX).
    """
    header, size = _read_header(path)
    if size == 0:
        # A log gets its name only when it is whole, so nothing of ours is ever empty.
        raise DamagedLog(path, why="empty")
    is_ours = header[_APPLICATION_ID] == APPLICATION_ID.to_bytes(4, "big")
    if not header.startswith(_MAGIC):
        if is_ours:
            raise DamagedLog(path, why="malformed")
        raise NotALog(path, why="not_a_database")
    if len(header) < _HEADER_BYTES:
        raise DamagedLog(path, why="truncated")
    if not is_ours:
        raise NotALog(path, why="other_database")
    page_size = int.from_bytes(header[_PAGE_SIZE], "big")
    pages = int.from_bytes(header[_PAGE_COUNT], "big")
    # While a change is being written, or after a kill, header and size may be in between.
    if size < pages * page_size and not Beside(path).rollback.exists():
        raise DamagedLog(path, why="truncated")
    return int.from_bytes(header[_VERSION], "big")


def _read_header(path: Path) -> tuple[bytes, int]:
    """The first bytes of an ordinary file, and its size."""
    try:
        mode = path.stat().st_mode
    except (FileNotFoundError, NotADirectoryError):
        raise NoSuchLog(path) from None
    if stat.S_ISDIR(mode):
        raise NotALog(path, why="directory")
    if not stat.S_ISREG(mode):
        raise NotALog(path, why="special_file")
    try:
        with path.open("rb") as file:
            return file.read(_HEADER_BYTES), file.seek(0, os.SEEK_END)
    except PermissionError:
        raise CannotRead(path, why="permission") from None
