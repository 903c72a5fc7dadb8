"""What this computer is set to: its time zone and its language. A leaf; it asks for no time."""

from __future__ import annotations

import os

from logbook.domain.errors import BadMoment
from logbook.domain.moments import find_zone

_NO_LANGUAGE = ("C", "POSIX")


def zone_name() -> str:
    """The IANA name of the computer's zone; UTC where it has none that is known."""
    import tzlocal

    try:
        name = tzlocal.get_localzone_name()
        find_zone(name)
    except (BadMoment, LookupError, OSError, ValueError, AttributeError):
        return "UTC"
    return name


def language_tag() -> str:
    """The language as gettext would choose it, such as `de_DE.UTF-8`; else American English."""
    for variable in ("LANGUAGE", "LC_ALL", "LC_MESSAGES", "LANG"):
        tag = os.environ.get(variable, "").partition(":")[0]
        if tag and tag.partition(".")[0] not in _NO_LANGUAGE:
            return tag
    return "en_US"
