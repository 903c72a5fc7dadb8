"""A disk that has lost its power: what may be on it, worked out from traced calls to the system.

What was synced is there. Of what was written since, any part may be: whole writes, or single
sectors of 512 bytes of them. Of the names that were given and taken in a folder since it was last
synced, those up to any one. (The method: "All File Systems Are Not Created Equal", OSDI 2014; a
disk that says it has written what it has not is beyond it.)
"""

from __future__ import annotations

import random
import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

SECTOR = 512
TRACED = (
    "openat,close,lseek,write,pwrite64,ftruncate,truncate,fdatasync,fsync,"
    "unlink,unlinkat,rename,renameat,renameat2,link,linkat,mkdir,mkdirat"
)
_CALL = re.compile(r"^(\w+)\((.*)\)\s+= (-?\d+)")
_TEXT = re.compile(r'"((?:\\x[0-9a-f]{2})*)"')


@dataclass(frozen=True)
class Call:
    """One call: its name, its numbers, its texts (paths or contents), its flags and its result."""

    name: str
    numbers: tuple[int, ...]
    texts: tuple[bytes, ...]
    flags: str
    result: int


def read_calls(trace: Path) -> Iterator[Call]:
    """The calls that went well, in order, of a trace made with `strace -xx -s` and a large size."""
    with trace.open(encoding="ascii", errors="replace") as lines:
        for line in lines:
            found = _CALL.match(line)
            if found is None or int(found[3]) < 0:
                continue
            arguments = found[2]
            texts = tuple(
                bytes.fromhex(text.replace("\\x", "")) for text in _TEXT.findall(arguments)
            )
            rest = _TEXT.sub("", arguments)
            numbers = tuple(int(n) for n in re.findall(r"(?<![\w])-?\d+(?![\w])", rest))
            yield Call(found[1], numbers, texts, rest, int(found[3]))


@dataclass(eq=False)
class _File:
    """A file's contents: on the disk, in memory, and what lies between the two."""

    durable: bytearray
    now: bytearray
    pending: list[tuple[int, bytes | None]] = field(default_factory=list)

    def write(self, at: int, content: bytes) -> None:
        _put(self.now, at, content)
        self.pending.append((at, content))

    def truncate(self, size: int) -> None:
        _cut(self.now, size)
        self.pending.append((size, None))

    def sync(self) -> None:
        self.durable = bytearray(self.now)
        self.pending.clear()

    def after_cut(self, chance: random.Random) -> bytes:
        """What may be on the disk."""
        found = bytearray(self.durable)
        manner = chance.choice(["none", "all", "writes", "sectors", "first ones"])
        if manner == "first ones":
            some = self.pending[: chance.randint(0, len(self.pending))]
        elif manner == "none":
            some = []
        else:
            some = self.pending
        for at, content in some:
            if manner == "writes" and chance.random() < 0.5:
                continue
            if content is None:
                _cut(found, at)
            elif manner == "sectors":
                # A sector is written whole or not at all; the writes need not begin at one.
                for first in range(at - at % SECTOR, at + len(content), SECTOR):
                    if chance.random() < 0.5:
                        part = slice(max(0, first - at), max(0, first + SECTOR - at))
                        _put(found, max(at, first), content[part])
            else:
                _put(found, at, content)
        return bytes(found)


@dataclass(eq=False)
class _Folder:
    """A folder's names: on the disk, in memory, and the givings and takings between the two."""

    durable: dict[str, _File | _Folder] = field(default_factory=dict)
    now: dict[str, _File | _Folder] = field(default_factory=dict)
    pending: list[tuple[tuple[str, _File | _Folder | None], ...]] = field(default_factory=list)

    def alter(self, *changes: tuple[str, _File | _Folder | None]) -> None:
        _apply(self.now, changes)
        self.pending.append(changes)

    def sync(self) -> None:
        self.durable = dict(self.now)
        self.pending.clear()

    def after_cut(self, to: Path, chance: random.Random) -> None:
        """Lay what may be on the disk out in a real folder."""
        names = dict(self.durable)
        for changes in self.pending[: chance.randint(0, len(self.pending))]:
            _apply(names, changes)
        to.mkdir(mode=0o700)
        for name, one in names.items():
            if isinstance(one, _Folder):
                one.after_cut(to / name, chance)
            else:
                (to / name).write_bytes(one.after_cut(chance))


