"""The pages of a PDF to look at: one at a time, turned and made larger by big buttons.

A screen reader gets the page's own words. Nothing hangs on a wheel, a drag or a second click.
"""

from __future__ import annotations

from PySide6.QtCore import QSize, Signal
from PySide6.QtGui import QImage, QPainter, QPaintEvent, QPen, QResizeEvent
from PySide6.QtWidgets import QBoxLayout, QGridLayout, QSizePolicy, QVBoxLayout, QWidget

from logbook.ui.parts.big_button import BigButton
from logbook.ui.parts.paper_file import PaperFile
from logbook.ui.parts.scroll_page import ScrollPage
from logbook.ui.theme import GAP, Look
from logbook.wording import _

# Times the width of the room.
SIZES = (0.6, 1.0, 1.5, 2.0, 3.0)
_PAGE_WIDTH = SIZES.index(1.0)
_PART_MOVED = 0.6
# From this text size on, the buttons stand above the page instead of beside it.
_STACKED_FROM_PERCENT = 300


class PagePicture(QWidget):
    """One page, `times` as wide as the room; what does not fit is moved to by `move_by`."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self._paper: PaperFile | None = None
        self._index = 0
        self._times = 1.0
        self._left = 0
        self._picture = QImage()
        policy = QSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Minimum)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)

    def show_page(self, paper: PaperFile | None, index: int, times: float) -> None:
        """Show this page at this size, from its left edge."""
        self._paper, self._index, self._times, self._left = paper, index, times, 0
        self._picture = QImage()
        self.updateGeometry()
        self.update()

    @property
    def is_wider(self) -> bool:
        """Whether a part of the page lies beside the room."""
        return self._times > 1.0

    def move_by(self, part: float) -> None:
        """Move sideways by a part of the room; not further than the page goes."""
        most = max(0, round(self.width() * self._times) - self.width())
        self._left = min(most, max(0, self._left + round(self.width() * part)))
        self.update()

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        if self._paper is None:
            return 1
        page_width, page_height = self._paper.size(self._index)
        return round(width * self._times * page_height / page_width)

    def sizeHint(self) -> QSize:
        return QSize(self.width(), self.heightForWidth(self.width()))

    def minimumSizeHint(self) -> QSize:
        return QSize(1, 1)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._picture = QImage()
        self.updateGeometry()

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        if self._paper is not None:
            if self._picture.isNull():
                self._picture = self._drawn(self._paper)
            painter.drawImage(-self._left, 0, self._picture)
        painter.setPen(QPen(self._look.colour("edge"), 1))
        right = round(self.width() * min(self._times, 1.0)) - 1
        painter.drawRect(0, 0, right, self.height() - 1)
        painter.end()

    def _drawn(self, paper: PaperFile) -> QImage:
        page_width, _page_height = paper.size(self._index)
        ratio = self.devicePixelRatioF()
        picture = paper.picture(self._index, self.width() * self._times * ratio / page_width)
        picture.setDevicePixelRatio(ratio)
        return picture


class PaperPreview(QWidget):
    """The buttons at the left, the page at the right; `place` says which page it is."""

    turned = Signal()

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self._paper: PaperFile | None = None
        self._index = 0
        self._size = _PAGE_WIDTH
        self._is_stacked = False
        self.following = BigButton(look, _("Next page"))
        self.following.clicked.connect(self._next)
        self.preceding = BigButton(look, _("Page before"))
        self.preceding.clicked.connect(self._before)
        self.larger = BigButton(look, _("Larger"))
        self.larger.clicked.connect(self._larger)
        self.smaller = BigButton(look, _("Smaller"))
        self.smaller.clicked.connect(self._smaller)
        self.to_right = BigButton(look, _("Right"))
        self.to_right.clicked.connect(self._to_right)
        self.to_left = BigButton(look, _("Left"))
        self.to_left.clicked.connect(self._to_left)
        self._sheet = QWidget()
        self._sheet.setAccessibleName(_("The page"))
        self.picture = PagePicture(look)
        below = QVBoxLayout(self._sheet)
        below.setContentsMargins(0, 0, 0, 0)
        below.addWidget(self.picture)
        below.addStretch(1)
        self.scrolled = ScrollPage(look, self._sheet)
        self._buttons = QGridLayout()
        self._buttons.setSpacing(GAP)
        self._row = QBoxLayout(QBoxLayout.Direction.LeftToRight, self)
        self._row.setContentsMargins(0, 0, 0, 0)
        self._row.setSpacing(2 * GAP)
        self._row.addLayout(self._buttons)
        self._row.addWidget(self.scrolled, 1)
        for button in (self.following, self.preceding):
            # On the first and the last page the other one stays where it is.
            policy = button.sizePolicy()
            policy.setRetainSizeWhenHidden(True)
            button.setSizePolicy(policy)
        look.changed.connect(self.restyle)
        self.restyle()
        self.show_paper(None)

    def show_paper(self, paper: PaperFile | None) -> None:
        """Show another file, from its first page; None shows none."""
        self._paper = paper
        self._index = 0
        self._show()

    def restyle(self) -> None:
        """Buttons beside the page, or above it where the text is too large for that."""
        self._is_stacked = self._look.theme.percent >= _STACKED_FROM_PERCENT
        directions = QBoxLayout.Direction
        self._row.setDirection(
            directions.TopToBottom if self._is_stacked else directions.LeftToRight
        )
        buttons = (
            self.following,
            self.preceding,
            self.larger,
            self.smaller,
            self.to_left,
            self.to_right,
        )
        for button in buttons:
            self._buttons.removeWidget(button)
        if self._is_stacked:
            places = ((0, 0, 2), (0, 2, 2), (1, 0, 2), (1, 2, 2), (2, 0, 2), (2, 2, 2))
        else:
            places = ((0, 0, 2), (1, 0, 2), (2, 0, 2), (3, 0, 2), (4, 0, 1), (4, 1, 1))
        for button, place in zip(buttons, places, strict=True):
            row, column, columns = place
            self._buttons.addWidget(button, row, column, 1, columns)
        self._buttons.setRowStretch(5, 0 if self._is_stacked else 1)
        self._take_height()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._take_height()

    def _take_height(self) -> None:
        """Stacked, the page takes all its height, so that only what holds the preview scrolls."""
        width = self.scrolled.width()
        self.scrolled.setMinimumHeight(self.scrolled.height_at(width) if self._is_stacked else 0)

    @property
    def page_number(self) -> int:
        """The page that is shown, counted from 1."""
        return self._index + 1

    @property
    def place(self) -> str:
        """Which page is shown: "page 1 of 4"; empty without a file."""
        if self._paper is None:
            return ""
        return _("page {n} of {total}").format(n=self.page_number, total=self._paper.page_count)

    def _show(self) -> None:
        paper = self._paper
        self.picture.show_page(paper, self._index, SIZES[self._size])
        count = paper.page_count if paper is not None else 0
        self.preceding.setVisible(count > 1 and self._index > 0)
        self.following.setVisible(count > 1 and self._index < count - 1)
        for button in (self.larger, self.smaller):
            button.setVisible(count > 0)
        self.to_right.setVisible(count > 0 and self.picture.is_wider)
        self.to_left.setVisible(count > 0 and self.picture.is_wider)
        self.picture.setAccessibleName(self.place)
        self.picture.setAccessibleDescription("" if paper is None else paper.words(self._index))
        self.scrolled.to_top()
        self._take_height()
        self.turned.emit()

    def _turn(self, pages: int) -> None:
        if self._paper is not None:
            self._index = min(self._paper.page_count - 1, max(0, self._index + pages))
            self._show()

    def _next(self) -> None:
        self._turn(1)

    def _before(self) -> None:
        self._turn(-1)

    def _larger(self) -> None:
        self._size = min(len(SIZES) - 1, self._size + 1)
        self._show()

    def _smaller(self) -> None:
        self._size = max(0, self._size - 1)
        self._show()

    def _to_right(self) -> None:
        self.picture.move_by(_PART_MOVED)

    def _to_left(self) -> None:
        self.picture.move_by(-_PART_MOVED)
