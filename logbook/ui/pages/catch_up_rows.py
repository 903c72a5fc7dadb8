"""The table of catching up: rows that will be written and, in grey, rows that are there already."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QRectF, Qt, Signal
from PySide6.QtGui import QFontMetrics, QPainter, QPaintEvent, QPalette, QPen
from PySide6.QtWidgets import QBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from logbook.domain.catch_up import Row
from logbook.domain.levels import LOW_BELOW
from logbook.domain.moments import Moment
from logbook.domain.readings import Reading
from logbook.ui.parts.big_button import BigButton
from logbook.ui.parts.texts import Words
from logbook.ui.parts.view_page import clear_layout
from logbook.ui.theme import BODY, GAP, RADIUS, Look
from logbook.wording import _
from logbook.wording.dates import clock_text, short_day_text, short_weekday_text
from logbook.wording.numbers import glucose_text
from logbook.wording.terms import slot_text

_STACKED_FROM_PERCENT = 150
_ANY_WIDTH = 16_777_215

Shown = Row | Reading
"""A row that was typed, or a reading that the log has."""


def order_of(shown: Shown) -> tuple[object, str]:
    """The newest comes first."""
    return shown.at.instant, str(shown.id)


class RowLine(QWidget):
    """One line. `wants` tells what is to be done with which row: "change" or "remove"."""

    wants = Signal(str, object)

    def __init__(self, look: Look, shown: Shown, now: Moment, *, is_about: bool) -> None:
        super().__init__()
        self.look, self._shown = look, shown
        self.is_new = isinstance(shown, Row) and shown.is_new
        is_stacked = look.theme.percent >= _STACKED_FROM_PERCENT
        directions = QBoxLayout.Direction
        line = QBoxLayout(directions.TopToBottom if is_stacked else directions.LeftToRight, self)
        height = 0 if self.is_new else 6  # as high as those with buttons, nearly
        line.setContentsMargins(12, height, 0 if self.is_new else 12, height)
        line.setSpacing(GAP)
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)
        value = glucose_text(shown.glucose)
        when = _when(shown, now)
        state = "" if self.is_new else _("Already written")
        words = [value, when, _what(shown), state]
        for place, text in enumerate(words):
            part = Words(look, text, "heading" if place == 0 else "body")
            part.setMaximumWidth(_ANY_WIDTH)
            if not self.is_new:
                palette = part.palette()
                palette.setColor(QPalette.ColorRole.WindowText, look.colour("quiet_ink"))
                part.setPalette(palette)
            if not is_stacked:
                # The columns of all rows begin at one line.
                part.setWordWrap(place == 2)
                part.setMinimumWidth(_least_width(look, place, is_about=is_about))
            elif not text:
                continue
            if text or place < 3:
                line.addWidget(part, 1 if place == 2 else 0)
        self.setAccessibleName(", ".join(filter(None, words)))
        self.buttons: list[BigButton] = []
        if self.is_new:
            name = _("{value}, {time}").format(value=value, time=clock_text(shown.at))
            self._add_buttons(line, name, is_stacked=is_stacked)

    def _add_buttons(self, line: QBoxLayout, name: str, *, is_stacked: bool) -> None:
        row = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        row.setSpacing(GAP)
        for text, what in ((_("Change"), "change"), (_("Take out"), "remove")):
            button = BigButton(self.look, text)
            button.setAccessibleName(_("{what}: {reading}").format(what=text, reading=name))
            button.setProperty("what", what)
            button.clicked.connect(self._want)
            row.addWidget(button, 0, Qt.AlignmentFlag.AlignVCenter)
            self.buttons.append(button)
        if is_stacked:
            row.addStretch(1)
        line.addLayout(row)

    def _want(self) -> None:
        self.wants.emit(str(self.sender().property("what")), self._shown.id)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(self.look.colour("edge"), 1))
        if self.is_new:
            painter.setBrush(self.look.colour("sheet"))
        painter.drawRoundedRect(QRectF(self.rect()).adjusted(0.5, 0.5, -0.5, -0.5), RADIUS, RADIUS)
        painter.end()


class RowTable(QWidget):
    """`show_lines` shows some of the rows; `wants` tells which button of which was pressed."""

    wants = Signal(str, object)

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self.lines: list[RowLine] = []
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(GAP)

    def show_lines(self, shown: Sequence[Shown], now: Moment) -> None:
        """Show these, from above to below."""
        clear_layout(self._column)
        is_about = any(isinstance(one, Row) and one.is_about for one in shown)
        self.lines = [RowLine(self._look, one, now, is_about=is_about) for one in shown]
        for line in self.lines:
            line.wants.connect(self.wants)
            self._column.addWidget(line)

    def stops(self) -> list[QWidget]:
        """The buttons, in the order in which the keyboard goes through them."""
        return [button for line in self.lines for button in line.buttons]


def _least_width(look: Look, place: int, *, is_about: bool) -> int:
    clock = "about 10:58 AM" if is_about else "10:58 AM"
    samples = ("0000 mmol/L", f"Wed, Sep 30, {clock}", "", "")
    metrics = QFontMetrics(look.font(BODY, bold=place == 0, figures=True))
    return metrics.horizontalAdvance(samples[place]) + 2 * GAP if samples[place] else 0


def _when(shown: Shown, now: Moment) -> str:
    day = shown.at.wall.date()
    return _("{weekday}, {day}, {time}").format(
        weekday=short_weekday_text(day),
        day=short_day_text(day, with_year=day.year != now.wall.year),
        time=_clock_text(shown),
    )


def _clock_text(shown: Shown) -> str:
    clock = clock_text(shown.at)
    is_about = isinstance(shown, Row) and shown.is_about
    return _("about {time}").format(time=clock) if is_about else clock


def _what(shown: Shown) -> str:
    slot = slot_text(shown.slot)
    if shown.glucose.order_steps < LOW_BELOW[shown.glucose.unit]:
        return _("{slot}. Low").format(slot=slot)
    return slot
