"""Who writes, in words."""

from __future__ import annotations

from logbook.domain.settings import LogSettings
from logbook.domain.writers import helper_name
from logbook.wording import _


def person_choice_text(settings: LogSettings) -> str:
    """The person whose log it is, as a choice: "Anna (this log)"."""
    if settings.person_name:
        return _("{name} (this log)").format(name=settings.person_name)
    return _("The person of this log")


def helper_choice_text(initials: str, name: str) -> str:
    """A helper as a choice: "Eva Klein (EK)"."""
    return _("{name} ({initials})").format(name=name, initials=initials)


def writing_text(initials: str, *, is_short: bool = False) -> str:
    """Who writes now, on the button that changes it; short where text is large."""
    if is_short:
        return _("By {initials}").format(initials=initials) if initials else _("By me")
    if initials:
        return _("Writing: {initials}").format(initials=initials)
    return _("Writing: myself")


def written_by_text(settings: LogSettings, initials: str) -> str:
    """Beside a reading: "Written by Eva Klein (EK)"."""
    name = helper_name(settings, initials)
    who = helper_choice_text(initials, name) if name else initials
    return _("Written by {who}").format(who=who)
