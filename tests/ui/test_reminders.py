"""Reminders: each once, in the window always, outside only where it is wanted and not quiet.

The autostart entry is read back by `configparser`, with the quoting of the Desktop Entry
Specification undone by hand.
"""

from __future__ import annotations

import configparser
import re
from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime, time, timedelta
from pathlib import Path
from uuid import uuid4

import pytest
from PySide6.QtCore import QObject
from pytestqt.qtbot import QtBot

from logbook.domain.glucose import Glucose, Unit
from logbook.domain.moments import Moment
from logbook.domain.plan.plans import CheckPlan, PlannedCheck
from logbook.domain.readings import Reading
from logbook.domain.slots import Slot
from logbook.domain.visits import Appointment
from logbook.preferences import Preferences, read_preferences
from logbook.ui import autostart
from logbook.ui.pages.my_plan_reminders import RemindersView
from logbook.ui.reminders import Given, Outside, Reminders
from logbook.ui.ring import Ring
from tests.ui.plan_window import NOON, TODAY, ZONE, OpenWindow, open_window


class Heard(Outside):
    """Keeps what would be shown on the desktop."""

    def __init__(self, parent: QObject) -> None:
        QObject.__init__(self, parent)
        self.texts: list[str] = []
        self.has_sign = False

    def tell(self, text: str) -> None:
        self.texts.append(text)

    def show_sign(self, *, is_wanted: bool) -> None:
        self.has_sign = is_wanted


class Played(Ring):
    """Counts how often it would ring."""

    times = 0

    def play(self, *, is_loud: bool = False) -> bool:
        self.times += 1
        return not is_loud


@pytest.fixture
def opened(qtbot: QtBot, tmp_path: Path) -> Iterator[OpenWindow]:
    with open_window(
        qtbot, tmp_path, preferences=Preferences(paper="letter", reminds_outside=True)
    ) as window:
        yield window


def reminding(opened: OpenWindow) -> tuple[Reminders, Heard, Played]:
    heard, played = Heard(opened.window), Played(opened.desk)
    return Reminders(opened.desk, opened.window, heard, played), heard, played


def plan(at: time, slot: Slot = Slot.BEFORE_DINNER) -> CheckPlan:
    return CheckPlan(uuid4(), TODAY - timedelta(days=30), (PlannedCheck(slot, at),), NOON)


def go_to(opened: OpenWindow, hour: int, minute: int = 0) -> None:
    wall = datetime(TODAY.year, TODAY.month, TODAY.day, hour, minute)
    opened.now[0] = Moment.from_wall(wall, ZONE).instant


def test_a_check_is_told_once_in_the_window_and_outside(opened: OpenWindow) -> None:
    opened.book.add(plan(time(18, 0)))
    reminder, heard, _played = reminding(opened)
    go_to(opened, 17, 50)
    reminder.look()
    assert heard.texts == []
    go_to(opened, 18, 1)
    reminder.look()
    reminder.look()
    assert heard.texts == ["Check: before dinner."]
    assert opened.message == "Check: before dinner."


def test_what_is_done_is_not_reminded_of(opened: OpenWindow) -> None:
    opened.book.add(plan(time(18, 0)))
    reminder, heard, _played = reminding(opened)
    go_to(opened, 17, 45)
    now = opened.desk.now()
    reading = Reading(
        uuid4(), Glucose.number(120, Unit.MG_DL), now, now.instant, Slot.BEFORE_DINNER
    )
    opened.book.add(reading)
    go_to(opened, 18, 1)
    reminder.look()
    assert heard.texts == []


@pytest.mark.parametrize(("hour", "is_told"), [(22, False), (20, True)])
def test_quiet_hours_leave_the_window_and_silence_the_rest(
    opened: OpenWindow, hour: int, is_told: bool
) -> None:
    opened.desk.prefer(reminds_with_sound=True)
    opened.book.add(plan(time(hour, 0), Slot.BEDTIME))
    reminder, heard, played = reminding(opened)
    go_to(opened, hour, 1)
    reminder.look()
    assert opened.message == "Check: at bedtime."
    assert bool(heard.texts) is is_told
    assert bool(played.times) is is_told


def test_the_check_after_a_low_is_never_quiet(opened: OpenWindow) -> None:
    opened.desk.prefer(quiet_from="00:00", quiet_until="23:59")
    go_to(opened, 12)
    now = opened.desk.now()
    low = Reading(uuid4(), Glucose.number(60, Unit.MG_DL), now, now.instant, Slot.OTHER)
    opened.book.add(low)
    reminder, heard, _played = reminding(opened)
    go_to(opened, 12, 16)
    reminder.look()
    assert "Check again after your low." in heard.texts


def test_nothing_comes_outside_unless_it_is_wanted(opened: OpenWindow) -> None:
    opened.desk.prefer(reminds_outside=False, reminds_with_sound=True)
    opened.book.add(plan(time(18, 0)))
    reminder, heard, played = reminding(opened)
    go_to(opened, 18, 1)
    reminder.look()
    assert opened.message == "Check: before dinner."
    assert (heard.texts, played.times, heard.has_sign) == ([], 1, False)  # the sound is its own
    opened.desk.prefer(reminds_outside=True)
    assert heard.has_sign


