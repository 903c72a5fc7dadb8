"""Letting one call of this process to the system fail, once or from then on.

A small library stands before the system's own. It counts the calls that are about files under one
folder, and refuses the one it is told to. It must be loaded before Python starts: `with_library`
starts the process again with it.
"""

from __future__ import annotations

import ctypes
import errno
import os
import shutil
import subprocess
import sys
import tempfile
from functools import cache
from pathlib import Path

CALLS = (
    "open",
    "write",
    "pwrite",
    "truncate",
    "fsync",
    "fdatasync",
    "rename",
    "link",
    "unlink",
    "mkdir",
)
_LIBRARY = "FAILING_CALLS_LIBRARY"

_SOURCE = r"""
#define _GNU_SOURCE
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

enum { OPEN, WRITE, PWRITE, TRUNCATE, FSYNC, FDATASYNC, RENAME, LINK, UNLINK, MKDIR, CALLS };

static char folder[4096];
static size_t length;
static long counted[CALLS];
static int failing = -1, error_number, for_ever, has_failed;
static long at;

void fail_call(const char *under, int call, long when, int error, int ever) {
    strncpy(folder, under, sizeof folder - 1);
    length = strlen(folder);
    failing = call; at = when; error_number = error; for_ever = ever; has_failed = 0;
    memset(counted, 0, sizeof counted);
}
long count_of(int call) { return counted[call]; }
int failed(void) { return has_failed; }

static int refuses(int call, const char *path) {
    if (!length || strncmp(path, folder, length) != 0) return 0;
    long number = ++counted[call];
    if (call != failing || !(for_ever ? number >= at : number == at)) return 0;
    has_failed++;
    errno = error_number;
    return 1;
}

static int refuses_file(int call, int file) {
    char link[64], path[4096];
    if (!length) return 0;
    int before = errno;
    snprintf(link, sizeof link, "/proc/self/fd/%d", file);
    ssize_t size = readlink(link, path, sizeof path - 1);
    errno = before;
    if (size < 0) return 0;
    path[size] = 0;
    return refuses(call, path);
}

#define REAL(result, name, parameters)                                           \
    static result(*real) parameters;                                             \
    if (!real) real = (result(*) parameters)dlsym(RTLD_NEXT, #name)

#define ON_FILE(result, name, call, parameters, given)                           \
    result name parameters {                                                     \
        REAL(result, name, parameters);                                          \
        return refuses_file(call, file) ? -1 : real given;                       \
    }
#define ON_PATH(name, call, parameters, given)                                   \
    int name parameters {                                                        \
        REAL(int, name, parameters);                                             \
        return refuses(call, path) ? -1 : real given;                            \
    }
#define OPENING(name)                                                            \
    int name(const char *path, int flags, ...) {                                 \
        va_list more;                                                            \
        va_start(more, flags);                                                   \
        mode_t mode = flags & (O_CREAT | O_TMPFILE) ? va_arg(more, mode_t) : 0;  \
        va_end(more);                                                            \
        REAL(int, name, (const char *, int, ...));                               \
        return refuses(OPEN, path) ? -1 : real(path, flags, mode);               \
    }

OPENING(open)
OPENING(open64)
ON_FILE(ssize_t, write, WRITE, (int file, const void *from, size_t size), (file, from, size))
ON_FILE(ssize_t, pwrite, PWRITE, (int file, const void *from, size_t size, off_t to),
        (file, from, size, to))
ON_FILE(ssize_t, pwrite64, PWRITE, (int file, const void *from, size_t size, off64_t to),
        (file, from, size, to))
ON_FILE(int, ftruncate, TRUNCATE, (int file, off_t size), (file, size))
ON_FILE(int, ftruncate64, TRUNCATE, (int file, off64_t size), (file, size))
ON_PATH(truncate, TRUNCATE, (const char *path, off_t size), (path, size))
ON_PATH(truncate64, TRUNCATE, (const char *path, off64_t size), (path, size))
ON_FILE(int, fsync, FSYNC, (int file), (file))
ON_FILE(int, fdatasync, FDATASYNC, (int file), (file))
ON_PATH(rename, RENAME, (const char *path, const char *to), (path, to))
ON_PATH(link, LINK, (const char *path, const char *to), (path, to))
ON_PATH(unlink, UNLINK, (const char *path), (path))
ON_PATH(mkdir, MKDIR, (const char *path, mode_t mode), (path, mode))
"""


def can_be_had() -> bool:
    """Whether there is a compiler to make the library."""
    return shutil.which("cc") is not None


def with_library(module: str) -> None:
    """Start this process again, as `python -m module`, with the library; nothing once it is."""
    if _LIBRARY in os.environ:
        return
    folder = Path(tempfile.mkdtemp(prefix="logbook-failing-calls-"))
    source, library = folder / "failing_calls.c", folder / "failing_calls.so"
    source.write_text(_SOURCE, encoding="utf-8")
    making = ["cc", "-O1", "-w", "-shared", "-fPIC", "-o", str(library), str(source), "-ldl"]
    subprocess.run(making, check=True)
    os.environ |= {"LD_PRELOAD": str(library), _LIBRARY: str(library)}
    os.execv(sys.executable, [sys.executable, "-m", module, *sys.argv[1:]])  # noqa: S606


@cache
def _library() -> ctypes.CDLL:
    library = ctypes.CDLL(os.environ[_LIBRARY])
    library.count_of.restype = ctypes.c_long
    library.fail_call.argtypes = [
        ctypes.c_char_p,
        ctypes.c_int,
        ctypes.c_long,
        ctypes.c_int,
        ctypes.c_int,
    ]
    return library


def fail(folder: Path, call: str, when: int, error: str, *, for_ever: bool) -> None:
    """From now on, let the `when`-th such call about files under `folder` fail in this process."""
    number = getattr(errno, error)
    _library().fail_call(os.fsencode(folder), CALLS.index(call), when, number, int(for_ever))


def counts() -> dict[str, int]:
    """How often each call was made since `fail`."""
    return {call: _library().count_of(number) for number, call in enumerate(CALLS)}


def has_failed() -> bool:
    """Whether a call failed since `fail`."""
    return bool(_library().failed())
