"""The way of Tab: what is made later would come last of all, wherever it lies."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget


def follow(anchor: QWidget, widgets: Iterable[QWidget]) -> None:
    """Let Tab go through `widgets` in this order, right after `anchor` or what comes before it."""
    start = anchor
    # Qt orders only what takes the focus; it passes silently over anything else.
    while not _takes_focus(start):
        before = start.previousInFocusChain()
        if before is None or before is anchor:
            break
        start = before
    for earlier, later in pairwise((start, *widgets)):
        QWidget.setTabOrder(earlier, later)


def last_inside(parent: QWidget) -> QWidget:
    """The last widget of the way that lies in `parent` and takes the focus, else `parent`."""
    last, widget = parent, parent.nextInFocusChain()
    while widget is not None and widget is not parent:
        if parent.isAncestorOf(widget) and _takes_focus(widget):
            last = widget
        widget = widget.nextInFocusChain()
    return last


def _takes_focus(widget: QWidget) -> bool:
    return bool(widget.focusPolicy() & Qt.FocusPolicy.TabFocus)
