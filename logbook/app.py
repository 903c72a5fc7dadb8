"""Where everything of the window meets. Nothing imports this but the commands.

The order of a start:

1. Files made from now on are for this person's eyes only.
2. A screen and the libraries of a window are looked for, before Qt is imported; what is missing is
   said in words on standard error, with the line that brings it.
3. The language of this computer is set, and its choices are read (`preferences`).
4. Qt starts and the bundled faces are registered.
5. Where several people keep logs here, the person is asked whose is wanted.
   The log is opened, or made when there is none. If another window has it, that one is asked over a
   local socket to come forward, and this start ends. For a log that is damaged or gone a page
   offers the ways back (`ui.rescue`). Any other failure is said in a small window.
6. The window is made with its first page, shown, and only then the socket is opened.
7. When the window closes: jobs end, what was typed is kept, the Book closes (and makes its copy).

Only here, and in the commands, the real clock and the real time zone are asked for.
"""

from __future__ import annotations

import gc
import os
import sys
import time
from dataclasses import replace
from datetime import UTC, datetime
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING

from logbook import places
from logbook.screen_check import Lack, Missing, find_missing
from logbook.this_computer import language_tag, zone_name
from logbook.ui import first_window
from logbook.wording import _, set_language
from logbook.wording.manner import manner, set_manner

if TYPE_CHECKING:
    from collections.abc import Sequence

    from PySide6.QtWidgets import QWidget

    from logbook.book import Book
    from logbook.domain.errors import LogbookError
    from logbook.preferences import Preferences
    from logbook.ui.desk import Desk
    from logbook.ui.main_window import MainWindow
    from logbook.ui.page import LaterPage, Page
    from logbook.ui.saved_numbers import SavedNumbers
    from logbook.ui.theme import Look

_PREFERENCES_NAME = "preferences.json"
# Once the window can be used: these need more modules than the page that opens.
_REMINDS_AFTER = 300  # milliseconds
# A window that is just opening does not listen yet, one that is closing makes its copy.
_IN_USE_AT_MOST = 5.0  # seconds
_LOOKS_AGAIN_AFTER = 0.1  # seconds


def run(log_path: Path, *, asks_whose: bool = False) -> int:
    """Open the window on the log at `log_path` and stay until it is closed; the exit status.

    With `asks_whose` the person is asked which log to open where several lie in its folder.
    """
    os.umask(0o077)
    # Nothing is given up while all is being made; looking for it takes a twelfth of the start.
    gc.disable()
    try:
        return _run(log_path, asks_whose=asks_whose)
    finally:
        gc.enable()


def _run(log_path: Path, *, asks_whose: bool) -> int:
    missing = find_missing()
    if missing is not None:
        print(missing_text(missing), file=sys.stderr)  # noqa: T201  (no window can say it)
        return 1
    # Before Qt: once it is there, it reads the source of every module that is imported.
    import_module("logbook.book")
    from PySide6.QtWidgets import QApplication

    from logbook.domain.errors import DamagedLog
    from logbook.preferences import read_preferences
    from logbook.ui.saved_numbers import SavedNumbers
    from logbook.ui.theme import Look, register_fonts

    preferences_path = places.config_folder() / _PREFERENCES_NAME
    preferences = read_preferences(preferences_path)
    set_language(preferences.language or language_tag())
    set_manner(replace(manner(), hours_24=preferences.hours_24))
    application = QApplication.instance() or QApplication(sys.argv[:1])
    assert isinstance(application, QApplication)
    application.setApplicationDisplayName(_("Fingerstick Logbook"))
    application.setStyle("Fusion")
    register_fonts()
    look = Look(
        preferences.contrast,
        preferences.text_percent,
        has_large_keys=preferences.has_large_keys,
    )
    wanted: Path | None = log_path
    if asks_whose and len(logs := places.logs_beside(log_path)) > 1:
        wanted = _choose_log(look, logs)
    saved_numbers = SavedNumbers()
    status, message = 0, ""
    while wanted is not None:
        opened = _open_book(wanted, look)
        if isinstance(opened, int):
            return opened
        if not isinstance(opened, tuple):
            message = opened
            continue
        try:
            status, wanted = _show_log(opened, wanted, preferences_path, message, saved_numbers)
            message = ""
        except DamagedLog as damage:
            answer = _rescue(look, opened[0].path, damage)
            if isinstance(answer, int):
                return answer
            message = answer
    return status


