"""This computer's choices: declared once with type, default and the values allowed.

They lie in one small file in the config folder. What belongs to the log and travels with it is
in `logbook.domain.settings`. A damaged file is no reason not to start: what can be read of it is
taken, the rest is the default.
"""

from __future__ import annotations

import json
from dataclasses import dataclass, fields
from pathlib import Path
from typing import Any

from logbook.whole_file import write_whole

TEXT_SIZES = (100, 125, 150, 200, 300)
CONTRASTS = ("light", "dark", "strong")
PAPERS = ("letter", "a4")

_ALLOWED: dict[str, tuple[object, ...]] = {
    "text_percent": TEXT_SIZES,
    "contrast": CONTRASTS,
    "paper": ("", *PAPERS),
    "hours_24": (None, False, True),
    "heard_ring": (None, False, True),
}
_LONGEST_TEXT = 100


@dataclass(frozen=True, slots=True)
class Preferences:
    """All choices of this computer.

    `text_percent` is one of `TEXT_SIZES`, `contrast` one of `CONTRASTS`; `language` and `paper` are
    empty for "as the computer is set". `has_large_keys` makes the keys of the number 30 mm wide.
    `hours_24` is whether clock times run to 24, None for the usage of the country.
    `put_off` names what of the short list was put off, a word for each time. `heard_ring` is
    whether the person heard the sound of a recheck when asked, None while nobody asked.
    `printed_for` is the id of the appointment for which the report was printed or saved last.
    Reminders come in the window; `reminds_outside` on the desktop too, `reminds_with_sound` heard
    as well, neither between `quiet_from` and `quiet_until` (as "22:00", empty for no quiet hours).
    `copies_not_asked_on` is the day (as "2026-03-31") on which copies are not asked about again.
    `zone` is the IANA zone the person said they are in, empty for that of the computer, and
    `settled_zone` the one about which they want no question. `writer` are the initials of who
    writes here, empty for the person whose log it is.
    """

    text_percent: int = 100
    contrast: str = "light"
    language: str = ""
    has_large_keys: bool = False
    paper: str = ""
    hours_24: bool | None = None
    put_off: str = ""
    heard_ring: bool | None = None
    printed_for: str = ""
    reminds_outside: bool = False
    reminds_with_sound: bool = False
    quiet_from: str = "22:00"
    quiet_until: str = "07:00"
    copies_not_asked_on: str = ""
    zone: str = ""
    settled_zone: str = ""
    writer: str = ""


def read_preferences(path: Path) -> Preferences:
    """The choices kept at `path`; the defaults for what is missing or damaged. Never raises."""
    try:
        kept = json.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError, RecursionError):
        return Preferences()
    if not isinstance(kept, dict):
        return Preferences()
    defaults = Preferences()
    taken: dict[str, Any] = {}
    for field in fields(Preferences):
        value = kept.get(field.name, getattr(defaults, field.name))
        taken[field.name] = (
            value if _is_allowed(field.name, value) else getattr(defaults, field.name)
        )
    return Preferences(**taken)


def write_preferences(path: Path, preferences: Preferences) -> None:
    """Keep the choices at `path`, whole or not at all, for this person's eyes only.

    Raises:
        CannotWrite: what was there before is still there.
        OSError: the folder can't be made.
    """
    path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    kept = {field.name: getattr(preferences, field.name) for field in fields(Preferences)}
    write_whole(path, json.dumps(kept, indent=2).encode())


def _is_allowed(name: str, value: object) -> bool:
    if name in _ALLOWED:
        # True is 1 to Python, and no text size.
        return any(type(value) is type(one) and value == one for one in _ALLOWED[name])
    match name:
        case "has_large_keys" | "reminds_outside" | "reminds_with_sound":
            return isinstance(value, bool)
        case _:
            return isinstance(value, str) and len(value) <= _LONGEST_TEXT
