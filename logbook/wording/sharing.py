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


def brought_text(brought: BroughtIn) -> str:
    """The message after another copy was brought in."""
    if brought.apart:
        return _("It was brought in. Some entries differ: choose between them.")
    return _("It was brought in. Undo takes it back.")


def pair_title(count: int) -> str:
    """Above two versions: how many pairs there are."""
    if not count:
        return _("Nothing to choose")
    return ngettext(
        "Which one is right? There is {n} pair.", "Which one is right? There are {n} pairs.", count
    ).format(n=number_text(count))


def chosen_text(left: int) -> str:
    """The message after a choice."""
    if not left:
        return _("Chosen. Nothing is left to choose.")
    return ngettext(
        "Chosen. {n} pair is left to choose.", "Chosen. {n} pairs are left to choose.", left
    ).format(n=number_text(left))
