"""The ring around what the keyboard is at: 4 pixels, outside it where there is room."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, QRectF, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QApplication, QWidget

from logbook.ui.theme import FOCUS_RING, RADIUS, Look

_AWAY = 1
_REACH = _AWAY + FOCUS_RING


class FocusRing(QObject):
    """Moves one ring through `window`. After a click there is none: the hand knows where it is."""

    def __init__(self, look: Look, window: QWidget) -> None:
        super().__init__(window)
        self._look, self._window = look, window
        self._ring: _Ring | None = None
        self._around: QWidget | None = None
        self._watched: list[QWidget] = []
        application = QApplication.instance()
        assert isinstance(application, QApplication)
        application.focusChanged.connect(self._follow)

    def _follow(self, old: QWidget | None, new: QWidget | None) -> None:
        self._let_go()
        if new is None or not self._window.isAncestorOf(new):
            return
        if not self._look.is_by_keys or new.property("hasNoRing"):
            return
        # Not in the direct parent: the ring lies outside, where a tight parent would cut it off.
        home = new.parentWidget()
        while home is not None and home is not self._window and not _is_home(home):
            home = home.parentWidget()
        if home is None:
            return
        is_listed = bool(home.property("isPageList"))
        self._ring = _Ring(self._look, home, "focus_on_list" if is_listed else "focus")
        self._around = new
        watched: QWidget | None = new
        while watched is not None and watched is not home:
            watched.installEventFilter(self)
            self._watched.append(watched)
            watched = watched.parentWidget()
        self._place()

    def _let_go(self) -> None:
        for watched in self._watched:
            watched.removeEventFilter(self)
        self._watched = []
        self._around = None
        if self._ring is not None:
            self._ring.hide()
            self._ring.deleteLater()
            self._ring = None

    def _place(self) -> None:
        if self._ring is None or self._around is None:
            return
        home = self._ring.parentWidget()
        assert home is not None
        at = self._around.mapTo(home, self._around.rect().topLeft())
        box = self._around.rect().translated(at).adjusted(-_REACH, -_REACH, _REACH, _REACH)
        # At the edge of its home the ring lies over the part rather than being cut off.
        self._ring.setGeometry(box.intersected(home.rect()))
        self._ring.setVisible(self._around.isVisible())
        self._ring.raise_()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        match event.type():
            case QEvent.Type.Move | QEvent.Type.Resize | QEvent.Type.Show | QEvent.Type.Hide:
                self._place()
            case (
                QEvent.Type.MouseButtonPress
                | QEvent.Type.ParentAboutToChange
                | QEvent.Type.DeferredDelete
            ):
                self._let_go()
        return False


def _is_home(widget: QWidget) -> bool:
    return widget.objectName() == "scrolled" or bool(widget.property("isPageList"))


class _Ring(QWidget):
    def __init__(self, look: Look, parent: QWidget, role: str) -> None:
        super().__init__(parent)
        self._look, self._role = look, role
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(self._look.colour(self._role), FOCUS_RING))
        half = FOCUS_RING / 2
        box = QRectF(self.rect()).adjusted(half, half, -half, -half)
        painter.drawRoundedRect(box, RADIUS + _AWAY + half, RADIUS + _AWAY + half)
        painter.end()