def _choose_log(look: Look, logs: Sequence[Path]) -> Path | None:
    """Ask whose log is wanted; None when the window was closed instead."""
    from PySide6.QtWidgets import QApplication

    from logbook.ui.log_chooser import LogChooser
    from logbook.ui.log_names import name_of_log

    chooser = LogChooser(look, [(path, name_of_log(path, now)) for path in logs])
    chooser.show()
    QApplication.exec()
    chooser.deleteLater()
    return chooser.chosen


def _show_log(
    opened: tuple[Book, LogbookError | None],
    log_path: Path,
    preferences_path: Path,
    message: str,
    saved_numbers: SavedNumbers,
) -> tuple[int, Path | None]:
    """Show one log until its window closes; the exit status, and the log that is wanted next.

    Raises `DamagedLog` for one that can't be shown.
    """
    from logbook.preferences import read_preferences

    book, only_read_because = opened
    with book:
        preferences = read_preferences(preferences_path)
        desk = _desk(book, only_read_because, preferences, preferences_path)
        desk.is_one_of_several = len(places.logs_beside(log_path)) > 1
        desk.saved_numbers = saved_numbers
        shown = _show(desk, log_path, message)
        saved_numbers.settle(book)
        return shown


def _desk(
    book: Book,
    only_read_because: LogbookError | None,
    preferences: Preferences,
    preferences_path: Path,
) -> Desk:
    from logbook.ui.desk import Desk

    return Desk(
        book,
        now,
        zone_name,
        preferences=preferences,
        preferences_path=preferences_path,
        state_folder=places.state_folder(),
        only_read_because=only_read_because,
    )


def now() -> datetime:
    """The present moment, aware."""
    return datetime.now(UTC)


def missing_text(missing: Missing) -> str:
    """What is missing for a window, in words."""
    match missing.lack:
        case Lack.SCREEN:
            return _("There is no screen here, so no window can open. The commands work without.")
        case Lack.LIBRARIES:
            return _(
                "Some libraries for windows are missing. This line installs them: {line}"
            ).format(line=missing.line)
        case Lack.QT:
            return _("The library for windows is missing. This line installs it: {line}").format(
                line=missing.line
            )


def page_types() -> list[type[Page] | LaterPage]:
    """The pages in the order of the list; only the one that opens is imported at once."""
    from logbook.ui.page import LaterPage
    from logbook.ui.pages.write_down import WriteDown
    from logbook.ui.parts import marks

    pages = "logbook.ui.pages"
    return [
        WriteDown,
        LaterPage(
            "fingers", lambda: _("Fingers"), marks.draw_fingers, f"{pages}.fingers", "Fingers"
        ),
        LaterPage(
            "look_back",
            lambda: _("Look back"),
            marks.draw_readings,
            f"{pages}.look_back",
            "LookBack",
        ),
        LaterPage("kit", lambda: _("Kit"), marks.draw_case, f"{pages}.kit", "Kit"),
        LaterPage("visit", lambda: _("Visit"), marks.draw_sheet, f"{pages}.visit", "Visit"),
        LaterPage("my_plan", lambda: _("My plan"), marks.draw_target, f"{pages}.my_plan", "MyPlan"),
    ]


def _show(desk: Desk, log_path: Path, message: str) -> tuple[int, Path | None]:
    from PySide6.QtCore import QTimer
    from PySide6.QtWidgets import QApplication

    from logbook.ui.main_window import MainWindow
    from logbook.ui.pages.help import Help
    from logbook.ui.problems import Problems

    window = MainWindow(desk, page_types(), Help)
    if desk.only_read_because is not None:
        desk.told(desk.only_read_because)
    elif message:
        desk.say(message)
    problems = Problems(desk, window)
    problems.met.connect(window.keep_typed)
    problems.install()
    try:
        _fit_to_screen(window)
        window.show()
        QTimer.singleShot(0, window, lambda: first_window.listen(window, log_path))
        QTimer.singleShot(_REMINDS_AFTER, window, lambda: _remind(desk, window))
        QTimer.singleShot(0, window, _collect_again)
        status = QApplication.exec()
        return status, window.next_log
    finally:
        gc.unfreeze()  # with its window a log's objects go
        problems.restore()
        window.keep_typed()
        window.deleteLater()
        QApplication.processEvents()


def _collect_again() -> None:
    """What was made for the start stays as long as the window, so it is looked at no more."""
    gc.freeze()
    gc.enable()


