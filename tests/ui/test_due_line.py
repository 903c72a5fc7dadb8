"""The line above Write down: what is due or next, with its button, on one line and without Down."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta
from pathlib import Path
from uuid import uuid4

import pytest
from PySide6.QtGui import QFontMetrics
from pytestqt.qtbot import QtBot

from logbook.book import Book
from logbook.domain.glucose import Unit
from logbook.domain.moments import Moment
from logbook.domain.plan.calendar_days import USUAL_CLOCK
from logbook.domain.plan.plans import CheckPlan, Pause, PlannedCheck
from logbook.domain.settings import HandsPricked, LogSettings
from logbook.domain.slots import Slot
from logbook.domain.spells import Spell, SpellKind
from logbook.domain.visits import Appointment
from tests.ui.test_geometry import LAPTOP, faults_of
from tests.ui.writing_window import NOON, ZONE, Writer, habit, settle, writing_window

SLOTS = (
    Slot.FASTING,
    Slot.AFTER_BREAKFAST,
    Slot.BETWEEN_MEALS,
    Slot.BEFORE_LUNCH,
    Slot.AFTER_LUNCH,
    Slot.BEFORE_DINNER,
    Slot.AFTER_DINNER,
    Slot.BEDTIME,
    Slot.NIGHT,
)
TODAY = date(2026, 3, 31)


def planned(*slots: Slot, profile_days: int = 0) -> CheckPlan:
    checks = tuple(
        PlannedCheck(slot, USUAL_CLOCK[slot], minutes_after=120 if slot.is_after_meal else None)
        for slot in slots
    )
    return CheckPlan(uuid4(), date(2026, 3, 1), checks, NOON, profile_days=profile_days)


def go_to(person: Writer, at: time) -> None:
    day = TODAY + timedelta(days=1) if at < time(4) else TODAY
    person.clock[0] = Moment.from_wall(datetime.combine(day, at), ZONE).instant
    person.window.beat()
    settle()


def one_line(person: Writer) -> bool:
    title = person.page.form.title
    return QFontMetrics(title.font()).horizontalAdvance(title.text()) <= title.width()


@pytest.mark.parametrize("unit", [Unit.MG_DL, Unit.MMOL_L])
def test_what_is_due_and_what_is_next_fit_without_scrolling(
    qtbot: QtBot, tmp_path: Path, unit: Unit
) -> None:
    """Both hands: "little-finger side" makes the advice the longest that there is."""
    both = LogSettings(unit=unit, country="US", home_zone=ZONE, hands_pricked=HandsPricked.BOTH)

    def prepare(book: Book) -> None:
        habit(book)
        book.add(planned(*SLOTS))

    with writing_window(tmp_path, prepare=prepare, settings=both, size=LAPTOP) as person:
        titles, ways = set(), set()
        for slot in SLOTS:
            for before in (timedelta(0), timedelta(minutes=100)):
                at = (datetime.combine(TODAY, USUAL_CLOCK[slot]) - before).time()
                go_to(person, at)
                form, page = person.page.form, person.page
                assert not page.scrolled.up.isVisible(), form.title.text()
                assert one_line(person), form.title.text()
                assert faults_of(person.window) == []
                titles.add(form.title.text())
                ways.add(form.way.text() if form.way.isVisible() else "")
        assert len(titles) > len(SLOTS)
        assert {"Not today", "I start eating now"} <= ways


@pytest.mark.parametrize(
    ("record", "title"),
    [
        (Pause(uuid4(), TODAY, NOON, date(2026, 9, 30)), "Your plan is paused until Sep 30."),
        (Spell(uuid4(), SpellKind.ILL, TODAY), "Due now: extra check (11:00 AM)."),
        (Appointment(uuid4(), date(2026, 4, 2)), "For your visit now: before lunch."),
    ],
)
def test_other_lines_fit_too(qtbot: QtBot, tmp_path: Path, record: object, title: str) -> None:
    def prepare(book: Book) -> None:
        habit(book)
        plan = planned(profile_days=3)
        book.add(plan if isinstance(record, Appointment) else planned(Slot.BEDTIME))
        book.add(record)  # type: ignore[arg-type]

    with writing_window(tmp_path, prepare=prepare, size=LAPTOP) as person:
        go_to(person, time(11, 10) if isinstance(record, Spell) else time(11, 50))
        assert person.page.form.title.text() == title
        assert one_line(person)
        assert not person.page.scrolled.up.isVisible()
