"""How the log is kept, in counts and words. Nothing here praises or blames."""

from __future__ import annotations

from collections.abc import Iterator

from logbook.domain.figures import Share
from logbook.domain.log_keeping import LogKeeping
from logbook.wording import _
from logbook.wording.numbers import count_of_text, days_text, number_text


def keeping_rows(keeping: LogKeeping) -> list[tuple[str, str]]:
    """What was counted and the count, in the order in which it is shown."""
    return list(_rows(keeping))


def _rows(keeping: LogKeeping) -> Iterator[tuple[str, str]]:
    yield _("Readings written down"), number_text(keeping.readings)
    yield _("Days with a reading"), _share(keeping.days)
    yield _("Longest time without one"), days_text(keeping.longest_without)
    if keeping.same_day.of:
        yield _("Written on the same day"), _share(keeping.same_day)
    if keeping.planned is not None:
        yield _("Planned checks done"), _share(keeping.planned)
    for count, name in (
        (keeping.copied, _("Copied from the meter")),
        (keeping.taken_in, _("Taken in from a file")),
        (keeping.corrected, _("Corrected later")),
        (keeping.crossed_out, _("Crossed out")),
    ):
        if count:
            yield name, number_text(count)
    for initials, count in keeping.by_helpers:
        yield _("Written by {initials}").format(initials=initials), number_text(count)


def _share(share: Share) -> str:
    return count_of_text(share.part, share.of)
