"""What `merge` and `backup --locked` print: what came in, what stands side by side, the sheet."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from logbook.commands.plain_line import one_line
from logbook.domain.bringing_in import BroughtIn
from logbook.wording import _
from logbook.wording.numbers import number_text
from logbook.wording.sharing import brought_lines


def merge_lines(brought: BroughtIn, *, is_dry_run: bool) -> Iterator[str]:
    """What another copy brought, or would bring."""
    if is_dry_run:
        yield _("Nothing was changed. This is what would be brought in:")
    yield from brought_lines(brought)


def disagreement_line(count: int) -> str:
    """How many records wait for a choice; they are shown in the window."""
    return _("To choose between, in the window: {n}").format(n=number_text(count))


def locked_lines(copy: Path, sheet: Path) -> Iterator[str]:
    """Where the locked copy and its sheet lie."""
    yield _("A locked copy was made, read back and found good: {file}").format(file=one_line(copy))
    yield _("The words that open it are on this sheet: {file}").format(file=one_line(sheet))
    yield _("Print the sheet and keep it apart from the copy.")
