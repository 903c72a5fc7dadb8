"""What a screen reader gets, asked through Qt's own accessibility interface; and the way of Tab."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import QObject, QPoint, Qt
from PySide6.QtGui import QAccessible, QAccessibleEvent
from PySide6.QtWidgets import QAbstractButton, QApplication, QLineEdit, QPlainTextEdit, QWidget
from pytestqt.qtbot import QtBot

from logbook.domain.glucose import Unit
from logbook.ui.parts.big_button import BigButton
from logbook.ui.parts.bottom_bar import BottomBar
from logbook.ui.parts.focus_ring import FocusRing, _Ring
from logbook.ui.parts.form_rows import Choice, FormRows
from logbook.ui.theme import Look
from tests.ui.test_geometry import walk
from tests.ui.writing_window import Writer, habit, settle, writing_window

ROLES = {
    QAbstractButton: {
        QAccessible.Role.Button,
        QAccessible.Role.CheckBox,
        QAccessible.Role.RadioButton,
    },
    QLineEdit: {QAccessible.Role.EditableText},
    QPlainTextEdit: {QAccessible.Role.EditableText},
}


def focusable(window: QWidget) -> list[QWidget]:
    return [
        one
        for one in window.findChildren(QWidget)
        if one.isVisible() and one.focusPolicy() & Qt.FocusPolicy.TabFocus
    ]


def test_everything_that_takes_the_focus_has_a_name_and_a_role(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with writing_window(tmp_path, prepare=habit) as person:
        seen = 0
        for step in walk(person):
            settle()
            for widget in focusable(person.window):
                spoken = QAccessible.queryAccessibleInterface(widget)
                name = spoken.text(QAccessible.Text.Name)
                assert name.strip(), f"{step}: {widget} has no name"
                for kind, roles in ROLES.items():
                    if isinstance(widget, kind):
                        assert spoken.role() in roles, f"{step}: {name} is {spoken.role()}"
                seen += 1
        assert seen > 200


def test_keys_tiles_and_fields_say_what_they_belong_to(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, prepare=habit) as person:
        form = person.page.form
        described = [
            *form.keypad.keys.values(),
            *form.circumstances.slots.buttons.values(),
            *form.circumstances.when.buttons.values(),
            form.keypad.display,
        ]
        for widget in described:
            spoken = QAccessible.queryAccessibleInterface(widget)
            assert spoken.text(QAccessible.Text.Description), widget


@pytest.mark.parametrize("unit", list(Unit))
def test_the_display_says_number_and_unit(qtbot: QtBot, tmp_path: Path, unit: Unit) -> None:
    with writing_window(tmp_path, unit=unit) as person:
        person.type("7")
        description = person.page.form.keypad.display.accessibleDescription()
        assert f"7 {unit.value}" in description


def test_the_hands_say_the_advice(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, prepare=habit) as person:
        hands = person.page.form.fingers.hands
        assert "Rested" in hands.accessibleDescription()
        person.press("Another finger")
        pad = person.button("Left middle finger")
        assert "Rested" in pad.accessibleDescription()
        assert person.button("Right thumb").accessibleDescription().startswith("Not in use.")


@pytest.mark.parametrize("unit", list(Unit))
def test_tab_goes_the_way_the_eyes_go_and_comes_back(
    qtbot: QtBot, tmp_path: Path, unit: Unit
) -> None:
    with writing_window(tmp_path, prepare=habit, unit=unit) as person:
        person.type("1")
        order = tab_order(person)
        names = [widget.accessibleName() or getattr(widget, "text", str)() for widget in order]
        assert len(order) == len(set(map(id, order)))
        columns = [
            person.window.side_list,
            person.page.form.fingers,
            person.page.form.keypad,
            person.page.form.circumstances,
            person.window.bar,
        ]
        visited = [i for w in order for i, c in enumerate(columns) if c.isAncestorOf(w)]
        assert visited == sorted(visited), names
        for column in columns:
            inside = [w for w in order if column.isAncestorOf(w)]
            places = [rows_first(widget, person.window) for widget in inside]
            assert places == sorted(places), [names[order.index(w)] for w in inside]


def rows_first(widget: QWidget, window: QWidget) -> tuple[int, int]:
    corner = widget.mapTo(window, QPoint(0, 0))
    # Tops of one row differ by a few pixels at most.
    return corner.y() // 20, corner.x()


def tab_order(person: Writer) -> list[QWidget]:
    person.window.setFocus()
    order: list[QWidget] = []
    for _press in range(100):
        person.key(Qt.Key.Key_Tab, "\t")
        widget = person.window.focusWidget()
        assert widget is not None
        if widget in order:
            return order
        order.append(widget)
    raise AssertionError("Tab never came back")


def test_arrows_move_along_the_fingers(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, prepare=habit) as person:
        person.press("Another finger")
        advised = person.window.focusWidget()
        assert advised is person.button("Left middle finger")
        person.key(Qt.Key.Key_Right, "")
        assert person.window.focusWidget() is person.button("Left ring finger")
        person.key(Qt.Key.Key_Left, "")
        person.key(Qt.Key.Key_Left, "")
        assert person.window.focusWidget() is person.button("Left index finger")


def test_tab_reaches_every_tile_where_several_can_be_chosen(qtbot: QtBot) -> None:
    choice = Choice(Look(), "Which?", [(n, f"Number {n}") for n in range(5)], several=True)
    qtbot.addWidget(choice)
    choice.show()
    choice.choose((1, 3))
    tiles = list(choice.buttons.values())
    tiles[0].setFocus()
    reached = [choice.focusWidget()]
    for _press in tiles[1:]:
        choice.focusNextChild()
        reached.append(choice.focusWidget())
    assert reached == tiles
    tiles[2].click()
    assert choice.value == (1, 2, 3)


def test_the_ring_is_whole_at_the_edge_of_a_page_too(qtbot: QtBot) -> None:
    look = Look()
    window, page = QWidget(), QWidget()
    qtbot.addWidget(window)
    page.setParent(window)
    page.setObjectName("scrolled")
    page.setGeometry(0, 0, 400, 300)
    corners = [BigButton(look, "one", parent=page), BigButton(look, "two", parent=page)]
    corners[0].setGeometry(0, 0, 100, 60)
    corners[1].setGeometry(300, 240, 100, 60)
    rings = FocusRing(look, window)
    look.is_by_keys = True
    window.show()
    qtbot.waitExposed(window)
    for button in corners:
        rings._follow(None, button)
        (ring,) = [one for one in page.findChildren(_Ring) if one.isVisible()]
        assert page.rect().contains(ring.geometry())
        assert ring.geometry().contains(button.geometry())


def test_a_message_is_announced(qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> None:
    told: list[QAccessibleEvent] = []
    monkeypatch.setattr(QAccessible, "updateAccessibility", told.append)
    bar = BottomBar(Look())
    qtbot.addWidget(bar)
    bar.say("Taken back.")
    bar.say("")
    assert [event.type() for event in told] == [QAccessible.Event.Announcement]


def test_form_rows_give_a_field_its_name_help_and_unit(qtbot: QtBot) -> None:
    look = Look()
    rows = FormRows(look)
    qtbot.addWidget(rows)
    field = rows.add_text("Height", help_text="As measured.", unit="cm")
    spoken = QAccessible.queryAccessibleInterface(field)
    assert spoken.text(QAccessible.Text.Name) == "Height"
    assert spoken.text(QAccessible.Text.Description) == "As measured. cm"


def test_the_ring_is_shown_for_keys_and_not_for_clicks(qtbot: QtBot, tmp_path: Path) -> None:
    from logbook.ui.parts.focus_ring import _Ring

    def rings(parent: QObject) -> list[_Ring]:
        return [one for one in parent.findChildren(_Ring) if one.isVisible()]

    with writing_window(tmp_path) as person:
        person.window.activateWindow()
        settle()
        person.press("Before dinner")
        assert rings(person.window) == []
        person.key(Qt.Key.Key_Tab, "\t")
        (ring,) = rings(person.window)
        focused = person.window.focusWidget()
        assert focused is not None
        parent = ring.parentWidget()
        assert parent is not None
        around = ring.geometry()
        box = focused.rect().translated(focused.mapTo(parent, QPoint(0, 0)))
        assert around.contains(box)
        assert around != box
        QApplication.processEvents()


def test_buttons_made_later_come_where_they_lie(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        person.press("1", "Yesterday")
        step = person.page.filling.when_step
        order = tab_order(person)
        first = order.index(person.button("4:00 AM"))
        assert order[first : first + 24] == step._buttons
        assert order[first + 24] is step.typed_text
        assert order.index(person.button("Go back")) > order.index(step.typed_text)
