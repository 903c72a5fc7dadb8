"""Things of one kind side by side, in as many columns as width and text size have room for."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QGridLayout, QSizePolicy, QWidget

from logbook.ui.theme import BODY, GAP, Look


class Columns(QWidget):
    """Shows `add`ed widgets in rows of at most `most` columns, left to right, then down.

    `least_width` is the least width of a column, in heights of the body's face.
    """

    def __init__(
        self,
        look: Look,
        *,
        most: int = 3,
        least_width: float = 13,
        gap: int = GAP,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._look, self._most, self._least = look, most, least_width
        self._widgets: list[QWidget] = []
        self._left_out: set[QWidget] = set()
        self._count = 0
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setSpacing(gap)
        policy = QSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Minimum)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)
        look.changed.connect(self.settle)

    def add(self, widget: QWidget) -> None:
        """One more."""
        self._widgets.append(widget)
        widget.setParent(self)
        self._count = 0
        self.settle()
        widget.show()

    def clear(self) -> None:
        """Take all out and let them go once the present event is over."""
        for widget in self._widgets:
            self._grid.removeWidget(widget)
            widget.hide()
            widget.deleteLater()
        self._widgets.clear()
        self._left_out.clear()
        self._count = 0

    def leave_out(self, *widgets: QWidget) -> None:
        """Show all but these; the others close the gap."""
        self._left_out = set(widgets)
        for widget in self._widgets:
            widget.setVisible(widget not in self._left_out)
        self._count = 0
        self.settle()

    def settle(self) -> None:
        """Lay out for the present width and text size."""
        count = self.columns_for(self.width())
        if count == self._count:
            return
        self._count = count
        for widget in self._widgets:
            self._grid.removeWidget(widget)
        for column in range(self._most):
            self._grid.setColumnStretch(column, 1 if column < count else 0)
        shown = [widget for widget in self._widgets if widget not in self._left_out]
        for index, widget in enumerate(shown):
            top = Qt.AlignmentFlag(0)
            self._grid.addWidget(widget, index // count, index % count, top)
        self.updateGeometry()

    def columns_for(self, width: int) -> int:
        """How many columns fit into `width` pixels."""
        least = self._look.theme.pixels(BODY) * self._least
        return max(1, min(self._most, len(self._widgets) or 1, int(width // least)))

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.settle()

    def minimumSizeHint(self) -> QSize:
        return QSize(0, super().minimumSizeHint().height())
