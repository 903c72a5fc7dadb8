"""A page of several views, one at a time: each has one title, one subject and one main action.

The page keeps a view in which something was typed and not saved, so that turning away loses
nothing; every other view is made anew when it comes up.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import pairwise
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible, QAccessibleAnnouncementEvent, QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QLayout, QVBoxLayout, QWidget

from logbook.book import Changed
from logbook.domain.moments import Moment
from logbook.ui.desk import Desk
from logbook.ui.page import Page
from logbook.ui.parts.paragraph import Paragraph
from logbook.ui.theme import GAP
from logbook.wording import _


class View(QWidget):
    """One subject of a page; `back` names the view that Back leads to, empty for the first one.

    A subclass puts its widgets into `column`, and tells `title()`, `main_text()` and `do_main()`.
    """

    back = ""

    def __init__(self, page: ViewPage) -> None:
        super().__init__()
        self.page = page
        self.desk: Desk = page.desk
        self.look = page.desk.look
        # It takes the keyboard when it comes up, so that Tab leads to its first field.
        self.setProperty("hasNoRing", True)
        self.setFocusPolicy(Qt.FocusPolicy.ClickFocus)
        self._problems = Paragraph(self.look, role="heading")
        self._problems.hide()
        self.column = QVBoxLayout(self)
        self.column.setContentsMargins(0, 0, 0, GAP)
        self.column.setSpacing(2 * GAP)
        self.column.addWidget(self._problems)

    def title(self) -> str:
        """The question or statement above the view."""
        raise NotImplementedError

    def main_text(self) -> str:
        """What the main action is called; empty for none."""
        return ""

    def do_main(self) -> None:
        """The main action was pressed."""

    @property
    def is_changed(self) -> bool:
        """Whether something was typed or chosen that is not saved yet."""
        return False

    def refresh(self, changed: Changed | None) -> None:
        """Read the Book again; what was typed stays."""

    def step_back(self) -> bool:
        """Take back a step inside the view; False where Back leads out of it."""
        return False

    def came_up(self) -> None:
        """The view is in sight now."""

    def beat(self, now: Moment) -> None:
        """A few seconds passed while the view is in sight."""

    def first_field(self) -> QWidget:
        """Where the keyboard is when the view comes up."""
        return self

    @property
    def problem_text(self) -> str:
        """What stands at the top about wrong fields; empty for nothing."""
        return self._problems.text()

    def show_problems(self, fields: Sequence[Any], found: Sequence[tuple[Any, str]]) -> bool:
        """Say what is wrong beside its field and, in the same words, at the top; True for none.

        `fields` are all that may have said something before. What was typed stays.
        """
        for field in fields:
            field.show_problem("")
        for field, text in found:
            field.show_problem(text)
        text = "\n".join(text for _field, text in found)
        self._problems.say(text)
        if found:
            self.page.scrolled.to_top()
            found[0][0].setFocus(Qt.FocusReason.OtherFocusReason)
            QAccessible.updateAccessibility(QAccessibleAnnouncementEvent(self, text))
        return not found


class ViewPage(Page):
    """A page whose views are made by `view_makers()`; it begins with the first of them."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        # Where the way of Tab through the view begins. It is not looked for in the chain of focus:
        # the binding makes what it finds there belong to the widget that was asked, and lets it go
        # with that one.
        self._begin = QWidget(self)
        self._begin.setFocusPolicy(Qt.FocusPolicy.ClickFocus)
        self._begin.hide()
        self.makers = self.view_makers()
        self._kept: dict[str, View] = {}
        self.view_name = next(iter(self.makers))
        self.set_main_button("", self._do_main)
        self.back_button = self.add_action(_("Back"), self.go_back)
        self.back_button.describe(_("Leads to the page before"))
        row = self.bar_actions.layout()
        assert isinstance(row, QHBoxLayout)
        row.insertStretch(0, 1)
        self.view = self._make(self.view_name)
        self.body.addWidget(self.view, 1)
        self._show_head()

    def view_makers(self) -> dict[str, Callable[[ViewPage], View]]:
        """How each view is made, by its name."""
        raise NotImplementedError

    def turn_to(self, name: str, *, message: str = "") -> None:
        """Show another view, with a message in the bar if there is one."""
        before, before_name = self.view, self.view_name
        if before.is_changed and before_name != name:
            self._kept[before_name] = before
            before.hide()
        else:
            before.hide()
            before.deleteLater()
        self.body.removeWidget(before)
        self.view_name = name
        self.view = self._kept.pop(name) if name in self._kept else self._make(name)
        self.body.addWidget(self.view, 1)
        self.view.show()
        self.view.refresh(None)
        self._show_head()
        self._order_tabs()
        self.scrolled.to_top()
        self.desk.say(message)
        self.view.first_field().setFocus(Qt.FocusReason.OtherFocusReason)
        self.view.came_up()

    def beat(self, now: Moment) -> None:
        self.view.beat(now)

    def open_part(self, part: str) -> None:
        if part in self.makers:
            self.turn_to(part)

    def forget(self, name: str) -> None:
        """What was typed in a view that is out of sight is saved or no longer wanted."""
        view = self._kept.pop(name, None)
        if view is not None:
            view.deleteLater()

    def go_back(self) -> None:
        """A step back in this view, or to the view before it."""
        if not self.view.step_back() and self.view.back:
            self.turn_to(self.view.back)

    def refresh(self, changed: Changed | None) -> None:
        for view in (self.view, *self._kept.values()):
            view.refresh(changed)
        self._order_tabs()
        self._show_head()

    def shown(self) -> None:
        self.view.came_up()

    def typed(self, event: QKeyEvent) -> bool:
        """Enter leads to the main action and does not press it."""
        is_enter = event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter)
        assert self.main_button is not None
        if not is_enter or not self.main_button.isVisible():
            return False
        self.main_button.setFocus(Qt.FocusReason.TabFocusReason)
        return True

    def update_head(self) -> None:
        """The view has other words in its title or main action now, or other parts."""
        self._order_tabs()
        self._show_head()

    def _make(self, name: str) -> View:
        view = self.makers[name](self)
        view.setParent(self.scrolled.content)
        return view

    def _show_head(self) -> None:
        title = self.view.title()
        self.title.say(title)
        self.view.setAccessibleName(title)
        assert self.main_button is not None
        text = self.view.main_text()
        self.main_button.setText(text)
        self.main_button.setVisible(bool(text))
        self.back_button.setVisible(bool(self.view.back))

    def _order_tabs(self) -> None:
        """Tab goes from the list of pages through the view, as its layouts go, and to the bar.

        Widgets are made at different times; without this the last made would come last.
        """
        view, scrolled = self.view, self.scrolled
        stops = [one for one in _in_layouts(view) if one.focusPolicy() & Qt.FocusPolicy.TabFocus]
        for first, second in pairwise([self._begin, view, *stops, scrolled.up, scrolled.down]):
            QWidget.setTabOrder(first, second)

    def _do_main(self) -> None:
        self.view.do_main()


def _in_layouts(widget: QWidget) -> Iterator[QWidget]:
    layout = widget.layout()
    if layout is None:
        yield widget
    else:
        yield from _in_layout(layout)


def _in_layout(layout: QLayout) -> Iterator[QWidget]:
    for index in range(layout.count()):
        item = layout.itemAt(index)
        if item is None:
            continue
        widget, inner = item.widget(), item.layout()
        if widget is not None:
            yield from _in_layouts(widget)
        elif inner is not None:
            yield from _in_layout(inner)


def clear_layout(layout: QLayout) -> None:
    """Take everything out of a layout and let it go once the present event is over."""
    while (item := layout.takeAt(0)) is not None:
        widget, inner = item.widget(), item.layout()
        if widget is not None:
            widget.hide()
            widget.deleteLater()
        elif inner is not None:
            clear_layout(inner)
