"""The whole program in a process of its own, with a hand that presses, for the window's kills.

The window is the real one, opened by `app.run` on Qt's platform without a screen. Lines go through
a pipe: `try` before the press that writes, `done` once the window itself has said that it is
written, `typed` for what stands in the display. The controls are builds made wrong on purpose.
"""

from __future__ import annotations

import os
import random
import sys
import time
import traceback
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING, Any

from logbook.book import Book
from logbook.domain.moments import Moment
from tests.endurance.victims import Say

if TYPE_CHECKING:
    from tests.ui.looking_window import Looker

NAME = "my.logbook"
ZONE = "America/New_York"
ERRORS_NAME = "errors.txt"
READINGS_BEFORE = 300


def preload() -> None:
    """Import all of the window, so that each fork is warm; no application is made here."""
    from logbook import app

    import_module("tests.ui.looking_window")
    for kind in app.page_types():
        getattr(kind, "load", lambda: None)()


def make_log(path: Path) -> None:
    """A log of readings up to yesterday, whose first start is over, as a person writes them."""
    from tests.ui.looking_window import BOTH_HANDS, one_reading

    now = datetime.now(UTC)
    today = Moment.at(now, ZONE).wall.date()
    made = []
    for number in range(READINGS_BEFORE):
        day = today - timedelta(days=1 + number // 3)
        clock = ("07:05", "12:05", "22:05")[number % 3]
        made.append(one_reading(f"{day} {clock}", 100 + number % 60))
    made.sort(key=lambda one: one.at.instant)
    with Book.create(path, BOTH_HANDS, lambda: now) as book:
        for first in range(0, READINGS_BEFORE, 10):
            book.add(*made[first : first + 10])


def run_window(folder: Path, drive: Callable[[Looker], None]) -> None:
    """Start the program on the log in `folder`; `drive` begins once the window is there."""
    errors = os.open(folder / ERRORS_NAME, os.O_WRONLY | os.O_CREAT | os.O_APPEND, 0o600)
    os.dup2(errors, 2)
    sys.stderr = os.fdopen(2, "w", buffering=1, encoding="utf-8", closefd=False)
    for name in [key for key in os.environ if key.startswith("XDG_")]:
        del os.environ[name]
    os.environ |= {"HOME": str(folder), "TZ": ZONE, "QT_QPA_PLATFORM": "offscreen"}
    os.environ |= {"LANGUAGE": "en_US"}
    time.tzset()
    from logbook import app
    from logbook.ui import first_window
    from tests.ui.looking_window import Looker

    def begin(window: Any, log_path: Path) -> None:
        window.showNormal()
        window.resize(1280, 720)
        try:
            drive(Looker(window, window.desk.book, [datetime.now(UTC)]))
        except BaseException:
            traceback.print_exc()
            raise

    first_window.listen = begin
    app.run(folder / NAME)


# --- what the hand does --------------------------------------------------------------------------


def work_on(folder: Path, seed: str, *, only_types: bool, control: str, say: Say) -> None:
    """Save, correct, cross out, undo for ever; or type a number and leave it standing there."""

    def drive(hand: Looker) -> None:
        chance = random.Random(seed)
        if control == "forgets the draft":
            from logbook.ui.draft_file import DraftFile

            DraftFile.keep = lambda *_: None  # type: ignore[method-assign]
        worker = Worker(hand, chance, say, says_too_early=control == "says too early")
        say("opened")
        if only_types:
            for _ in range(chance.randint(0, 2)):
                worker.save()
            worker.type_and_wait()
        while True:
            # Undo at most as often as was written here: what stood there before stays.
            doings = [worker.save, worker.save, worker.correct, worker.cross_out]
            chance.choice([*doings, worker.undo] if worker.undoable else doings)()

    run_window(folder, drive)


class Worker:
    """Presses what a person would press, and says what the window said."""

    def __init__(
        self, hand: Looker, chance: random.Random, say: Say, *, says_too_early: bool
    ) -> None:
        self.hand, self.chance, self.say = hand, chance, say
        self.says_too_early = says_too_early
        self.undoable = 0

    def save(self) -> None:
        """Type a number, press Save, and see the result."""
        number = self._type()
        self._written(f"save {number}", lambda: self.hand.click(self.hand.page.save_button))
        assert self.hand.page.result_step.isVisible(), self.hand.message
        reading = self.hand.page.result_step.reading
        assert reading is not None
        self._done(f"save {reading.id} {reading.glucose.steps}")
        self.undoable += 1
        self.hand.click(self.hand.page.save_button)

    def correct(self) -> None:
        """Correct the newest reading that is listed."""
        number = str(self.chance.randint(100, 159))
        before = self._listed("Correct: ")
        self.hand.press(*number, "Typed wrong")
        if before.glucose.steps == int(number):
            self.hand.press("Leave as it is")
            return
        line = f"correct {before.id} {number}"
        self._written(line, lambda: self.hand.press("Save"))
        assert self.hand.message.startswith(f"Corrected: {number} mg/dL"), self.hand.message
        self._done(line)
        self.undoable += 1

    def cross_out(self) -> None:
        """Cross the newest reading out that is listed."""
        before = self._listed("Cross out: ")
        line = f"cross {before.id}"
        self._written(line, lambda: self.hand.press("Written down twice"))
        assert self.hand.message.startswith("Crossed out: "), self.hand.message
        self._done(line)
        self.undoable += 1

    def undo(self) -> None:
        """Take the last action back."""
        self._written("undo", lambda: self.hand.click(self.hand.window.bar.undo))
        assert self.hand.message.startswith("Taken back: "), self.hand.message
        self._done("undo")
        self.undoable -= 1

    def type_and_wait(self) -> None:
        """Type a number and leave it there; the window goes on living."""
        from PySide6.QtWidgets import QApplication

        self._type()
        while True:
            QApplication.processEvents()
            time.sleep(0.005)  # a person who does nothing; the kill ends it

    def _type(self) -> str:
        self.hand.window.show_page("write_down")
        number = str(self.chance.randint(100, 159))
        for length in range(1, len(number) + 1):
            self.hand.type(number[length - 1])
            assert self.hand.page.filling.draft.text == number[:length]
            self.say(f"typed {number[:length]}")
        return number

    def _listed(self, verb: str) -> Any:
        self.hand.window.show_page("look_back")
        if not self.hand.starting_with(verb):
            self.hand.press("Each reading")
        button = self.hand.starting_with(verb)[0]
        shown = button.accessibleName().removeprefix(verb).partition(" ")[0]
        newest = self.hand.book.readings(newest_first=True, limit=60)
        before = next(
            one for one in newest if str(one.glucose.steps) == shown and one.crossed_out is None
        )
        self.hand.press_first(verb)
        return before

    def _written(self, line: str, press: Callable[[], None]) -> None:
        self.say(f"try {line}")
        if self.says_too_early and not line.startswith("save"):
            self.say(f"done {line}")
        press()

    def _done(self, line: str) -> None:
        if not self.says_too_early or line.startswith("save"):
            self.say(f"done {line}")


def look_at_start(folder: Path, say: Say) -> None:
    """Start once more, say what a person sees, and close."""

    def drive(hand: Looker) -> None:
        from PySide6.QtWidgets import QApplication

        from tests.ui.writing_window import settle

        settle()
        window, page = hand.window, hand.page
        shown = [one for one in QApplication.topLevelWidgets() if one.isVisible()]
        say(f"windows {len(shown)}")
        say(f"modal {QApplication.activeModalWidget() is not None}")
        say(f"step {type(page.step).__name__}")
        say(f"only read {window.desk.only_read_because is not None}")
        say(f"draft {page.filling.draft.text}")
        if page.filling.draft.text:
            page.filling.clear()
        hand.type("1 2 3")
        hand.click(page.save_button)
        say(f"saves {page.result_step.isVisible()}")
        window.close()

    run_window(folder, drive)
