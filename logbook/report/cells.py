"""How one reading is written in a grid: its number or word, L and LL, brackets and drawn marks.

Readings that look alike share one cell: ten years of them are a few hundred.
"""

from __future__ import annotations

from collections.abc import Callable, Collection
from dataclasses import dataclass
from enum import StrEnum

from logbook.domain.glucose import HI_STEPS, LO_STEPS, Unit
from logbook.domain.levels import LOW_BELOW, VERY_LOW_BELOW
from logbook.domain.series import Mark, Series
from logbook.report.document import Page
from logbook.report.fonts import Faces
from logbook.report.marks import clock_mark, diamond_mark, pencil_mark
from logbook.wording import _
from logbook.wording.numbers import steps_text

# A plain number: arithmetic with flags is slow, and this is done for every reading.
_SEEN = int(
    Mark.CROSSED_OUT | Mark.NOT_BELIEVED | Mark.FOREIGN_METER | Mark.DAMAGED | Mark.CORRECTED
)

# Drawn marks, in sizes of the letters: height and distance from what stands before them.
_MARK_HEIGHT = 0.72
_MARK_GAP = 0.18

_DrawMark = Callable[[float, float, float], str]


class Sign(StrEnum):
    """What needs a word under the grid when it occurs in it."""

    LOW = "low"
    WRITTEN_LATER = "written_later"
    CORRECTED = "corrected"
    CROSSED_OUT = "crossed_out"
    NOT_BELIEVED = "not_believed"
    OTHER_METER = "other_meter"
    OTHER_UNIT = "other_unit"
    DAMAGED = "damaged"
    IN_QUESTION = "in_question"


@dataclass(frozen=True, slots=True)
class Cell:
    """A written reading. Widths in points; `value_width` ends where the digits end."""

    text: str
    value_width: float
    width: float
    is_low: bool
    is_crossed_out: bool
    has_clock: bool
    has_pencil: bool
    shown: str
    has_diamond: bool = False

    @property
    def is_plain(self) -> bool:
        """Text alone, nothing to draw over or beside it."""
        return not (self.is_crossed_out or self.has_clock or self.has_pencil or self.has_diamond)

    @property
    def marks(self) -> tuple[_DrawMark, ...]:
        """The marks drawn behind it, in their order."""
        wanted = (
            (self.has_diamond, diamond_mark),
            (self.has_clock, clock_mark),
            (self.has_pencil, pencil_mark),
        )
        return tuple(draw for is_wanted, draw in wanted if is_wanted)

    def draw_marks(self, page: Page, x: float, y: float, size: float) -> None:
        """The line through it and the marks behind it; its text begins at `x` on `y`."""
        if self.is_crossed_out:
            page.rule(x - 1, y + 0.3 * size, x + self.value_width + 1, line=1.0)
        height = _MARK_HEIGHT * size
        step = height + _MARK_GAP * size
        at = x + self.width - len(self.marks) * step
        for draw in self.marks:
            page.operators.append(draw(at + _MARK_GAP * size, y, height))
            at += step


class Cells:
    """The cells of one grid at one size of print; remembers which signs occurred."""

    def __init__(
        self,
        faces: Faces,
        series: Series,
        unit: Unit,
        size: float,
        in_question: Collection[str] = frozenset(),
    ) -> None:
        self._faces = faces
        self._series = series
        self._unit = unit
        self._size = size
        self._in_question = in_question
        self._made: dict[tuple[int, Unit, int, bool, bool], Cell] = {}
        self.signs: set[Sign] = set()

    def cell(self, index: int, *, is_late: bool) -> Cell:
        """The cell of one reading."""
        series = self._series
        is_asked = bool(self._in_question) and series.ids[index] in self._in_question
        marks = series.marks[index] & _SEEN
        key = (series.steps[index], series.units[index], marks, is_late, is_asked)
        found = self._made.get(key)
        if found is None:
            steps, unit, marks, _late, _asked = key
            found = self._made[key] = self._make(
                steps, unit, marks, is_late=is_late, is_asked=is_asked
            )
        return found

    def _make(self, steps: int, unit: Unit, marks: int, *, is_late: bool, is_asked: bool) -> Cell:
        faces, size = self._faces, self._size
        level = ""
        if marks & Mark.DAMAGED:
            value = _("damaged")
            self.signs.add(Sign.DAMAGED)
        else:
            value = steps_text(steps, unit, with_unit=False)
            if steps < LOW_BELOW[unit]:
                level = "LL" if steps < VERY_LOW_BELOW[unit] else "L"
                self.signs.add(Sign.LOW)
        if marks & Mark.NOT_BELIEVED:
            value = f"({value})"
            self.signs.add(Sign.NOT_BELIEVED)
        text = f"{value} {level}".rstrip()
        if unit is not self._unit and steps not in (LO_STEPS, HI_STEPS):
            text = f"{text} {unit.value}"
            self.signs.add(Sign.OTHER_UNIT)
        if marks & Mark.FOREIGN_METER:
            text += " *"
            self.signs.add(Sign.OTHER_METER)
        is_crossed_out, is_corrected = bool(marks & Mark.CROSSED_OUT), bool(marks & Mark.CORRECTED)
        self.signs.update(
            sign
            for sign, is_so in (
                (Sign.CROSSED_OUT, is_crossed_out),
                (Sign.CORRECTED, is_corrected),
                (Sign.WRITTEN_LATER, is_late),
                (Sign.IN_QUESTION, is_asked),
            )
            if is_so
        )
        bold = bool(level)
        room_of_marks = (is_late + is_corrected + is_asked) * (_MARK_HEIGHT + _MARK_GAP) * size
        return Cell(
            text,
            faces.width(value, size, bold=bold),
            faces.width(text, size, bold=bold) + room_of_marks,
            bold,
            is_crossed_out,
            is_late,
            is_corrected,
            faces.shown_line(text, size, bold=bold),
            is_asked,
        )
