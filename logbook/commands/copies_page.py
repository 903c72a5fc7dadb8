"""What `backup`, `restore` and `rebuild` print: what was made, where it lies, what was kept."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from logbook.commands.plain_line import one_line
from logbook.domain.copies import Rebuilt, Restored
from logbook.wording import _, ngettext
from logbook.wording.numbers import number_text


def backup_lines(copy: Path) -> Iterator[str]:
    """Where the copy lies."""
    yield _("A copy was made, read back and found good: {file}").format(file=one_line(copy))


def restore_lines(log: Path, done: Restored) -> Iterator[str]:
    """What the log is now, and where the one lies that was there."""
    yield _("The log is the copy now: {file}").format(file=one_line(log))
    yield _("Changes in it: {n}").format(n=number_text(done.changes))
    if done.set_aside:
        yield _("What was there before is kept: {file}").format(file=one_line(done.set_aside))


def rebuild_lines(log: Path, made: Rebuilt) -> Iterator[str]:
    """What was made."""
    yield _("A log was made from the journal: {file}").format(file=one_line(log))
    yield _("Changes in it: {n}").format(n=number_text(made.changes))


def left_out_text(made: Rebuilt) -> str:
    """One or two sentences about lines that could not be believed."""
    said = ngettext(
        "{n} line of the journal was left out, because it is not what was written.",
        "{n} lines of the journal were left out, because one is not what was written.",
        made.left_out,
    ).format(n=number_text(made.left_out))
    where = _("It is line {line}; keep the journal as it is.").format(
        line=number_text(made.first_left_out)
    )
    return f"{said} {where}"
