"""What a page has at hand: the Book, the clock, the look, and how to speak to the person."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from dataclasses import replace
from datetime import date, datetime
from pathlib import Path
from typing import Any, ParamSpec

from PySide6.QtCore import QObject, Signal

from logbook.book import Book, Changed
from logbook.domain.errors import BadMoment, CannotWrite, LogbookError
from logbook.domain.health import Health
from logbook.domain.moments import Moment, find_zone
from logbook.preferences import Preferences, write_preferences
from logbook.ui.news import News
from logbook.ui.saved_numbers import SavedNumbers
from logbook.ui.theme import Look
from logbook.ui.work import Work
from logbook.wording import _
from logbook.wording.manner import manner, set_manner
from logbook.wording.problems import problem_text

Given = ParamSpec("Given")


class Desk(QObject):
    """One for the window; pages and parts get it and keep it.

    `clock` returns the aware current time and `zone` the IANA name of the zone the person is in.
    `only_read_because` is why the log can be read and not written; None when it can be written.
    `is_one_of_several` says that others keep logs here too: then the name is always in sight.
    `saved_numbers` goes on from one window to the next where the program has several.
    """

    said = Signal(str)
    sent_to = Signal(str)
    attention_wanted = Signal(str)
    alone_wanted = Signal(bool)
    waiting_told = Signal(str)
    damage_told = Signal()
    preferences_changed = Signal()
    manner_changed = Signal()
    simple_changed = Signal()
    log_wanted = Signal(object)

    def __init__(
        self,
        book: Book,
        clock: Callable[[], datetime],
        zone: Callable[[], str],
        *,
        preferences: Preferences,
        preferences_path: Path,
        state_folder: Path,
        only_read_because: LogbookError | None = None,
        parent: QObject | None = None,
    ) -> None:
        super().__init__(parent)
        self.book = book
        self.only_read_because = only_read_because
        self.is_one_of_several = False
        self._is_helper_in = False
        self.clock = clock
        self._computer_zone = zone
        self.preferences = preferences
        self.state_folder = state_folder
        self.look = Look(
            preferences.contrast,
            preferences.text_percent,
            has_large_keys=preferences.has_large_keys,
            parent=self,
        )
        self.news = News(book, self)
        self.work = Work(self)
        self.saved_numbers = SavedNumbers()
        # What a check of the log found; None while none was made or nothing is damaged.
        self.damage: Health | None = None
        self._visited: tuple[date, date] | None = None
        self._preferences_path = preferences_path
        # The names of the pages that there are; the window tells them.
        self.page_names: frozenset[str] = frozenset()

    def zone(self) -> str:
        """The zone the person is in: the one they told, else the computer's."""
        told = self.preferences.zone
        if told:
            with suppress(BadMoment):
                return find_zone(told).key
        return self._computer_zone()

    def now(self) -> Moment:
        """The present moment where the person is."""
        return Moment.at(self.clock(), self.zone())

    def today(self) -> date:
        """The person's own day; it begins when they said it does."""
        return self.now().day(self.book.settings.day_starts_at)

    @property
    def is_simple(self) -> bool:
        """Whether only the simple page is shown."""
        return self.book.settings.has_simple_page and not self._is_helper_in

    def let_helper_in(self) -> None:
        """Show all pages until the window is opened again, or the simple page is wanted back."""
        self._is_helper_in = True
        self.simple_changed.emit()

    def let_helper_out(self) -> None:
        """Back to the simple page, where it is turned on."""
        self._is_helper_in = False
        self.simple_changed.emit()

    def tell_several(self) -> None:
        """Others keep logs here too, from now on."""
        self.is_one_of_several = True
        self.simple_changed.emit()

    @property
    def person_in_sight(self) -> str:
        """The name to show with everything that is saved; empty where there is one log alone."""
        if not self.is_one_of_several:
            return ""
        return self.book.settings.person_name or _("Name not given")

    @property
    def is_after_visit(self) -> bool:
        """Whether what was decided at a visit is being written down."""
        return self._visited is not None and self._visited[1] == self.today()

    @property
    def changes_from(self) -> date:
        """The day from which a change holds unless another is told: the visit's, else today."""
        if self._visited is not None and self.is_after_visit:
            return self._visited[0]
        return self.today()

    def begin_after_visit(self, day: date) -> None:
        """From now on, and for today, changes are those decided at the visit of `day`."""
        self._visited = (day, self.today())

    def end_after_visit(self) -> None:
        """What was decided is written down."""
        self._visited = None

    def say(self, text: str) -> None:
        """A message in the bar; it stays until the next action and is read out."""
        self.said.emit(text)

    def told(self, error: LogbookError) -> None:
        """What went wrong, in the project's one sentence for it."""
        self.say(problem_text(error))

    def go_to(self, page_name: str) -> None:
        """Turn to another page, or to one subject of it: "my_plan/people"."""
        self.sent_to.emit(page_name)

    def call_attention(self, page_name: str) -> None:
        """Bring the window and this page forward: only for what must not wait, a due recheck."""
        self.attention_wanted.emit(page_name)

    def tell_waiting(self, text: str) -> None:
        """Name, beside the list of pages, what waits for the person; empty for nothing."""
        self.waiting_told.emit(text)

    def show_alone(self, *, is_alone: bool) -> None:
        """Let the page fill the window, without the list of pages: a recheck nobody answers."""
        self.alone_wanted.emit(is_alone)

    def write(
        self,
        verb: Callable[Given, Changed],
        *arguments: Given.args,
        **named: Given.kwargs,
    ) -> Changed | None:
        """Call a writing verb of the Book; a failure is told and nothing typed is lost."""
        if self.only_read_because is not None:
            self.told(self.only_read_because)
            return None
        try:
            return verb(*arguments, **named)
        except LogbookError as error:
            self.told(error)
            return None

    def prefer(self, **choices: Any) -> bool:
        """Change choices of this computer, at once, and keep them; whether they could be kept.

        When they could not, that is said, and must not be said away.
        """
        self.preferences = replace(self.preferences, **choices)
        self.look.change(
            self.preferences.contrast,
            self.preferences.text_percent,
            has_large_keys=self.preferences.has_large_keys,
        )
        self.preferences_changed.emit()
        wanted = replace(manner(), hours_24=self.preferences.hours_24)
        if wanted != manner():
            set_manner(wanted)
            self.manner_changed.emit()
        try:
            write_preferences(self._preferences_path, self.preferences)
        except (CannotWrite, OSError):
            self.say(_("This choice holds until you close the window. It could not be kept."))
            return False
        return True