class Disk:
    """The disk below one folder, fed with the calls of a process that worked there."""

    def __init__(self, real: Path, traced_as: Path) -> None:
        """The disk as `real` is now, for calls about `traced_as`."""
        self._root = traced_as
        self._top = _read(real)
        self._open: dict[int, tuple[_File | _Folder, int, bool]] = {}

    def feed(self, call: Call) -> bool:
        """Do one call; whether it was about this disk and altered or synced anything."""
        match call.name:
            case "openat":
                return self._open_at(call)
            case "close":
                self._open.pop(call.numbers[0], None)
                return False
            case "lseek":
                self._seek(call.numbers[0], call.result)
                return False
            case "write" | "pwrite64" | "ftruncate" | "fsync" | "fdatasync":
                return self._to_open(call)
            case _:
                return self._to_name(call)

    def after_cut(self, to: Path, chance: random.Random) -> None:
        """Lay out in `to` what may be there if the power went now."""
        self._top.after_cut(to, chance)

    def content(self) -> dict[str, bytes]:
        """What the process itself would read, by path."""
        return dict(_contents(self._top, ""))

    def _open_at(self, call: Call) -> bool:
        self._open.pop(call.result, None)
        found = self._find(call.texts[0])
        if found is None:
            return False
        folder, name = found
        one = folder.now.get(name) if name else folder
        made = one is None
        if one is None:
            one = _File(bytearray(), bytearray())
            folder.alter((name, one))
        elif "O_TRUNC" in call.flags and isinstance(one, _File):
            one.truncate(0)
        self._open[call.result] = (one, 0, "O_APPEND" in call.flags)
        return made

    def _seek(self, descriptor: int, position: int) -> None:
        if descriptor in self._open:
            one, _, appends = self._open[descriptor]
            self._open[descriptor] = (one, position, appends)

    def _to_open(self, call: Call) -> bool:
        descriptor = call.numbers[0]
        if descriptor not in self._open:
            return False
        one, position, appends = self._open[descriptor]
        if isinstance(one, _Folder):
            one.sync()
            return True
        match call.name:
            case "write":
                at = len(one.now) if appends else position
                content = call.texts[0][: call.result]
                one.write(at, content)
                self._open[descriptor] = (one, at + len(content), appends)
            case "pwrite64":
                one.write(call.numbers[-1], call.texts[0][: call.result])
            case "ftruncate":
                one.truncate(call.numbers[-1])
            case _:
                one.sync()
        return True

    def _to_name(self, call: Call) -> bool:
        if not call.texts or (found := self._find(call.texts[0])) is None:
            return False
        folder, name = found
        match call.name:
            case "unlink" | "unlinkat":
                folder.alter((name, None))
            case "mkdir" | "mkdirat":
                folder.alter((name, _Folder()))
            case "truncate":
                one = folder.now[name]
                assert isinstance(one, _File)
                one.truncate(call.numbers[-1])
            case "link" | "linkat" | "rename" | "renameat" | "renameat2":
                target = self._find(call.texts[1])
                assert target is not None
                assert target[0] is folder, "nothing here moves from one folder to another"
                taken = ((name, None),) if call.name.startswith("rename") else ()
                folder.alter((target[1], folder.now[name]), *taken)
            case _:
                return False
        return True

    def _find(self, path: bytes) -> tuple[_Folder, str] | None:
        """The folder in which a path's last name is, if it is on this disk."""
        try:
            parts = Path(path.decode()).relative_to(self._root).parts
        except (ValueError, UnicodeDecodeError):
            return None
        folder = self._top
        for part in parts[:-1]:
            inner = folder.now.get(part)
            if not isinstance(inner, _Folder):
                return None
            folder = inner
        if not parts:
            return folder, ""
        last = folder.now.get(parts[-1])
        return (last, "") if isinstance(last, _Folder) else (folder, parts[-1])


def _read(real: Path) -> _Folder:
    names: dict[str, _File | _Folder] = {}
    for one in sorted(real.iterdir()):
        if one.is_dir():
            names[one.name] = _read(one)
        else:
            content = one.read_bytes()
            names[one.name] = _File(bytearray(content), bytearray(content))
    return _Folder(dict(names), names)


def _contents(folder: _Folder, path: str) -> Iterator[tuple[str, bytes]]:
    for name, one in folder.now.items():
        if isinstance(one, _Folder):
            yield from _contents(one, f"{path}{name}/")
        else:
            yield path + name, bytes(one.now)


def _put(content: bytearray, at: int, part: bytes) -> None:
    if len(content) < at:
        content.extend(bytes(at - len(content)))
    content[at : at + len(part)] = part


def _cut(content: bytearray, size: int) -> None:
    if len(content) > size:
        del content[size:]
    else:
        content.extend(bytes(size - len(content)))


def _apply(
    names: dict[str, _File | _Folder], changes: tuple[tuple[str, _File | _Folder | None], ...]
) -> None:
    for name, one in changes:
        if one is None:
            names.pop(name, None)
        else:
            names[name] = one
