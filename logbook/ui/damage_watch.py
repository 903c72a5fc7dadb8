"""The check of the whole log after the start, off the main thread; what it finds waits as a notice.

Copies are not read here: their own page does that. It is made once more after the log was gone back
to a copy, since it is another log then.
"""

from __future__ import annotations

from PySide6.QtCore import QObject

from logbook.book import Action, Changed
from logbook.domain.errors import LogbookError
from logbook.domain.health import Health
from logbook.ui.desk import Desk
from logbook.ui.work import Course


class DamageWatch(QObject):
    """Keeps `desk.damage` as it is."""

    def __init__(self, desk: Desk, parent: QObject) -> None:
        super().__init__(parent)
        self._desk = desk
        desk.news.changed.connect(self._hear)
        self.look()

    def look(self) -> None:
        """Begin a check."""
        course = self._desk.work.prepare()
        course.done.connect(self._take)
        course.failed.connect(self._not_checked)
        self._desk.work.start(course, self._check)

    def _check(self, _course: Course) -> Health:
        return self._desk.book.check(with_copies=False)

    def _take(self, health: Health) -> None:
        self._desk.damage = health if health.is_log_damaged else None
        self._desk.damage_told.emit()

    def _not_checked(self, error: Exception) -> None:
        # A disk that is full has no room for the check; the log itself may be sound.
        if not isinstance(error, LogbookError):
            raise error

    def _hear(self, changed: Changed) -> None:
        done = changed.done
        if Action.GO_BACK in (done.action, None if done.of is None else done.of.action):
            self.look()
