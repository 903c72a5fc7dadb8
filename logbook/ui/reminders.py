"""Reminders: in the bar of the window always, and outside of it where the person wants it.

What is reminded of and when is decided by `domain.plan`; each reminder is given once. Outside the
window it is a notification of the desktop, from a small sign in its panel where it has one. Many
desktops have neither, so nothing relies on them.
"""

from __future__ import annotations

import contextlib
import hashlib
import json
import shutil
from collections.abc import Callable
from datetime import time, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QProcess, QTimer
from PySide6.QtWidgets import QSystemTrayIcon, QWidget

from logbook.domain.errors import LogbookError
from logbook.domain.moments import Moment
from logbook.domain.plan.dated_facts import dated_facts
from logbook.domain.plan.due import what_is_due
from logbook.domain.plan.reminders import QuietHours, Reminder, ReminderKind, reminders
from logbook.domain.plan.strips import plan_strips_a_day
from logbook.domain.usual_times import LOOKS_BACK_DAYS
from logbook.places import private_folder
from logbook.preferences import Preferences
from logbook.ui.desk import Desk
from logbook.ui.entry.low_watch import course_now
from logbook.ui.entry.saving import recent_period
from logbook.ui.ring import Ring
from logbook.whole_file import write_whole
from logbook.wording import _
from logbook.wording.dated_facts import named_facts
from logbook.wording.reminders import reminder_text

if TYPE_CHECKING:
    from logbook.ui.main_window import MainWindow

LOOK_MILLISECONDS = 20_000
# The window comes up first.
_FIRST_LOOK_MILLISECONDS = 3_000
# A check that fell due longer ago than this is named by the title of the form, and not rung for.
_CHECK_IS_NEWS = timedelta(minutes=30)
# How many keys of given reminders are kept: some weeks of them.
_KEPT = 400


def quiet_hours(preferences: Preferences) -> QuietHours | None:
    """The quiet hours that were chosen; None for none."""
    begin, end = _clock(preferences.quiet_from), _clock(preferences.quiet_until)
    return QuietHours(begin, end) if begin is not None and end is not None else None


def _clock(text: str) -> time | None:
    try:
        return time.fromisoformat(text) if text else None
    except ValueError:
        return None


def read_reminders(desk: Desk, now: Moment, days: int) -> tuple[Reminder, ...]:
    """Every reminder of now and of the next `days`."""
    book, settings = desk.book, desk.book.settings
    series = book.series(recent_period(now, settings, LOOKS_BACK_DAYS + 1))
    facts = book.plan_facts(recent_period(now, settings, 2))
    low = course_now(book, now)
    after_low = None if low is None else low.recheck
    due = what_is_due(facts, series, now, settings, None if after_low is None else after_low.due_at)
    today = desk.today()
    kit = book.kit()
    dated = dated_facts(
        kit,
        settings,
        facts.appointments,
        now,
        today + timedelta(days=days),
        plan_strips_a_day(facts.plans, today),
    )
    return reminders(due, named_facts(dated, kit), now, quiet_hours(desk.preferences))


class Given:
    """Which reminders were given already, kept for the next start in a small file."""

    def __init__(self, folder: Path, log_path: Path) -> None:
        name = hashlib.sha256(str(log_path).encode()).hexdigest()[:16]
        self.path = folder / f"reminders-{name}.json"
        self._keys: dict[str, None] = {}
        with contextlib.suppress(OSError, ValueError, RecursionError):
            kept = json.loads(self.path.read_text(encoding="utf-8"))
            if isinstance(kept, list):
                self._keys = {key: None for key in kept if isinstance(key, str)}

    def __contains__(self, key: str) -> bool:
        return key in self._keys

    def add(self, keys: list[str]) -> None:
        """Keep these too; a disk that can't be written makes a reminder come twice, no more."""
        self._keys.update(dict.fromkeys(keys))
        latest = list(self._keys)[-_KEPT:]
        with contextlib.suppress(OSError, LogbookError):
            private_folder(self.path.parent)
            write_whole(self.path, json.dumps(latest).encode())


