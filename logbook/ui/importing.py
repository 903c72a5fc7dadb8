"""A file on its way into the log: what is known of it, and the jobs that read it and bring it in.

Nothing is written before `bring_in`; that is one action with a checked copy made before it. The
jobs run off the main thread. The Book takes turns by itself, and its news come to the pages in
their own thread.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from logbook.book import Book
from logbook.domain.import_doubts import ImportDoubts
from logbook.domain.kit.file_strips import StripQuestion, strip_question, with_strips_of
from logbook.domain.readings import Reading
from logbook.exchange.diary_file import FileRead, read_diary
from logbook.exchange.draft import Draft
from logbook.exchange.first_look import FirstLook, look_at
from logbook.exchange.fitting import layouts_that_fit
from logbook.exchange.identity import new_with_doubts, not_there_yet
from logbook.exchange.layout import Layout
from logbook.exchange.sources import SelfTelling, self_telling
from logbook.ui.work import Course

_READ_SHARE = 90  # percent of the bar while the file is read; looking up what is there is the rest


class Stopped(Exception):
    """The person pressed Stop; nothing was written."""


@dataclass(frozen=True, slots=True)
class Preview:
    """What would happen: the file as it was read, what is new, what is asked about strips.

    `doubts` are what to look at once more; nothing is left out for them.
    """

    layout: Layout | SelfTelling
    found: FileRead
    new: tuple[Reading, ...]
    strips: StripQuestion | None
    doubts: ImportDoubts

    @property
    def already_there(self) -> int:
        """How many readings of the file are in the log."""
        return len(self.found.readings) - len(self.new)


@dataclass(slots=True)
class Importing:
    """One file that the person chose.

    `layout` is a kept or shipped one that fits, if any. A file that tells itself how it is written
    has that in `telling`, and nothing to ask of its columns.
    """

    path: Path
    draft: Draft | None
    layout: Layout | None = None
    telling: SelfTelling | None = None
    uses_strips: bool | None = None
    preview: Preview | None = None

    @classmethod
    def begin(cls, path: Path, kept_in: Path) -> Importing:
        """Look at a file. Raises `CannotRead`."""
        if (telling := self_telling(path)) is not None:
            return cls(path, None, telling=telling)
        look = look_at(path)
        fitting = layouts_that_fit(path, kept_in)
        layout = fitting[0] if len(fitting) == 1 else None
        return cls(path, Draft.of(look), layout)

    def look_again(self, look: FirstLook) -> None:
        """Another sheet, encoding or sign between columns: everything is told anew."""
        self.draft, self.layout, self.preview = Draft.of(look), None, None

    def change(self, draft: Draft) -> None:
        """The person said something of the columns: a layout that was found counts no more."""
        self.draft, self.layout, self.preview = draft, None, None

    @property
    def is_ready(self) -> bool:
        """Whether the file can be read."""
        known = self.layout or self.telling
        return known is not None or self.draft is None or not self.draft.lacks()

    def layout_in_force(self) -> Layout | SelfTelling:
        """What to read it by. Raises `LayoutWrong`."""
        known = self.layout or self.telling
        if known is not None or self.draft is None:
            assert known is not None
            return known
        return self.draft.layout(self.path.name)


def read_file(
    course: Course, path: Path, layout: Layout | SelfTelling, book: Book, now: datetime
) -> Preview | None:
    """The job that reads the file and looks up what is new; None when it was stopped."""

    def told(_lines: int, share: float | None) -> None:
        if course.is_cancelled:
            raise Stopped
        if share is not None:
            course.tell(int(share * _READ_SHARE))

    try:
        zone = book.settings.home_zone
        if isinstance(layout, SelfTelling):
            found = layout.read(path, zone, now, told)
        else:
            found = read_diary(path, layout, zone, now, told=told)
        added, doubts = new_with_doubts(book, found.readings)
        new = tuple(added)
        course.tell(100)
        return Preview(layout, found, new, strip_question(new, book.kit()), doubts)
    except Stopped:
        return None


def bring_in(course: Course, preview: Preview, book: Book, name: str, *, uses_strips: bool) -> int:
    """The job that writes; how many were written, 0 when it was stopped before.

    What came into the log meanwhile is looked up once more, so that nothing is doubled.
    """

    def told(written: int, of: int) -> None:
        if course.is_cancelled:
            raise Stopped
        course.tell(written * 100 // max(of, 1))

    new = not_there_yet(book, preview.new)
    if uses_strips and preview.strips is not None:
        new = with_strips_of(preview.strips.vial, new)
    try:
        book.take_in(new, name, told)
    except Stopped:
        return 0
    return len(new)
