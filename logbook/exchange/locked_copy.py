"""A copy of the whole log for a USB stick, locked with a phrase, in the age format (version 1).

The format is published (age-encryption.org/v1, C2SP) and has several programs that read it, so a
copy can be opened without this one: scrypt makes the key, ChaCha20-Poly1305 seals the content, and
what was altered or cut off does not open. What lies inside is the log, byte for byte.
"""

from __future__ import annotations

import hashlib
import os
import shutil
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from logbook.domain.errors import CannotRead, CannotWrite, WrongPhrase
from logbook.domain.moments import Moment
from logbook.whole_file import read_back, write_whole

ENDING = ".age"
"""What the name of a locked copy ends with; before it stands the name of the copy inside."""

_FIRST_LINE = b"age-encryption.org/v1\n"
# What the library says of a phrase that does not fit, and of one that takes far too long here.
_WRONG_PHRASE = "Decryption failed"
_TOO_SLOW = "xcessive work"


def is_locked(file: Path) -> bool:
    """Whether a file is locked in this format, by its first line; False for one not readable."""
    try:
        with file.open("rb") as content:
            return content.read(len(_FIRST_LINE)) == _FIRST_LINE
    except (OSError, ValueError):
        return False


def lock(content: bytes, phrase: str) -> bytes:
    """`content`, locked with `phrase`; it takes about a second, on purpose."""
    from pyrage import passphrase

    return bytes(passphrase.encrypt(content, phrase))


def unlock(file: Path, phrase: str) -> bytes:
    """What is locked in a file.

    Raises `WrongPhrase`, and `CannotRead` (missing, directory, permission, locked_damaged,
    locked_slow).
    """
    from pyrage import DecryptError, passphrase

    try:
        return bytes(passphrase.decrypt(_content(file), phrase))
    except DecryptError as error:
        if _TOO_SLOW in str(error):
            raise CannotRead(file, why="locked_slow") from error
        if str(error) == _WRONG_PHRASE:
            raise WrongPhrase(file) from error
        raise CannotRead(file, why="locked_damaged") from error


def save_locked(copy: Path, out: Path, phrase: str) -> None:
    """Lock the checked copy at `copy` into `out`, and read it back before this returns.

    Raises `CannotWrite` (exists, read_back and those of `write_whole`); then `out` is not there.
    """
    if os.path.lexists(out):
        raise CannotWrite(out, why="exists")
    content = _content(copy)
    write_whole(out, lock(content, phrase))
    try:
        read_back(out)
        found = hashlib.sha256(unlock(out, phrase)).digest()
    except (OSError, CannotRead, WrongPhrase) as error:
        _remove(out)
        raise CannotWrite(out, why="read_back") from error
    if found != hashlib.sha256(content).digest():
        _remove(out)
        raise CannotWrite(out, why="read_back")


def locked_name(log: Path, at: Moment) -> str:
    """What a copy locked at `at` is called: that it is locked, and when by the clock on the wall.

    A person compares it with what stands on the sheet, day and time included. Spaces let it wrap in
    large letters.
    """
    return f"{log.stem} locked {at.wall:%Y-%m-%d %H%M%S}{log.suffix}{ENDING}"


def lock_log(make_copy: Callable[[Path], object], out: Path, phrase: str) -> None:
    """Lock a fresh copy of the log into `out`; `make_copy` makes a checked one in a folder.

    Raises what `make_copy` and `save_locked` raise; then `out` is not there.
    """
    with tempfile.TemporaryDirectory(prefix="logbook-") as private:
        make_copy(Path(private))
        (copy,) = Path(private).iterdir()
        save_locked(copy, out, phrase)


@contextmanager
def unlocked(file: Path, phrase: str) -> Iterator[Path]:
    """The log that is locked in `file`, in a folder that only this person can open, for a while."""
    content = unlock(file, phrase)
    folder = Path(tempfile.mkdtemp(prefix="logbook-"))
    try:
        path = folder / file.name.removesuffix(ENDING)
        write_whole(path, content)
        yield path
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def _content(file: Path) -> bytes:
    try:
        return file.read_bytes()
    except FileNotFoundError:
        raise CannotRead(file, why="missing") from None
    except IsADirectoryError:
        raise CannotRead(file, why="directory") from None
    except PermissionError:
        raise CannotRead(file, why="permission") from None
    except OSError as error:
        raise CannotRead(file, why="disk") from error


def _remove(out: Path) -> None:
    with suppress(OSError):
        out.unlink(missing_ok=True)
