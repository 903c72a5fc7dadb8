"""Making the demonstration log through the Book, with a clock that follows the story."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

from logbook.book import Book
from logbook.demo.diary import diary
from logbook.demo.story import FIRST_DAY, Story
from logbook.domain.moments import Moment


def make_demo_log(path: Path, now: Moment) -> None:
    """Make the log at `path`, told back from the calendar day of `now`.

    The same for every moment of one day in one zone. Raises `AlreadyThere` and the disk's errors.
    """
    story = Story(now.wall.date(), now.zone)
    clock = _StoryClock(story.moment(FIRST_DAY, 6, 0).instant)
    with Book.create(path, story.settings(), clock) as book:
        for event in diary(story):
            clock.now = event.when
            event.do(book)


class _StoryClock:
    """Tells the time at which the story is."""

    def __init__(self, now: datetime) -> None:
        self.now = now

    def __call__(self) -> datetime:
        return self.now
