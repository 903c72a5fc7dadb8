"""Rows of the list in *Look back*: a reading, or what was told, with what can be done about it."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import time
from uuid import UUID

from PySide6.QtCore import QRectF, Qt, Signal
from PySide6.QtGui import QFont, QFontMetrics, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QBoxLayout, QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from logbook.domain.moments import Moment
from logbook.domain.readings import Reading
from logbook.domain.states import State
from logbook.ui.pages.look_back_entry_words import (
    circumstances,
    day_and_time,
    reading_name,
    story_of,
    told_head,
    told_name,
    told_note,
    told_words,
    value_text,
)
from logbook.ui.pages.look_back_looking import WithoutNumber
from logbook.ui.parts.big_button import BigButton
from logbook.ui.parts.entry_signs import EntrySign, draw_clock, draw_pencil
from logbook.ui.parts.state_paths import StateShape
from logbook.ui.parts.texts import Words
from logbook.ui.theme import BODY, GAP, RADIUS, Look
from logbook.wording import _
from logbook.wording.terms import slot_text, state_text

_VALUE_POINTS = BODY + 4
# From this text size on, what belongs to a row stands under its number instead of beside it.
STACKED_FROM_PERCENT = 150


class HeadWords(Words):
    """The number, or what happened, with a line through it when it was crossed out."""

    def __init__(self, look: Look, text: str, *, points: int, is_crossed_out: bool) -> None:
        self._points, self._is_crossed_out = points, is_crossed_out
        super().__init__(look, text, "heading")

    def restyle(self) -> None:
        super().restyle()
        font: QFont = self.look.font(self._points, bold=True, figures=True)
        font.setStrikeOut(self._is_crossed_out)
        self.setFont(font)


class Row(QWidget):
    """Something that was written down. `wants` carries what is to be done and to which record.

    A subclass gives its head, its words and the name that a button says with what it does.
    """

    wants = Signal(str, object)

    def __init__(self, look: Look, record_id: UUID, name: str) -> None:
        super().__init__()
        self.look, self._record_id, self._name = look, record_id, name
        self._is_stacked = look.theme.percent >= STACKED_FROM_PERCENT
        directions = QBoxLayout.Direction
        self._row = QBoxLayout(
            directions.TopToBottom if self._is_stacked else directions.LeftToRight, self
        )
        self._row.setContentsMargins(12, 8, 12, 8)
        self._row.setSpacing(GAP)
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)

    def lay_out(
        self, head: QWidget, words: Sequence[Words], buttons: Sequence[tuple[str, str]]
    ) -> None:
        """The head, the words beside or below it, and a button for each text and what it wants."""
        self._row.addWidget(head)
        if not self._is_stacked:
            # The words of all rows begin at one line.
            metrics = QFontMetrics(self.look.font(_VALUE_POINTS, bold=True, figures=True))
            width = metrics.horizontalAdvance("0000 mmol/L") + 40
            head.setMinimumWidth(width)
            if isinstance(head, HeadWords):
                head.setMaximumWidth(width)
        told = QVBoxLayout()
        told.setSpacing(0)
        for part in words:
            part.setMaximumWidth(16_777_215)
            told.addWidget(part)
        self._row.addLayout(told, 1)
        self.buttons = QHBoxLayout()
        self.buttons.setSpacing(GAP)
        for text, what in buttons:
            button = BigButton(self.look, text)
            button.setAccessibleName(_("{what}: {reading}").format(what=text, reading=self._name))
            button.setProperty("what", what)
            button.clicked.connect(self._want)
            self.buttons.addWidget(button, 0, Qt.AlignmentFlag.AlignVCenter)
        if self._is_stacked:
            self.buttons.addStretch(1)
        self._row.addLayout(self.buttons)

    def _want(self) -> None:
        sender = self.sender()
        if sender is not None:
            self.wants.emit(str(sender.property("what")), self._record_id)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(self.look.colour("edge"), 1))
        painter.setBrush(self.look.colour("sheet"))
        painter.drawRoundedRect(QRectF(self.rect()).adjusted(0.5, 0.5, -0.5, -0.5), RADIUS, RADIUS)
        painter.end()


class ReadingRow(Row):
    """One reading: the number, where it stands, how it was made, what became of it."""

    def __init__(
        self,
        look: Look,
        reading: Reading,
        state: State,
        now: Moment,
        day_starts_at: time,
        *,
        is_late: bool,
        written_by: str = "",
        kit_doubts: Sequence[str] = (),
    ) -> None:
        super().__init__(look, reading.id, reading_name(reading, day_starts_at))
        self.reading = reading
        is_crossed_out = reading.crossed_out is not None
        self.value = HeadWords(
            look, value_text(reading), points=_VALUE_POINTS, is_crossed_out=is_crossed_out
        )
        self.value.setWordWrap(False)
        words = [] if reading.is_damaged else [slot_text(reading.slot)]
        words += [state_text(state)] if state is not State.NOT_JUDGED else []
        details = circumstances(reading)
        if is_late:
            details.append(_("Written down later"))
        when = day_and_time(reading.at, now, day_starts_at)
        if reading.initials:
            details.append(written_by)
        told = [when, _sentences(words), _sentences(details), " ".join(kit_doubts)]
        told += story_of(reading, now, day_starts_at)
        buttons = [(_("Correct"), "correct"), (_("Cross out"), "cross_out")]
        if is_crossed_out:
            buttons = [(_("Bring back"), "bring_back")]
        buttons += [(_("Erase note"), "erase_note")] if reading.note else []
        self.lay_out(
            self._head(state, is_late=is_late),
            [Words(look, text) for text in told if text],
            [] if reading.is_damaged else buttons,
        )

    def _head(self, state: State, *, is_late: bool) -> QWidget:
        part = QWidget()
        head = QHBoxLayout(part)
        head.setContentsMargins(0, 0, 0, 0)
        head.setSpacing(GAP)
        shape = StateShape(self.look, state)
        policy = shape.sizePolicy()
        policy.setRetainSizeWhenHidden(True)  # the numbers stay below one another
        shape.setSizePolicy(policy)
        head.addWidget(shape)
        shape.setVisible(not self.reading.is_damaged and self.reading.counts)
        head.addWidget(self.value)
        if self.reading.earlier:
            head.addWidget(EntrySign(self.look, draw_pencil))
        if is_late:
            head.addWidget(EntrySign(self.look, draw_clock))
        head.addStretch(1)
        return part


class ToldRow(Row):
    """Something without a number: a low that was felt, a fall, a medicine that was missed."""

    def __init__(self, look: Look, told: WithoutNumber, now: Moment, day_starts_at: time) -> None:
        super().__init__(look, told.id, told_name(told, day_starts_at))
        head = HeadWords(
            look, told_head(told), points=BODY, is_crossed_out=told.crossed_out_at is not None
        )
        button = (_("Cross out"), "cross_out_told")
        if not told.counts:
            button = (_("Bring back"), "bring_back_told")
        words = [
            day_and_time(told.at, now, day_starts_at),
            *told_words(told, now, day_starts_at),
        ]
        erase = [(_("Erase note"), "erase_note")] if told_note(told) else []
        self.lay_out(head, [Words(look, text) for text in words], [button, *erase])


def _sentences(words: Sequence[str]) -> str:
    return " ".join(_("{words}.").format(words=each) for each in words)
