"""The way of Tab: what is made later would come last of all, wherever it lies.

PySide takes the widget that `nextInFocusChain` or `previousInFocusChain` returns for a child of the
one that was asked. When that one is deleted, the other counts as deleted too, with all that lies in
it, though it is in sight: the next layout of it ends the program. So both are asked here alone, and
each widget's own parent is said again afterwards.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import pairwise

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget


def follow(anchor: QWidget, widgets: Iterable[QWidget]) -> None:
    """Let Tab go through `widgets` in this order, right after `anchor` or what comes before it."""
    start = anchor
    # Qt orders only what takes the focus; it passes silently over anything else.
    while not _takes_focus(start):
        before = _its_own(start.previousInFocusChain(), start)
        if before is anchor:
            break
        start = before
    for earlier, later in pairwise((start, *widgets)):
        QWidget.setTabOrder(earlier, later)


def last_inside(parent: QWidget) -> QWidget:
    """The last widget of the way that lies in `parent` and takes the focus, else `parent`."""
    last = parent
    for widget in way_from(parent):
        if parent.isAncestorOf(widget) and _takes_focus(widget):
            last = widget
    return last


def way_from(first: QWidget) -> Iterator[QWidget]:
    """Every widget of the way after `first`, once around."""
    widget = _its_own(first.nextInFocusChain(), first)
    while widget is not first:
        yield widget
        widget = _its_own(widget.nextInFocusChain(), first)


def _its_own(widget: QWidget | None, otherwise: QWidget) -> QWidget:
    if widget is None:
        return otherwise
    widget.setParent(widget.parentWidget())  # nothing to Qt, which has it so
    return widget


def _takes_focus(widget: QWidget) -> bool:
    return bool(widget.focusPolicy() & Qt.FocusPolicy.TabFocus)
