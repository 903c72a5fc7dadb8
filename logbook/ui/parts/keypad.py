"""The display of the number and the keys that fill it; typing on the keyboard does the same.

What shows is what is saved. A point exists only where the unit has decimals. LO and HI stand on a
row of their own, in words, away from the digits.
"""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QAccessible,
    QAccessibleValueChangeEvent,
    QFont,
    QFontMetrics,
    QPainter,
    QPaintEvent,
    QPen,
)
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from logbook.domain.glucose import Unit
from logbook.ui.parts.big_button import BigButton, ButtonKind
from logbook.ui.parts.tab_order import follow
from logbook.ui.theme import BODY, GAP, NUMBER, RADIUS, Look
from logbook.wording import _
from logbook.wording.numbers import steps_text, unit_text

_CLEAR, _BACK = "clear", "back"


class Display(QWidget):
    """The number being entered, with the unit locked beside it."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self._text, self._unit = "", ""
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.setAccessibleName(_("The number the meter shows"))
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        look.changed.connect(self.restyle)

    def restyle(self) -> None:
        """Take size and colours of the present theme."""
        self.updateGeometry()
        self.update()

    def show_number(self, text: str, unit: str) -> None:
        """Show what was typed so far."""
        if (text, unit) == (self._text, self._unit):
            return
        self._text, self._unit = text, unit
        said = _("{number} {unit}").format(number=text, unit=unit) if text else _("empty")
        self.setAccessibleDescription(_("{value}. Unit: {unit}").format(value=said, unit=unit))
        QAccessible.updateAccessibility(QAccessibleValueChangeEvent(self, said))
        self.update()

    @property
    def text(self) -> str:
        """What is shown, without the unit."""
        return self._text

    def sizeHint(self) -> QSize:
        number = QFontMetrics(self._number_font())
        unit = QFontMetrics(self._look.font(BODY))
        # Four figures in mg/dL, "55.5" in mmol/L.
        width = number.horizontalAdvance("1000") + unit.horizontalAdvance("mmol/L") + 44
        return QSize(width, max(76, number.capHeight() + 26))

    def minimumSizeHint(self) -> QSize:
        return self.sizeHint()

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        edge = self._look.theme.colours.edge_width
        box = QRectF(self.rect()).adjusted(edge / 2, edge / 2, -edge / 2, -edge / 2)
        painter.setPen(QPen(self._look.colour("edge"), edge))
        painter.setBrush(self._look.colour("sheet"))
        painter.drawRoundedRect(box, RADIUS, RADIUS)
        unit_font = self._look.font(BODY)
        unit_width = QFontMetrics(unit_font).horizontalAdvance(self._unit)
        number_font = self.shown_font()
        metrics = QFontMetrics(number_font)
        base = (self.height() + metrics.capHeight()) / 2
        painter.setPen(self._look.colour("quiet_ink"))
        painter.setFont(unit_font)
        painter.drawText(round(self.width() - unit_width - 14), round(base), self._unit)
        painter.setPen(self._look.colour("ink"))
        painter.setFont(number_font)
        width = metrics.horizontalAdvance(self._text)
        painter.drawText(round(self.width() - unit_width - 26 - width), round(base), self._text)
        painter.end()

    def shown_font(self) -> QFont:
        """The face of the number: smaller where more was typed than a meter can show."""
        unit = QFontMetrics(self._look.font(BODY)).horizontalAdvance(self._unit)
        room = max(1, self.width() - unit - 26 - 14)
        wide = QFontMetrics(self._number_font()).horizontalAdvance(self._text)
        font = self._number_font()
        if wide > room:
            font.setPixelSize(max(1, font.pixelSize() * room // wide))
        return font

    def _number_font(self) -> QFont:
        # Not bold: thick strokes close the middle of a 0, and it could read as an 8.
        return self._look.font(NUMBER, figures=True)


class DigitKey(BigButton):
    """One key of the number; it knows what it types."""

    typed = Signal(str)

    def __init__(self, look: Look, text: str, types: str, name: str = "") -> None:
        super().__init__(look, text, ButtonKind.DIGIT)
        self.types = types
        self.setAccessibleName(name or text)
        self.describe(_("Key of the number"))
        self.clicked.connect(self._tell)

    def _tell(self) -> None:
        self.typed.emit(self.types)


class Keypad(QWidget):
    """Display, keys, and the row of LO and HI. It keeps no number: it tells what was pressed.

    `typed` carries a digit or ".", `taken_back` and `cleared` say so, `lo_pressed` and `hi_pressed`
    are the two words a meter shows.
    """

    typed = Signal(str)
    taken_back = Signal()
    cleared = Signal()

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self._unit = Unit.MG_DL
        self.display = Display(look)
        self.keys: dict[str, DigitKey] = {}
        for digit in "1234567890":
            self.keys[digit] = DigitKey(look, digit, digit)
        self.keys["."] = DigitKey(look, self._point(), ".", _("Point"))
        self.keys[_CLEAR] = DigitKey(look, _("Clear"), _CLEAR)
        self.keys[_BACK] = DigitKey(look, _("Back"), _BACK)
        for key in self.keys.values():
            key.setParent(self)  # one that the unit has no use for lies in no layout
            key.typed.connect(self._press)
        self.keys[_BACK].describe(_("Takes the last figure away"))
        self.keys[_CLEAR].describe(_("Empties the number"))
        self.lo = BigButton(look, _("Meter shows LO"), ButtonKind.OTHER).let_wrap()
        self.hi = BigButton(look, _("Meter shows HI"), ButtonKind.OTHER).let_wrap()
        self._grid = QGridLayout()
        self._grid.setSpacing(GAP)
        words = QHBoxLayout()
        words.setSpacing(GAP)
        words.addWidget(self.lo, 1)
        words.addWidget(self.hi, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GAP)
        column.addWidget(self.display)
        column.addLayout(self._grid)
        column.addLayout(words)
        column.addStretch(1)
        self._lay_keys()

    def set_unit(self, unit: Unit) -> None:
        """Use the keys of this unit: a point only in mmol/L."""
        if unit is not self._unit:
            self._unit = unit
            self._lay_keys()

    def show_number(self, text: str) -> None:
        """Show what was typed so far, or the letters LO or HI."""
        point = self._point()
        self.keys["."].setText(point)
        self.display.show_number(text.replace(".", point), unit_text(self._unit))

    def _lay_keys(self) -> None:
        has_point = self._unit.decimals > 0
        for index, digit in enumerate("123456789"):
            self._grid.addWidget(self.keys[digit], index // 3, index % 3)
        self.keys["."].setVisible(has_point)
        if has_point:
            self._grid.addWidget(self.keys["0"], 3, 0, 1, 2)
            self._grid.addWidget(self.keys["."], 3, 2)
            self._grid.addWidget(self.keys[_BACK], 0, 3, 2, 1)
            self._grid.addWidget(self.keys[_CLEAR], 2, 3, 2, 1)
            order = "1 2 3 back 4 5 6 7 8 9 clear 0 ."
        else:
            self._grid.addWidget(self.keys[_CLEAR], 3, 0)
            self._grid.addWidget(self.keys["0"], 3, 1)
            self._grid.addWidget(self.keys[_BACK], 3, 2)
            order = "1 2 3 4 5 6 7 8 9 clear 0 back"
        follow(self.display, (self.keys[name] for name in order.split()))

    def _press(self, types: str) -> None:
        if types == _BACK:
            self.taken_back.emit()
        elif types == _CLEAR:
            self.cleared.emit()
        else:
            self.typed.emit(types)

    @staticmethod
    def _point() -> str:
        # The sign that the locale puts between whole and tenth.
        return steps_text(71, Unit.MMOL_L, with_unit=False)[1]