class Outside(QObject):
    """A notification of the desktop: by the sign in its panel, else by the desktop's own program.

    `notifier` is the program that notifies, empty for none.
    """

    def __init__(
        self, window: QWidget, on_click: Callable[[], None], notifier: str | None = None
    ) -> None:
        super().__init__(window)
        self._window, self._on_click = window, on_click
        self._tray: QSystemTrayIcon | None = None
        self._notifier = shutil.which("notify-send") if notifier is None else notifier

    @property
    def _has_tray(self) -> bool:
        return QSystemTrayIcon.isSystemTrayAvailable() and QSystemTrayIcon.supportsMessages()

    def show_sign(self, *, is_wanted: bool) -> None:
        """Show the small sign in the panel, or take it away."""
        if is_wanted and self._tray is None and self._has_tray:
            tray = QSystemTrayIcon(self._window.windowIcon(), self)
            tray.setToolTip(_("Fingerstick Logbook"))
            tray.activated.connect(self._on_click)
            tray.messageClicked.connect(self._on_click)
            self._tray = tray
        if self._tray is not None:
            self._tray.setVisible(is_wanted)

    def tell(self, text: str) -> None:
        """Show a notification, where there is a way."""
        title = _("Fingerstick Logbook")
        if self._tray is not None and self._tray.isVisible():
            self._tray.showMessage(title, text)
        elif self._notifier:
            QProcess.startDetached(self._notifier, [f"--app-name={title}", "--", title, text])


class Reminders(QObject):
    """Looks now and then, and gives what has come."""

    def __init__(
        self,
        desk: Desk,
        window: MainWindow,
        outside: Outside | None = None,
        ring: Ring | None = None,
    ) -> None:
        super().__init__(window)
        self._desk = desk
        self.given = Given(desk.state_folder, desk.book.path)
        self.outside = outside or Outside(window, self._come_forward)
        self._ring = ring or Ring(desk)
        self._bar = window.bar
        self._said = ""
        desk.preferences_changed.connect(self._show_sign)
        self._timer = QTimer(self)
        self._timer.timeout.connect(self._look_on)
        self._timer.start(_FIRST_LOOK_MILLISECONDS)
        window.closing.connect(self._end)

    def _end(self) -> None:
        self._timer.stop()
        self.outside.show_sign(is_wanted=False)

    def _look_on(self) -> None:
        if self._timer.interval() != LOOK_MILLISECONDS:
            self._timer.setInterval(LOOK_MILLISECONDS)
            self._show_sign()
        self.look()

    def look(self) -> None:
        """Give every reminder that has come and was not given yet."""
        now, given = self._desk.now(), self.given
        try:
            found = read_reminders(self._desk, now, days=1)
        except LogbookError:
            return  # the next look tries again; what the log can't tell is told where it is shown
        new = [one for one in found if one.at.instant <= now.instant and one.key not in given]
        if not new:
            return
        given.add([one.key for one in new])
        self._give(
            [
                one
                for one in new
                if one.kind is not ReminderKind.CHECK
                or now.instant - one.at.instant <= _CHECK_IS_NEWS
            ],
            now,
        )

    def _is_quiet(self, reminder: Reminder, now: Moment) -> bool:
        """Quiet by its own time or by now; the check after a low never is."""
        if reminder.kind is ReminderKind.RECHECK:
            return False
        quiet = quiet_hours(self._desk.preferences)
        return reminder.is_quiet or (quiet is not None and quiet.cover(now.wall.time()))

    def _give(self, new: list[Reminder], now: Moment) -> None:
        """All of them in the bar; outside and with a sound what the person wants and may hear."""
        # The check after a low has the page, and the sound, for itself.
        ordinary = [one for one in new if one.kind is not ReminderKind.RECHECK]
        self._say([_line(one) for one in ordinary])
        preferences = self._desk.preferences
        loud = [one for one in new if not self._is_quiet(one, now)]
        if preferences.reminds_outside:
            for one in loud:
                self.outside.tell(_line(one))
        if preferences.reminds_with_sound and any(one in ordinary for one in loud):
            self._ring.play()

    def _say(self, lines: list[str]) -> None:
        """In the bar: in place of earlier reminders, and behind anything else that stands there."""
        if not lines:
            return
        others = self._bar.text.removesuffix(self._said).rstrip()
        self._said = " ".join(lines)
        self._desk.say(f"{others} {self._said}".lstrip())

    def _show_sign(self) -> None:
        self.outside.show_sign(is_wanted=self._desk.preferences.reminds_outside)

    def _come_forward(self) -> None:
        self._desk.call_attention("write_down")


def _line(reminder: Reminder) -> str:
    return _("{reminder}.").format(reminder=reminder_text(reminder))
