"""A second, small reader of calendar files, written from RFC 5545 and for these tests alone.

Content lines (section 3.1) and escapes (3.3.11) are read here; recurrence is dateutil's.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from datetime import datetime, timedelta

from dateutil.rrule import rrulestr

ESCAPES = {"\\n": "\n", "\\N": "\n", "\\,": ",", "\\;": ";", "\\\\": "\\"}


@dataclass
class ReadEvent:
    """One VEVENT: name to the list of (parameters, value), and the same of its alarms."""

    properties: dict[str, list[tuple[str, str]]] = field(default_factory=dict)
    alarms: list[dict[str, list[tuple[str, str]]]] = field(default_factory=list)

    def value(self, name: str) -> str:
        """The value of a property that stands exactly once."""
        ((_, value),) = self.properties[name]
        return value

    def text(self, name: str) -> str:
        return re.sub(r"\\[nN,;\\]", lambda found: ESCAPES[found[0]], self.value(name))

    def begins(self, until: datetime = datetime(2100, 1, 1)) -> list[datetime]:
        """When it happens, by dateutil."""
        start = self.value("DTSTART")
        if "RRULE" not in self.properties:
            return [datetime.strptime(start, "%Y%m%dT%H%M%S")]
        lines = [f"DTSTART:{start}", f"RRULE:{self.value('RRULE')}"]
        lines += [f"EXDATE:{value}" for _, value in self.properties.get("EXDATE", [])]
        return list(
            rrulestr("\n".join(lines), forceset=True).between(datetime(2000, 1, 1), until, inc=True)
        )


@dataclass
class ReadCalendar:
    properties: dict[str, list[tuple[str, str]]]
    events: list[ReadEvent]

    @property
    def timed(self) -> list[ReadEvent]:
        """The events that are no whole days."""
        return [one for one in self.events if "T" in one.value("DTSTART")]


def read_calendar(data: bytes) -> ReadCalendar:
    """Read it; every breach of the format is an assertion that fails."""
    assert data.endswith(b"\r\n")
    assert b"\n" not in data.replace(b"\r\n", b"")
    lines = data.split(b"\r\n")[:-1]
    assert max(len(line) for line in lines) <= 75  # octets, section 3.1
    unfolded = data.replace(b"\r\n ", b"").decode("utf-8").split("\r\n")[:-1]
    calendar = ReadCalendar({}, [])
    stack: list[str] = []
    for line in unfolded:
        found = re.fullmatch(r"([A-Z-]+)((?:;[A-Z-]+=[^:;]+)*):(.*)", line)
        assert found is not None, line
        name, parameters, value = found[1], found[2], found[3]
        assert not re.search(r"[\x00-\x08\x0a-\x1f\x7f]", value), line
        if name == "BEGIN":
            stack.append(value)
            if value == "VEVENT":
                calendar.events.append(ReadEvent())
            elif value == "VALARM":
                calendar.events[-1].alarms.append({})
        elif name == "END":
            assert stack.pop() == value
        else:
            target = {
                "VCALENDAR": lambda: calendar.properties,
                "VEVENT": lambda: calendar.events[-1].properties,
                "VALARM": lambda: calendar.events[-1].alarms[-1],
            }[stack[-1]]()
            target.setdefault(name, []).append((parameters, value))
    assert stack == []
    return calendar


def duration(text: str) -> timedelta:
    """A duration as it stands in the file (section 3.3.6), as far as these files use it."""
    found = re.fullmatch(r"([+-]?)P(?:(\d+)D)?(?:T(?:(\d+)H)?(?:(\d+)M)?(?:(\d+)S)?)?", text)
    assert found is not None, text
    days, hours, minutes, seconds = (int(part or 0) for part in found.groups()[1:])
    span = timedelta(days=days, hours=hours, minutes=minutes, seconds=seconds)
    return -span if found[1] == "-" else span
