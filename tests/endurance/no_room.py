"""Three ways in which there is no room: a small file system, a limit on sizes, calls that refuse.

Each can be told to be full and to have room again while a process runs. What cannot be had here (a
mount that is refused, no compiler) says so and counts as not run.
"""

from __future__ import annotations

import os
import resource
import shutil
import signal
import subprocess
from collections.abc import Callable
from functools import cache
from pathlib import Path

SMALL_DISK, LIMIT, REFUSED = "small disk", "limit on sizes", "refused calls"
WAYS = (SMALL_DISK, LIMIT, REFUSED)

_DISK_SIZE = "12m"
_SWITCH = "NO_ROOM_SWITCH"

# Calls that write refuse, with ENOSPC, for what lies under the path that the switch's file names.
_REFUSING_CALLS = r"""
#define _GNU_SOURCE
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/uio.h>
#include <unistd.h>

static int has_no_room(int file) {
    const char *name = getenv("NO_ROOM_SWITCH");
    char under[4096], link[64], path[4096];
    int before = errno, full = 0;
    int from = name ? open(name, O_RDONLY) : -1;
    if (from >= 0) {
        ssize_t length = read(from, under, sizeof under);
        close(from);
        snprintf(link, sizeof link, "/proc/self/fd/%d", file);
        ssize_t size = readlink(link, path, sizeof path);
        full = length > 0 && size >= length && memcmp(path, under, (size_t)length) == 0;
    }
    errno = full ? ENOSPC : before;
    return full;
}

#define REFUSING(result, name, first, parameters, given)                         \
    result name parameters {                                                     \
        static result(*real) parameters;                                         \
        if (has_no_room(first)) return -1;                                       \
        if (!real) real = (result(*) parameters)dlsym(RTLD_NEXT, #name);         \
        return real given;                                                       \
    }

REFUSING(ssize_t, write, file, (int file, const void *from, size_t count), (file, from, count))
REFUSING(ssize_t, pwrite, file, (int file, const void *from, size_t count, off_t at),
         (file, from, count, at))
REFUSING(ssize_t, pwrite64, file, (int file, const void *from, size_t count, off64_t at),
         (file, from, count, at))
REFUSING(ssize_t, writev, file, (int file, const struct iovec *parts, int count),
         (file, parts, count))
REFUSING(ssize_t, sendfile, to, (int to, int from, off_t *at, size_t count),
         (to, from, at, count))
REFUSING(ssize_t, sendfile64, to, (int to, int from, off64_t *at, size_t count),
         (to, from, at, count))
REFUSING(ssize_t, copy_file_range, to,
         (int from, off64_t *first, int to, off64_t *second, size_t count, unsigned flags),
         (from, first, to, second, count, flags))
REFUSING(int, posix_fallocate, file, (int file, off_t at, off_t count), (file, at, count))
"""


class NotHere(Exception):
    """This way cannot be had on this computer."""


class Room:
    """An area of the disk, a folder or one file, that can be full and have room again."""

    def __init__(self, area: Path) -> None:
        self._area = area

    def prepare(self) -> None:
        """Do what is needed once, while there is room."""

    def fill(self) -> None:
        """No room from now on."""
        raise NotImplementedError

    def free(self) -> None:
        """Room again."""
        raise NotImplementedError


class SmallDisk(Room):
    """A small file system of its own in the area's place. The process has its own mounts."""

    def prepare(self) -> None:
        self._disk = self._area.parent / f"{self._area.name}.disk"
        self._disk.mkdir()
        self._mount("-t", "tmpfs", "-o", f"size={_DISK_SIZE},mode=700", "tmpfs", str(self._disk))
        there = self._disk / self._area.name
        if self._area.is_dir():
            shutil.copytree(self._area, there)
        else:
            shutil.copy2(self._area, there)
        self._mount("--bind", str(there), str(self._area))

    def _mount(self, *how: str) -> None:
        done = subprocess.run(["mount", *how], capture_output=True, text=True, check=False)
        if done.returncode:
            raise NotHere("mounting is refused")

    def fill(self) -> None:
        for size in (1 << 16, 1 << 10, 1):
            with (self._disk / "filler").open("ab", buffering=0) as file:
                try:
                    while file.write(bytes(size)) == size:
                        pass
                except OSError:
                    continue

    def free(self) -> None:
        (self._disk / "filler").unlink()


class Limit(Room):
    """No file of this process may grow: the system refuses as when the disk is full (EFBIG)."""

    def prepare(self) -> None:
        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
        self._most = resource.getrlimit(resource.RLIMIT_FSIZE)[1]

    def fill(self) -> None:
        resource.setrlimit(resource.RLIMIT_FSIZE, (0, self._most))

    def free(self) -> None:
        resource.setrlimit(resource.RLIMIT_FSIZE, (self._most, self._most))


class Refused(Room):
    """Calls that write into the area refuse. The process was started with `refusing`."""

    def fill(self) -> None:
        Path(os.environ[_SWITCH]).write_text(str(self._area.resolve()), encoding="utf-8")

    def free(self) -> None:
        Path(os.environ[_SWITCH]).unlink()


ROOMS: dict[str, Callable[[Path], Room]] = {
    SMALL_DISK: SmallDisk,
    LIMIT: Limit,
    REFUSED: Refused,
}


def started_for(way: str, folder: Path) -> tuple[list[str], dict[str, str]]:
    """What goes before the command of a process, and into its environment. Raises `NotHere`."""
    if way == SMALL_DISK:
        if not _can_mount():
            raise NotHere("mounting is refused")
        return ["unshare", "--mount", "--propagation", "private"], {}
    if way == REFUSED:
        library = _refusing_library(folder.parent)
        if library is None:
            raise NotHere("there is no compiler")
        return [], {"LD_PRELOAD": str(library), _SWITCH: str(folder / "full")}
    return [], {}


@cache
def _can_mount() -> bool:
    if shutil.which("unshare") is None:
        return False
    trying = ["unshare", "--mount", "sh", "-c", "mount -t tmpfs -o size=64k tmpfs /mnt"]
    return subprocess.run(trying, capture_output=True, check=False).returncode == 0


@cache
def _refusing_library(folder: Path) -> Path | None:
    compiler = shutil.which("cc")
    if compiler is None:
        return None
    source = folder / f"refusing-{os.getpid()}.c"
    library = source.with_suffix(".so")
    source.write_text(_REFUSING_CALLS, encoding="utf-8")
    making = [compiler, "-O1", "-w", "-shared", "-fPIC", "-o", str(library), str(source), "-ldl"]
    return library if subprocess.run(making, check=False).returncode == 0 else None
