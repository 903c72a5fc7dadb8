"""*Visit* and *My plan* on screen: large enough, whole, with names to say, in order."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from uuid import uuid4

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QAccessible
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit, QPlainTextEdit, QWidget
from pytestqt.qtbot import QtBot

from logbook.domain.glucose import Unit
from logbook.domain.guidelines import Health
from logbook.domain.spells import Spell, SpellKind
from logbook.domain.targets import Limit, Limits, Operator, SetBy, Target, TargetKind
from logbook.domain.visits import Appointment, Contact, Medicine, Question
from logbook.preferences import Preferences
from logbook.ui.pages.my_plan import MyPlan
from logbook.ui.pages.my_plan_published import PublishedView
from logbook.ui.pages.my_plan_targets import TargetDraft
from logbook.ui.parts.big_button import BigButton
from tests.ui.plan_window import NOON, TODAY, OpenWindow, open_window, write_readings
from tests.ui.test_geometry import LAPTOP, WIDE, faults_of

SIZES = [(LAPTOP, 100), (WIDE, 100), (LAPTOP, 125), (LAPTOP, 150), (LAPTOP, 200), (WIDE, 200)]
PRINTED = (Limits(Unit.MG_DL, Limit(Operator.AT_LEAST, 80), Limit(Operator.AT_MOST, 130)),)


def fill(opened: OpenWindow) -> None:
    """An invented log with something under every heading, longer than usual where that can be."""
    book = opened.book
    write_readings(book, 3)
    book.add(
        Appointment(uuid4(), TODAY.replace(month=8)),
        Appointment(
            uuid4(),
            TODAY.replace(day=28),
            with_whom="Dr. Quill (invented), diabetes clinic",
            place="Second floor, room 12, ask at the desk",
        ),
        Question(uuid4(), "Why is it high before breakfast although I ate nothing late?", NOON),
        Question(uuid4(), "Asked already", NOON, done_on=TODAY),
        Medicine(uuid4(), "Invented tablets, 1 in the morning and 1 with dinner", TODAY),
        Contact(uuid4(), "person", "Bea, next door", "555-0101"),
        Spell(uuid4(), SpellKind.NEW_MEDICINE, TODAY, note="half the dose for a week"),
        Target(uuid4(), TargetKind.FASTING, PRINTED, TODAY, SetBy.PUBLISHED, "A body", "A table"),
        Target(
            uuid4(), TargetKind.BEDTIME, PRINTED, TODAY, SetBy.PUBLISHED, "B", "T", is_agreed=False
        ),
    )


def walk(opened: OpenWindow) -> Iterator[str]:
    """Every view of both pages, with what is shown after a first press where there is more."""
    for page in ("visit", "my_plan"):
        opened.window.show_page(page)
        for name in opened.page.makers:
            if isinstance(opened.page, MyPlan):
                kinds = (TargetKind.FASTING, TargetKind.BEFORE_MEALS)
                opened.page.draft = TargetDraft(dict.fromkeys(kinds, PRINTED))
            opened.page.turn_to(name)
            opened.wait_for_jobs()
            opened.wait_for_jobs()
            if isinstance(opened.view, PublishedView):
                opened.press(opened.view.health.buttons[Health.GOOD])
            QTest.qWait(20)  # layouts settle in timers of no length
            yield f"{page} {name}"


@pytest.mark.parametrize(("size", "percent"), SIZES)
def test_everything_is_large_enough_and_whole(
    qtbot: QtBot, tmp_path: Path, size: tuple[int, int], percent: int
) -> None:
    preferences = Preferences(text_percent=percent, paper="letter")
    with open_window(qtbot, tmp_path, preferences=preferences, size=size) as opened:
        fill(opened)
        faults: list[str] = []
        for step in walk(opened):
            faults += [f"{step}: {fault}" for fault in faults_of(opened.window)]
            if opened.window.size().toTuple() != size:
                faults.append(f"{step} made the window grow to {opened.window.size().toTuple()}")
                opened.window.resize(*size)
        assert not faults, "\n".join(faults)


def focusable(window: QWidget) -> list[QWidget]:
    return [
        one
        for one in window.findChildren(QWidget)
        if one.isVisible() and one.focusPolicy() & Qt.FocusPolicy.TabFocus
    ]


def test_whatever_takes_the_keyboard_has_a_name_and_a_role(qtbot: QtBot, tmp_path: Path) -> None:
    with open_window(qtbot, tmp_path) as opened:
        fill(opened)
        faults = []
        for step in walk(opened):
            for one in focusable(opened.window):
                told = QAccessible.queryAccessibleInterface(one)
                name = told.text(QAccessible.Text.Name)
                if not name:
                    faults.append(f"{step}: {one} has no name")
                if told.role() in (QAccessible.Role.NoRole, QAccessible.Role.Client):
                    faults.append(f"{step}: {name} has no role")
        assert not faults, "\n".join(faults)


def test_buttons_of_one_name_are_told_apart(qtbot: QtBot, tmp_path: Path) -> None:
    """Two "I asked this" in a list must not sound alike: each says what it is for."""
    with open_window(qtbot, tmp_path) as opened:
        fill(opened)
        opened.book.add(Question(uuid4(), "A second one", NOON))
        faults = []
        for step in walk(opened):
            seen: set[tuple[str, str]] = set()
            for one in focusable(opened.window):
                if isinstance(one, BigButton):
                    name = one.accessibleName() or one.text()
                    both = (name, one.accessibleDescription())
                    if both in seen:
                        faults.append(f"{step}: {both} twice")
                    seen.add(both)
        assert not faults, "\n".join(faults)


def test_fields_for_numbers_say_their_unit(qtbot: QtBot, tmp_path: Path) -> None:
    with open_window(qtbot, tmp_path) as opened:
        page = opened.window
        page.show_page("my_plan")
        assert isinstance(opened.page, MyPlan)
        opened.page.draft = TargetDraft(dict.fromkeys((TargetKind.FASTING,), PRINTED))
        for view, count in (("targets_numbers", 2), ("very_high", 1)):
            opened.page.turn_to(view)
            fields = opened.view.findChildren(QLineEdit)
            assert len(fields) == count
            for field in fields:
                assert "mg/dL" in field.accessibleDescription()


def test_tab_goes_through_a_view_as_the_eye_does(qtbot: QtBot, tmp_path: Path) -> None:
    """From the view on, Tab reaches each stop once, from the top left to the bottom right."""
    with open_window(qtbot, tmp_path) as opened:
        fill(opened)
        faults = []
        for step in walk(opened):
            opened.view.setFocus()
            order = tabbed_through(opened)
            missed = set(focusable(opened.view)) - set(order)
            faults += [f"{step}: Tab does not reach {name_of(one)}" for one in missed]
            places = [one.mapTo(opened.view, QPoint(0, 0)) for one in order]
            for first, second, one in zip(places, places[1:], order[1:], strict=False):
                if second.y() < first.y() - 40 and second.x() <= first.x():
                    faults.append(f"{step}: Tab goes up to {name_of(one)}")
        assert not faults, "\n".join(faults)


def tabbed_through(opened: OpenWindow) -> list[QWidget]:
    """What Tab stops at, until it leaves the view."""
    order: list[QWidget] = []
    while True:
        opened.key(Qt.Key.Key_Tab)
        reached = QApplication.focusWidget()
        if reached is None or not opened.view.isAncestorOf(reached) or reached in order:
            return order
        order.append(reached)


def test_tab_goes_from_the_view_to_the_bar(qtbot: QtBot, tmp_path: Path) -> None:
    with open_window(qtbot, tmp_path) as opened:
        opened.window.show_page("my_plan")
        opened.page.turn_to("name")
        names = []
        for _turn in range(5):
            opened.key(Qt.Key.Key_Tab)
            names.append(name_of(opened.at_keyboard()))
        assert names == [
            "My date of birth (can be left out)",
            "Back",
            "Save name",
            "Visit",
            "My plan",
        ]


def name_of(widget: QWidget) -> str:
    if isinstance(widget, BigButton):
        return widget.text()
    return widget.accessibleName()


def test_enter_leads_to_the_main_action_and_does_not_press_it(qtbot: QtBot, tmp_path: Path) -> None:
    with open_window(qtbot, tmp_path) as opened:
        opened.window.show_page("my_plan")
        opened.page.turn_to("name")
        QTest.keyClicks(opened.at_keyboard(), "A. Invented")
        opened.key(Qt.Key.Key_Return)
        assert opened.page.main_button is not None
        assert opened.page.main_button.hasFocus()
        assert opened.book.settings.person_name == ""
        QTest.keyClick(opened.page.main_button, Qt.Key.Key_Return)
        assert opened.book.settings.person_name == "A. Invented"


def test_the_wheel_changes_nothing(qtbot: QtBot, tmp_path: Path) -> None:
    from PySide6.QtCore import QPointF
    from PySide6.QtGui import QWheelEvent

    with open_window(qtbot, tmp_path) as opened:
        fill(opened)
        before = opened.book.undoable
        for _step in walk(opened):
            for one in focusable(opened.view):
                texts = one.text() if isinstance(one, QLineEdit) else ""
                event = QWheelEvent(
                    QPointF(5, 5),
                    QPointF(one.mapToGlobal(QPoint(5, 5))),
                    QPoint(0, 120),
                    QPoint(0, 120),
                    Qt.MouseButton.NoButton,
                    Qt.KeyboardModifier.NoModifier,
                    Qt.ScrollPhase.NoScrollPhase,
                    False,
                )
                QApplication.sendEvent(one, event)
                if isinstance(one, QLineEdit):
                    assert one.text() == texts
        assert opened.book.undoable == before


def test_notes_are_left_by_tab(qtbot: QtBot, tmp_path: Path) -> None:
    with open_window(qtbot, tmp_path) as opened:
        opened.page.turn_to("questions")
        note = opened.view.findChild(QPlainTextEdit)
        assert isinstance(note, QPlainTextEdit)
        note.setFocus()
        QTest.keyClick(note, Qt.Key.Key_Tab)
        assert not note.hasFocus()
        assert note.toPlainText() == ""


# --- the largest text -----------------------------------------------------------------------------


@pytest.mark.parametrize("page", ["visit", "my_plan"])
def test_at_the_largest_text_nothing_reaches_beside_the_window(
    qtbot: QtBot, tmp_path: Path, page: str
) -> None:
    preferences = Preferences(text_percent=300, paper="letter")
    with open_window(qtbot, tmp_path, preferences=preferences) as opened:
        fill(opened)
        for step in walk(opened):
            if step.startswith(page):
                scrolled = opened.page.scrolled
                assert scrolled.content.width() <= scrolled.area.viewport().width(), step


@pytest.mark.parametrize("percent", [200, 300])
def test_the_report_on_screen_has_one_pair_of_arrows(
    qtbot: QtBot, tmp_path: Path, percent: int
) -> None:
    preferences = Preferences(text_percent=percent, paper="letter")
    with open_window(qtbot, tmp_path, preferences=preferences) as opened:
        fill(opened)
        opened.window.show_page("visit")
        opened.press("See the report")
        opened.wait_for_jobs()
        QTest.qWait(20)
        downs = [one for one in opened.buttons() if one.accessibleName() == "Down"]
        assert len(downs) == 1
        opened.press("Larger")
        opened.press("Right")
        QTest.qWait(20)
        downs = [one for one in opened.buttons() if one.accessibleName() == "Down"]
        assert len(downs) == 1
