"""The shell: pages, help, undo, the clock, jobs, and that nothing is left behind."""

from __future__ import annotations

import gc
import sys
import threading
from pathlib import Path

from PySide6.QtCore import QObject, Qt
from PySide6.QtWidgets import QApplication, QMessageBox
from pytestqt.qtbot import QtBot

from logbook.ui.parts.big_button import BigButton
from logbook.ui.parts.texts import Words
from logbook.ui.theme import Look
from logbook.ui.work import Course, Work
from tests.ui.writing_window import habit, settle, writing_window


def test_help_is_at_the_same_place_and_leads_back(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        place = person.button("Help").geometry()
        person.press("1", "Help")
        assert person.window.page.name == "help"
        assert person.button("Help").geometry() == place
        person.press("Help")
        assert person.window.page.name == "write_down"
        assert person.page.form.keypad.display.text == "1"


def test_large_text_has_one_button_for_the_pages(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, percent=200) as person:
        assert not person.window.side_list.isVisible()
        person.press("Pages", "Write down")
        assert person.window.page is person.page


def test_a_message_stays_until_the_next_action(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        person.press("Save")
        assert person.message
        person.pass_time(minutes=5)
        assert person.message
        person.press("1")
        assert person.message == ""


def test_no_message_box_ever(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        person.press("1", "2", "8", "Save 128 mg/dL", "Undo: 128 mg/dL at 12:04 PM")
        assert not [one for one in QApplication.topLevelWidgets() if isinstance(one, QMessageBox)]


def test_the_result_gives_way_to_the_form_after_10_minutes(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        person.press("1", "2", "8", "Save 128 mg/dL")
        person.pass_time(minutes=1)
        assert person.page.step is person.page.result_step
        person.pass_time(minutes=10)
        assert person.page.form.isVisible()


def test_a_digit_on_the_result_page_begins_the_next_reading(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        person.press("1", "2", "8", "Save 128 mg/dL")
        person.type("95")
        assert person.page.form.keypad.display.text == "95"


def test_waking_from_sleep_refreshes(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, prepare=habit) as person:
        before = person.words()
        person.pass_time(hours=10)  # 22:04
        assert "Bedtime: usually about 10:00 PM." in person.words()
        assert person.words() != before


def test_a_clock_that_is_set_back_blocks_nothing(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        person.press("1", "2", "8", "Save 128 mg/dL")
        person.pass_time(hours=-3)
        person.press("Write down another", "1", "3", "0", "Save 130 mg/dL")
        assert len(person.readings) == 2


# --- jobs ---------------------------------------------------------------------------------------


class Told(QObject):
    """Takes what a job tells, in the main thread."""

    def __init__(self) -> None:
        super().__init__()
        self.results: list[object] = []
        self.thread_names: list[str] = []

    def take(self, result: object) -> None:
        self.results.append(result)
        self.thread_names.append(threading.current_thread().name)


def test_a_job_runs_off_the_main_thread_and_tells_in_it(qtbot: QtBot) -> None:
    work, told = Work(), Told()
    course = work.prepare()
    course.done.connect(told.take)
    work.start(course, lambda _course: threading.current_thread() is threading.main_thread())
    qtbot.waitUntil(lambda: bool(told.results))
    assert told.results == [False]
    assert told.thread_names == [threading.main_thread().name]
    qtbot.waitUntil(lambda: not work.is_busy)
    work.finish()


def test_an_error_of_a_job_is_told(qtbot: QtBot) -> None:
    work, told = Work(), Told()
    course = work.prepare()
    course.failed.connect(told.take)

    def fail(_course: Course) -> None:
        raise OSError("no room")

    work.start(course, fail)
    qtbot.waitUntil(lambda: bool(told.results))
    assert isinstance(told.results[0], OSError)
    work.finish()


def test_a_cancelled_job_tells_nothing_and_is_waited_for(qtbot: QtBot) -> None:
    work, told = Work(), Told()
    course = work.prepare()
    course.done.connect(told.take)
    started = threading.Event()

    def long_job(running: Course) -> str:
        started.set()
        while not running.is_cancelled:
            threading.Event().wait(0.001)
        return "too late"

    work.start(course, long_job)
    assert started.wait(5)
    work.finish()
    settle()
    assert told.results == []


# --- nothing left behind ------------------------------------------------------------------------


def test_windows_opened_and_closed_leave_no_object(qtbot: QtBot, tmp_path: Path) -> None:
    def buttons() -> int:
        gc.collect()
        settle()
        return sum(isinstance(one, BigButton | Words) for one in gc.get_objects())

    with writing_window(tmp_path, prepare=habit):
        pass
    before = buttons()
    for _round in range(3):
        with writing_window(tmp_path) as person:
            person.press("1", "2", "8", "Another finger", "Left ring finger", "Thumb side")
            person.press("Save 128 mg/dL")
        del person
    assert buttons() <= before


def test_20_000_calls_on_our_parts_keep_none_alive(qtbot: QtBot) -> None:
    """See tests/test_qt_binding.py; here with the methods that our parts override."""
    look = Look()
    button, words = BigButton(look, "x"), Words(look)
    for widget in (button, words):
        qtbot.addWidget(widget)
    before = sys.getrefcount(None)
    for count in range(5_000):
        button.setText(str(count))
        words.say(str(count))
        button.setChecked(bool(count % 2))
        button.setFocus(Qt.FocusReason.OtherFocusReason)
    assert abs(sys.getrefcount(None) - before) < 2_000