def test_a_day_is_told_the_day_before_and_on_it_and_not_again_after_a_new_start(
    opened: OpenWindow,
) -> None:
    opened.book.add(Appointment(uuid4(), TODAY + timedelta(days=1), with_whom="Dr. Invented"))
    reminder, heard, _played = reminding(opened)
    go_to(opened, 11)
    reminder.look()
    assert heard.texts == ["Appointment tomorrow: Dr. Invented."]
    again, later, _played = reminding(opened)
    again.look()
    assert later.texts == []


def test_several_of_one_time_are_all_told_and_hide_no_other_message(opened: OpenWindow) -> None:
    opened.book.add(
        plan(time(18, 0)),
        Appointment(uuid4(), TODAY, with_whom="Dr. Invented"),
        Appointment(uuid4(), TODAY + timedelta(days=1), with_whom="Dr. Made-Up"),
    )
    reminder, heard, _played = reminding(opened)
    opened.desk.say("The disk is full.")
    go_to(opened, 10, 1)
    reminder.look()
    both = ["Appointment: Dr. Invented.", "Appointment tomorrow: Dr. Made-Up."]
    assert set(heard.texts) == set(both)
    assert opened.message.startswith("The disk is full. ")
    assert all(text in opened.message for text in both)
    go_to(opened, 18, 1)
    reminder.look()
    assert opened.message == "The disk is full. Check: before dinner."


def test_an_old_check_is_not_rung_for_when_the_computer_wakes(opened: OpenWindow) -> None:
    opened.book.add(plan(time(18, 0)))
    reminder, heard, _played = reminding(opened)
    go_to(opened, 18, 45)
    reminder.look()
    assert heard.texts == []


def test_what_was_given_is_kept_where_no_folder_was_yet(tmp_path: Path) -> None:
    folder = tmp_path / "not" / "there"
    Given(folder, tmp_path / "a.logbook").add(["one"])
    assert "one" in Given(folder, tmp_path / "a.logbook")


def test_a_damaged_file_of_what_was_given_is_no_reason_to_stop(tmp_path: Path) -> None:
    given = Given(tmp_path, tmp_path / "a.logbook")
    given.path.write_bytes(b"\xff{[")
    again = Given(tmp_path, tmp_path / "a.logbook")
    again.add(["one"])
    assert "one" in Given(tmp_path, tmp_path / "a.logbook")
    assert "two" not in Given(tmp_path, tmp_path / "a.logbook")


# --- the view -------------------------------------------------------------------------------------


def test_choices_hold_at_once_and_quiet_hours_are_kept(opened: OpenWindow, tmp_path: Path) -> None:
    opened.book.add(plan(time(18, 0)))
    opened.press("My plan")
    opened.press("When to check")
    opened.press("Reminders")
    view = opened.view
    assert isinstance(view, RemindersView)
    opened.press(view.outside.buttons[view.outside.value.NO])
    assert not opened.desk.preferences.reminds_outside
    opened.type_into(view.quiet_from, "9 pm")
    opened.type_into(view.quiet_until, "")
    opened.press("Save quiet hours")
    assert "Write both times" in view.problem_text
    opened.type_into(view.quiet_until, "6:30")
    opened.press("Save quiet hours")
    assert "morning or afternoon" in view.problem_text
    opened.type_into(view.quiet_until, "6:30 am")
    opened.press("Save quiet hours")
    kept = read_preferences(tmp_path / "preferences.json")
    assert (kept.quiet_from, kept.quiet_until) == ("21:00", "06:30")
    assert opened.message == "Quiet from 9:00 PM to 6:30 AM."


def test_damaged_preferences_give_no_quiet_hours() -> None:
    from logbook.ui.reminders import quiet_hours

    assert quiet_hours(replace(Preferences(), quiet_from="25:99")) is None
    assert quiet_hours(replace(Preferences(), quiet_from="")) is None
    assert quiet_hours(Preferences()) is not None


# --- starting with the computer -------------------------------------------------------------------


def test_the_entry_starts_this_log_and_is_taken_away_again(person_folder: Path) -> None:
    log = Path('/home/a person/100% "mine" $x `y` \\z.logbook')
    autostart.start_with_computer(log, is_wanted=True)
    assert autostart.is_started_with_computer()
    read = configparser.RawConfigParser()
    read.optionxform = str  # type: ignore[assignment,method-assign]
    read.read(autostart.autostart_path(), encoding="utf-8")
    entry = dict(read["Desktop Entry"])
    assert (entry["Type"], entry["Terminal"]) == ("Application", "false")
    # Undone in the order of the specification: the value's escapes, then the field codes.
    line = entry["Exec"].replace("\\\\", "\\").replace("%%", "%")
    quoted = re.findall(r'"((?:[^"\\]|\\.)*)"', line)
    words = [re.sub(r"\\(.)", r"\1", word) for word in quoted]
    assert words[-2:] == ["--log", str(log)]
    autostart.start_with_computer(log, is_wanted=False)
    assert not autostart.is_started_with_computer()
    autostart.start_with_computer(log, is_wanted=False)  # twice is no fault