def _remind(desk: Desk, window: MainWindow) -> None:
    from logbook.ui.damage_watch import DamageWatch
    from logbook.ui.reminders import Reminders

    Reminders(desk, window)  # the window keeps both
    DamageWatch(desk, window)


def _fit_to_screen(window: QWidget) -> None:
    screen = window.screen().availableGeometry()
    window.resize(min(1280, screen.width()), min(720, screen.height()))
    if screen.width() <= 1366 or screen.height() <= 800:
        window.setWindowState(window.windowState().WindowMaximized)


# --- the log ------------------------------------------------------------------------------------


def _open_book(log_path: Path, look: Look) -> tuple[Book, LogbookError | None] | int | str:
    """The Book, and why it can only be read if so.

    Or the exit status, after the first window came forward or a failure was told. Or, after a way
    back was found, what is to be said when the log is opened next.
    """
    from logbook.book import Book
    from logbook.domain.errors import (
        DamagedLog,
        LogbookError,
        LogReadOnly,
        NewerLog,
        NoSuchLog,
        NotALog,
    )
    from logbook.wording.problems import problem_text

    try:
        try:
            book = _open_or_begin(log_path)
            return 0 if book is None else (book, None)
        except (NewerLog, LogReadOnly) as reason:
            # Reading and printing still work; whatever would write says why it can't.
            return Book.open(log_path, now, read_only=True), reason
    except (DamagedLog, NotALog, NoSuchLog) as error:
        return _rescue(look, log_path, error)
    except LogbookError as error:
        _tell(look, problem_text(error))
        return 1


def _open_or_begin(log_path: Path) -> Book | None:
    """The Book, or None after the window that has it came forward.

    Who presses twice starts two programs at once; the second finds the first.
    """
    from logbook.book import Book
    from logbook.domain.errors import AlreadyThere, LogInUse, NoSuchLog

    deadline = time.monotonic() + _IN_USE_AT_MOST
    while True:
        try:
            try:
                return Book.open(log_path, now)
            except NoSuchLog:
                return _begin(log_path)
        except (LogInUse, AlreadyThere):
            if first_window.bring_first_forward(log_path):
                return None
            if time.monotonic() > deadline:
                raise
            time.sleep(_LOOKS_AGAIN_AFTER)


def _begin(log_path: Path) -> Book:
    """A new log where there never was one; where there was, it is lost and not begun anew."""
    from logbook.book import Book, has_traces
    from logbook.domain.errors import AlreadyThere, NoSuchLog
    from logbook.domain.settings import LogSettings

    if has_traces(log_path):
        if log_path.exists():  # another start made it just now
            raise AlreadyThere(log_path)
        raise NoSuchLog(log_path, why="lost")
    places.private_folder(log_path.parent)
    return Book.create(log_path, LogSettings(home_zone=zone_name()), now)


def _rescue(look: Look, log_path: Path, error: LogbookError) -> int | str:
    """Offer the ways back; the exit status, or what is to be said when the log is open again."""
    from PySide6.QtWidgets import QApplication

    from logbook.book import Book, set_log_aside
    from logbook.domain.settings import LogSettings
    from logbook.ui.rescue import Outcome, RescueWindow
    from logbook.wording.copies import cannot_open_text, rescued_text

    print(cannot_open_text(error), file=sys.stderr)  # noqa: T201  (for whoever looks there)
    window = RescueWindow(look, log_path, error, now, zone_name)
    _fit_to_screen(window)
    window.show()
    QApplication.exec()
    outcome, restored = window.outcome, window.restored
    window.deleteLater()
    QApplication.processEvents()
    if outcome is Outcome.WENT_BACK and restored is not None:
        return rescued_text(restored)
    if outcome is not Outcome.BEGIN_NEW:
        return 1
    set_log_aside(log_path, now())
    Book.create(log_path, LogSettings(home_zone=zone_name()), now).close()
    return _("A new log begins. What was there before is kept beside it.")


def _tell(look: Look, text: str) -> None:
    """Say in a small window why the log can't be opened."""
    from PySide6.QtWidgets import QApplication

    from logbook.ui.problems import ProblemWindow

    print(text, file=sys.stderr)  # noqa: T201  (whoever started it from a terminal looks there)
    window = ProblemWindow(look, text)
    window.show()
    QApplication.exec()
    window.deleteLater()
