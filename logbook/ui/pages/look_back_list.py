"""The readings one by one, newest first, with what became of each and what can be done about it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from uuid import UUID

from PySide6.QtCore import QRectF, Qt, Signal
from PySide6.QtGui import QFont, QFontMetrics, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QBoxLayout, QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from logbook.domain.moments import Moment
from logbook.domain.readings import Reading
from logbook.domain.states import State, state_of_reading
from logbook.ui.pages.look_back_looking import Looked
from logbook.ui.pages.look_back_words import (
    circumstances,
    day_and_time,
    is_late,
    reading_name,
    story_of,
    value_text,
)
from logbook.ui.parts.big_button import BigButton
from logbook.ui.parts.entry_signs import EntrySign, draw_clock, draw_pencil
from logbook.ui.parts.state_paths import StateShape
from logbook.ui.parts.texts import Words
from logbook.ui.parts.view_page import clear_layout
from logbook.ui.theme import BODY, GAP, RADIUS, Look
from logbook.wording import _
from logbook.wording.terms import slot_text, state_text

_VALUE_POINTS = BODY + 4
# From this text size on, what belongs to a reading stands under its number instead of beside it.
_STACKED_FROM_PERCENT = 150


class ValueWords(Words):
    """The number, with a line through it when it was crossed out."""

    def __init__(self, look: Look, text: str, *, is_crossed_out: bool) -> None:
        self._is_crossed_out = is_crossed_out
        super().__init__(look, text, "heading")
        self.setWordWrap(False)

    def restyle(self) -> None:
        super().restyle()
        font: QFont = self.look.font(_VALUE_POINTS, bold=True, figures=True)
        font.setStrikeOut(self._is_crossed_out)
        self.setFont(font)


class ReadingRow(QWidget):
    """One reading. `wants` carries what is to be done and to which."""

    wants = Signal(str, object)

    def __init__(
        self, look: Look, reading: Reading, state: State, now: Moment, *, is_late: bool
    ) -> None:
        super().__init__()
        self._look, self.reading = look, reading
        is_crossed_out = reading.crossed_out is not None
        self.value = ValueWords(look, value_text(reading), is_crossed_out=is_crossed_out)
        self.when = Words(look, day_and_time(reading, now))
        words = [] if reading.is_damaged else [slot_text(reading.slot)]
        words += [state_text(state)] if state is not State.NOT_JUDGED else []
        self.state = Words(look)
        self.state.say(_sentences(words))
        words = circumstances(reading)
        if is_late:
            words.append(_("Written down later"))
        self.details = Words(look)
        self.details.say(_sentences(words))
        self.stories = [Words(look, text) for text in story_of(reading, now)]
        is_stacked = look.theme.percent >= _STACKED_FROM_PERCENT
        direction = (
            QBoxLayout.Direction.TopToBottom if is_stacked else QBoxLayout.Direction.LeftToRight
        )
        row = QBoxLayout(direction, self)
        row.setContentsMargins(12, 8, 12, 8)
        row.setSpacing(GAP)
        head = self._head(look, state, is_late=is_late)
        row.addWidget(head)
        if not is_stacked:
            # The words of all rows begin at one line.
            metrics = QFontMetrics(self.value.font())
            head.setMinimumWidth(metrics.horizontalAdvance("0000 mmol/L") + 40)
        told = QVBoxLayout()
        told.setSpacing(0)
        for part in (self.when, self.state, self.details, *self.stories):
            part.setMaximumWidth(16_777_215)
            told.addWidget(part)
        row.addLayout(told, 1)
        self.buttons = QHBoxLayout()
        self.buttons.setSpacing(GAP)
        self._add_buttons(look)
        if is_stacked:
            self.buttons.addStretch(1)
        row.addLayout(self.buttons)
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)

    def _head(self, look: Look, state: State, *, is_late: bool) -> QWidget:
        part = QWidget()
        head = QHBoxLayout(part)
        head.setContentsMargins(0, 0, 0, 0)
        head.setSpacing(GAP)
        is_judged = not self.reading.is_damaged and self.reading.counts
        shape = StateShape(look, state)
        policy = shape.sizePolicy()
        policy.setRetainSizeWhenHidden(True)  # the numbers stay below one another
        shape.setSizePolicy(policy)
        head.addWidget(shape)
        shape.setVisible(is_judged)
        head.addWidget(self.value)
        if self.reading.earlier:
            head.addWidget(EntrySign(look, draw_pencil))
        if is_late:
            head.addWidget(EntrySign(look, draw_clock))
        head.addStretch(1)
        return part

    def _add_buttons(self, look: Look) -> None:
        if self.reading.is_damaged:
            return
        if self.reading.crossed_out is not None:
            self._add_button(look, _("Bring back"), "bring_back")
            return
        self._add_button(look, _("Correct"), "correct")
        self._add_button(look, _("Cross out"), "cross_out")

    def _add_button(self, look: Look, text: str, what: str) -> None:
        button = BigButton(look, text)
        button.setAccessibleName(
            _("{what}: {reading}").format(what=text, reading=reading_name(self.reading))
        )
        button.setProperty("what", what)
        button.clicked.connect(self._want)
        self.buttons.addWidget(button, 0, Qt.AlignmentFlag.AlignVCenter)

    def _want(self) -> None:
        sender = self.sender()
        if sender is not None:
            self.wants.emit(str(sender.property("what")), self.reading.id)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(self._look.colour("edge"), 1))
        painter.setBrush(self._look.colour("sheet"))
        painter.drawRoundedRect(QRectF(self.rect()).adjusted(0.5, 0.5, -0.5, -0.5), RADIUS, RADIUS)
        painter.end()


class ReadingList(QWidget):
    """`show_rows` shows some readings; `wants` tells which button of which was pressed."""

    wants = Signal(str, object)

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self.rows: list[ReadingRow] = []
        self._column = QVBoxLayout()
        self._column.setSpacing(GAP)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GAP)
        column.addLayout(self._column)
        column.addStretch(1)

    def show_rows(
        self,
        looked: Looked,
        start: int,
        count: int,
        read: Callable[[UUID], Reading],
        now: Moment,
    ) -> None:
        """Show `count` readings from `start` on, each read whole from the Book."""
        clear_layout(self._column)
        indices = looked.listed[start : start + count]
        self.rows = [self._row(looked, index, read, now) for index in indices]
        for row in self.rows:
            self._column.addWidget(row)

    def stops(self) -> list[QWidget]:
        """The buttons, in the order in which the keyboard goes through them."""
        return [button for row in self.rows for button in row.findChildren(BigButton)]

    def _row(
        self, looked: Looked, index: int, read: Callable[[UUID], Reading], now: Moment
    ) -> ReadingRow:
        reading = read(UUID(looked.series.ids[index]))
        settings = looked.settings
        state = State.NOT_JUDGED
        if reading.counts:
            own = settings.very_high_above if reading.glucose.unit is settings.unit else None
            day = reading.at.day(settings.day_starts_at)
            state = state_of_reading(reading, day, looked.targets, own)
        row = ReadingRow(self._look, reading, state, now, is_late=is_late(looked, index))
        row.wants.connect(self.wants)
        return row


def _sentences(words: Sequence[str]) -> str:
    return " ".join(_("{words}.").format(words=each) for each in words)


def rows_at(percent: int, wanted: Sequence[int]) -> int:
    """How many rows are shown at this text size: the first number at small, the second at large."""
    return wanted[0] if percent < _STACKED_FROM_PERCENT else wanted[1]
