"""Sentences about another copy of the log: what it brings, and what stands side by side."""

from __future__ import annotations

from collections.abc import Iterator

from logbook.domain.bringing_in import BroughtIn
from logbook.wording import _, ngettext
from logbook.wording.numbers import number_text


def brought_lines(brought: BroughtIn) -> Iterator[str]:
    """What another copy brings, or brought, one line each."""
    if brought.is_nothing:
        yield _("Everything in this copy is here already.")
        return
    for count, text in (
        (brought.readings, _("Readings that are new here: {n}")),
        (brought.others, _("Other entries that are new here: {n}")),
        (brought.changed, _("Entries that were changed there: {n}")),
        (brought.taken_back, _("Entries that were taken back there: {n}")),
        (brought.apart, _("Entries that differ, both kept: {n}")),
    ):
        if count:
            yield text.format(n=number_text(count))


def to_choose_text(count: int) -> str:
    """How many entries wait for the person's choice; empty for none."""
    if not count:
        return ""
    return ngettext("{n} entry to choose", "{n} entries to choose", count).format(
        n=number_text(count)
    )
