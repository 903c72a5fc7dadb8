"""Slow jobs off the main thread, with progress and cancel; one pool for the window, waited for.

A job is a function that takes a `Course` and returns its result. It must not touch a widget or the
Book: what it needs is read before it starts and handed to it.
"""

from __future__ import annotations

from collections.abc import Callable
from threading import Event
from typing import Any

from PySide6.QtCore import QObject, QRunnable, QThreadPool, Signal


class Course(QObject):
    """How one job goes: emits `done` (its result), `failed` (the error) or `progressed` (0 to 100).

    Connect bound methods of QObjects: they are called in the main thread.
    """

    done = Signal(object)
    failed = Signal(object)
    progressed = Signal(int)
    ended = Signal(object)

    def __init__(self) -> None:
        super().__init__()
        self._cancelled = Event()

    def cancel(self) -> None:
        """Ask the job to stop; neither `done` nor `failed` will be told."""
        self._cancelled.set()

    @property
    def is_cancelled(self) -> bool:
        """Whether the job was asked to stop; a long job looks now and then."""
        return self._cancelled.is_set()

    def tell(self, percent: int) -> None:
        """Called by the job: how far it is."""
        if not self.is_cancelled:
            self.progressed.emit(percent)


class _Job(QRunnable):
    def __init__(self, function: Callable[[Course], Any], course: Course) -> None:
        super().__init__()
        self._function, self._course = function, course

    def run(self) -> None:
        course = self._course
        try:
            result = self._function(course)
        except Exception as error:  # noqa: BLE001  (handed to the main thread, which tells it)
            if not course.is_cancelled:
                course.failed.emit(error)
        else:
            if not course.is_cancelled:
                course.done.emit(result)
        finally:
            course.ended.emit(course)


class Work(QObject):
    """Starts jobs. `finish()` cancels and waits; the window calls it when it closes."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._pool = QThreadPool(self)
        self._pool.setMaxThreadCount(1)  # jobs of one person, one after the other
        self._pool.setExpiryTimeout(1_000)
        self._courses: set[Course] = set()

    def prepare(self) -> Course:
        """The course of a job to come: connect to its signals, then `start` it."""
        course = Course()
        course.ended.connect(self._forget)
        self._courses.add(course)
        return course

    def start(self, course: Course, function: Callable[[Course], Any]) -> None:
        """Run `function(course)` off the main thread."""
        self._pool.start(_Job(function, course))

    @property
    def is_busy(self) -> bool:
        """Whether a job has not ended yet."""
        return bool(self._courses)

    def finish(self) -> None:
        """Cancel what runs and wait for it."""
        for course in self._courses:
            course.cancel()
        self._pool.waitForDone()
        self._courses.clear()

    def _forget(self, course: Course) -> None:
        self._courses.discard(course)
