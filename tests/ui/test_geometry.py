"""Sizes on screen: what is pressed is large enough, no word is clipped, covered or shortened."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, QRect, Qt
from PySide6.QtGui import QFontMetrics
from PySide6.QtWidgets import QAbstractButton, QLabel, QLineEdit, QPlainTextEdit, QWidget
from pytestqt.qtbot import QtBot

from logbook.domain.glucose import Unit
from logbook.ui.parts.big_button import BigButton, ButtonKind
from logbook.ui.parts.hands import FingerPad
from tests.ui.writing_window import Writer, habit, settle, writing_window

LAPTOP = (1280, 660)  # 1366 x 768 less a desktop's panel and frame, and narrower
WIDE = (1366, 768)
KEY_KINDS = (ButtonKind.MAIN, ButtonKind.TALL, ButtonKind.DIGIT)
LEAST_KEY, LEAST, LEAST_GAP = 76, 44, 8

SIZES = [(LAPTOP, 100), (WIDE, 100), (LAPTOP, 125), (LAPTOP, 150), (LAPTOP, 200), (WIDE, 200)]
SIZES += [(LAPTOP, 300)]


def walk(person: Writer) -> Iterator[str]:
    """Every step of the page, one after the other, by the buttons that lead there."""
    page, filling = person.page, person.page.filling
    is_mmol = person.book.settings.unit is Unit.MMOL_L
    usual, very_high, very_low = ("12.8", "20.1", "2.1") if is_mmol else ("128", "318", "41")
    yield "form"
    for digit in usual:
        filling.type(digit)
    filling._choose_slot(next(s for s in page.form.circumstances.slots.buttons if s.is_after_meal))
    yield "form with chips"
    filling._want_finger()
    yield "finger"
    filling._choose_finger(next(iter(filling.finger_step.hands.buttons)))
    yield "side"
    for when in list(page.form.circumstances.when.buttons)[1:]:
        filling._choose_when(when)
        yield f"when: {when}"
    filling._want_more()
    filling.more_step.wipe.show()
    yield "more"
    page._leave_step()
    page._want_happening()
    yield "happened"
    page.happened_step._whats.hide()
    page.happened_step._ways.show()
    yield "strip failed"
    page._leave_step()
    page.saver.press_hi()
    yield "question"
    page._leave_step()
    for digit in very_high:
        filling.type(digit)
    page.saver.save()
    if page.step is page.question_step:
        yield "doubt"
        page.saver._take_answer("save")
    yield "result"
    page._begin()
    for digit in very_low:
        filling.type(digit)
    page.saver.save()
    yield "very low"
    yield from walk_of_a_low(person)
    person.window._show_help()
    yield "help"


def walk_of_a_low(person: Writer) -> Iterator[str]:
    """From a low that waits to one that is told about, the numbers given to the page itself."""
    page, filling = person.page, person.page.filling
    person.pass_time(minutes=6)
    yield "low, waiting"
    person.pass_time(minutes=9)
    yield "low, recheck due"
    page.outcome._begin_recheck()
    yield "recheck"
    for number in ("64", "95") if person.book.settings.unit is Unit.MG_DL else ("3.5", "5.3"):
        for character in number:
            filling.type(character)
        page.saver.save()
        yield f"after {number}"
        if page.step is page.low_step:
            page.outcome._begin_recheck()
            person.pass_time(minutes=4)
    page.outcome._tell_more()
    yield "more about the low"
    page.outcome.low_more._ask_finger()
    yield "finger of the low"
    person.pass_time(minutes=61)
    page.notices.open()
    yield "what waits"
    page.happening.finger_step.show_news(filling.news.fingers)
    page._show(page.happening.finger_step)
    yield "pricked again"


@pytest.mark.parametrize(("size", "percent"), SIZES)
@pytest.mark.parametrize("unit", [Unit.MG_DL, Unit.MMOL_L])
def test_everything_is_large_enough_and_whole(
    qtbot: QtBot, tmp_path: Path, size: tuple[int, int], percent: int, unit: Unit
) -> None:
    with writing_window(
        tmp_path, size=size, percent=percent, prepare=habit, settings=None, unit=unit
    ) as person:
        faults: list[str] = []
        for step in walk(person):
            settle()
            faults += [f"{step}: {fault}" for fault in faults_of(person.window)]
            assert person.window.size().toTuple() == size, f"{step} made the window grow"
        assert not faults, "\n".join(faults)


@pytest.mark.parametrize("size", [LAPTOP, WIDE])
@pytest.mark.parametrize("unit", [Unit.MG_DL, Unit.MMOL_L])
def test_the_form_fits_without_scrolling_at_100_percent(
    qtbot: QtBot, tmp_path: Path, size: tuple[int, int], unit: Unit
) -> None:
    with writing_window(tmp_path, size=size, prepare=habit, unit=unit) as person:
        steps = walk(person)
        for step in ("form", "form with chips", "finger", "side"):
            assert next(steps) == step
            settle()
            assert not person.page.scrolled.up.isVisible(), f"{step} has to be scrolled"


def test_save_stays_on_screen_at_every_text_size(qtbot: QtBot, tmp_path: Path) -> None:
    for percent in (100, 125, 150, 200, 300):
        folder = tmp_path / str(percent)
        folder.mkdir()
        with writing_window(folder, percent=percent) as person:
            person.type("128")
            button = person.button("Save 128 mg/dL")
            assert whole_in(button, person.window)


def test_up_and_down_reach_everything_at_200_percent(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, percent=200) as person:
        viewport = person.page.scrolled.area.viewport()
        wanted = [one for one in person.page.form.findChildren(BigButton) if one.isVisible()]
        reached: set[BigButton] = set()
        for _turn in range(12):
            reached |= {one for one in wanted if whole_in(one, viewport)}
            person.click(person.button("Down"))
        assert reached == set(wanted)


def test_extra_large_keys_are_113_pixels(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        person.window.desk.prefer(has_large_keys=True)
        settle()
        for key in person.page.form.keypad.keys.values():
            if key.isVisible():
                assert min(key.width(), key.height()) >= 113


def test_the_walk_catches_what_is_too_small_and_what_is_cut(qtbot: QtBot, tmp_path: Path) -> None:
    """The control: a button made small by force is found."""
    with writing_window(tmp_path) as person:
        assert faults_of(person.window) == []
        person.button("Help").setFixedSize(30, 20)
        settle()
        found = "\n".join(faults_of(person.window))
        assert "Help: 30 x 20" in found
        assert "Help: its words do not fit" in found


# --- what is looked at --------------------------------------------------------------------------


def faults_of(window: QWidget) -> list[str]:
    faults = []
    visible = [one for one in window.findChildren(QWidget) if one.isVisible()]
    buttons = [one for one in visible if isinstance(one, QAbstractButton)]
    for button in buttons:
        least = LEAST_KEY if _is_key(button) else LEAST
        if min(button.width(), button.height()) < least:
            faults.append(f"{_name(button)}: {button.width()} x {button.height()}")
        if isinstance(button, BigButton) and not _words_fit(button):
            faults.append(f"{_name(button)}: its words do not fit")
    for field in visible:
        if isinstance(field, QLineEdit | QPlainTextEdit) and field.height() < LEAST:
            faults.append(f"{_name(field)}: {field.height()} high")
        if isinstance(field, QLabel) and field.text() and not _label_fits(field):
            faults.append(f"“{field.text()}” is cut: {field.size().toTuple()}")
        if not _is_inside(field):
            faults.append(f"{_name(field)} reaches out of its parent")
    pressed = [*buttons, *(f for f in visible if isinstance(f, QLineEdit | QPlainTextEdit))]
    for one, other in combinations(pressed, 2):
        gap = _gap(_box(one, window), _box(other, window))
        if one.parentWidget() is other.parentWidget() and gap < LEAST_GAP:
            faults.append(f"{_name(one)} and {_name(other)} are {gap} apart")
    return faults


def _is_key(button: QAbstractButton) -> bool:
    return isinstance(button, FingerPad) or (
        isinstance(button, BigButton) and button.kind in KEY_KINDS
    )


def _words_fit(button: BigButton) -> bool:
    if not button.text() or isinstance(button, FingerPad):
        return True
    room = button.text_box()
    flags = int(Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap)
    needed = QFontMetrics(button.font()).boundingRect(room, flags, button.text())
    return needed.width() <= room.width() and needed.height() <= room.height()


def _label_fits(label: QLabel) -> bool:
    metrics = QFontMetrics(label.font())
    flags = int(Qt.TextFlag.TextWordWrap) if label.wordWrap() else 0
    needed = metrics.boundingRect(QRect(0, 0, label.width(), 10_000), flags, label.text())
    return needed.width() <= label.width() and needed.height() <= label.height() + 1


def _is_inside(widget: QWidget) -> bool:
    parent = widget.parentWidget()
    if parent is None:
        return True
    if parent.objectName() == "qt_scrollarea_viewport":
        return widget.width() <= parent.width()  # it may be longer than the room, never wider
    return bool(parent.rect().contains(widget.geometry()))


def whole_in(widget: QWidget, viewport: QWidget) -> bool:
    at = widget.mapTo(viewport.window(), QPoint(0, 0))
    room = QRect(viewport.mapTo(viewport.window(), QPoint(0, 0)), viewport.size())
    return room.contains(QRect(at, widget.size()))


def _box(widget: QWidget, window: QWidget) -> QRect:
    return QRect(widget.mapTo(window, QPoint(0, 0)), widget.size())


def _gap(one: QRect, other: QRect) -> int:
    across = max(other.left() - one.right(), one.left() - other.right()) - 1
    down = max(other.top() - one.bottom(), one.top() - other.bottom()) - 1
    return max(across, down)


def _name(widget: QWidget) -> str:
    if isinstance(widget, QAbstractButton) and widget.text():
        return widget.text()
    return widget.accessibleName() or type(widget).__name__
