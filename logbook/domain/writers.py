"""Who writes in a log: the person whose log it is, and helpers, told apart by their initials.

What the person writes bears no initials; with no helper nobody is asked who writes.
"""

from __future__ import annotations

from collections.abc import Collection

from logbook.domain.settings import LogSettings

MOST_HELPERS = 6
LONGEST_INITIALS = 4


def initials_of(name: str, taken: Collection[str] = ()) -> str:
    """The first letter of each word of a name, at most `LONGEST_INITIALS`, unlike those `taken`.

    Empty for a name without a letter or figure. "Eva Klein" is "EK"; a second one is "EK2".
    """
    letters = [next((one for one in word if one.isalnum()), "") for word in name.split()]
    initials = "".join(letters).upper()[:LONGEST_INITIALS]
    if not initials or initials not in taken:
        return initials
    number = 2
    while f"{initials[: LONGEST_INITIALS - 1]}{number}" in taken:
        number += 1
    return f"{initials[: LONGEST_INITIALS - 1]}{number}"


def writer_now(settings: LogSettings, chosen: str) -> str:
    """The initials to write with: those `chosen` on this computer, if they are a helper's here.

    Empty for the person: another log on this computer may know nobody of these initials.
    """
    return chosen if any(initials == chosen for initials, _name in settings.helpers) else ""


def helper_name(settings: LogSettings, initials: str) -> str:
    """The name that goes with initials; empty where the helper is not in the list any more."""
    return next((name for known, name in settings.helpers if known == initials), "")
