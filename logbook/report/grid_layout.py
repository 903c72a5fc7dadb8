"""How wide the grid's columns are, which of them go on one page, and where each word stands."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, timedelta

from logbook.domain.slots import Slot
from logbook.report.cells import Cell
from logbook.report.document import Document
from logbook.report.grid_content import ContentRow, GridContent, Word
from logbook.report.grid_words import foot_names, foot_rows
from logbook.report.options import MARGIN, Print
from logbook.wording import _
from logbook.wording.dates import short_day_text
from logbook.wording.numbers import days_text
from logbook.wording.terms import slot_column

# Room between what stands in neighbouring columns, and most that is added where there is plenty.
_GUTTER, _MOST_SPREAD = 9.0, 26.0

# Large print has at most so many columns a page.
MOST_LARGE_COLUMNS = 5

_MORNING = frozenset({Slot.FASTING, Slot.AFTER_BREAKFAST, Slot.BEFORE_LUNCH, Slot.AFTER_LUNCH})

SUNDAY = 6


@dataclass(frozen=True, slots=True)
class Column:
    """One column on the page. `slot` is None for the days and for the last column."""

    slot: Slot | None
    head: tuple[str, ...]
    x: float
    width: float
    digits_right: float = 0.0
    is_left_aligned: bool = False

    @property
    def middle(self) -> float:
        """Its middle, where heads and times stand."""
        return self.x + self.width / 2

    def start_of(self, cell: Cell) -> float:
        """Where a reading's text begins, so that digits end under digits."""
        return self.digits_right - cell.value_width


@dataclass(slots=True)
class RowText:
    """One row ready to be drawn: what stands where."""

    day: date | None
    lines: int
    day_text: str
    ends_week: bool
    cells: list[tuple[int, Cell]] = field(default_factory=list)
    times: list[tuple[float, str]] = field(default_factory=list)
    last_column: list[list[tuple[float, Word]]] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class Layout:
    """The columns that share a page, from the left; the first holds the days.

    `is_first` says that these are the first pages of the grid, where the signs are explained.
    """

    columns: tuple[Column, ...]
    left: float
    right: float
    is_sideways: bool
    space: float
    is_first: bool = True

    @property
    def has_readings(self) -> bool:
        """Whether a time of day has its column here; else only the last column is."""
        return any(column.slot is not None for column in self.columns)

    def rows(self, content: GridContent) -> Iterator[RowText]:
        """The rows with the readings of these columns."""
        numbers = {column.slot: n for n, column in enumerate(self.columns) if column.slot}
        last = self.columns[-1] if len(self.columns) > 1 and not self.columns[-1].slot else None
        for row in content.rows:
            # A page of the last column alone is a list of what there was, not of empty days.
            if not self.has_readings and not row.others:
                continue
            if row.gap_days:
                yield self._gap_row(content, row)
                continue
            out = RowText(row.day, 1, row.day_word.shown, row.day.weekday() == SUNDAY)
            for slot, slot_cell in row.cells.items():
                number = numbers.get(slot)
                if number is None:
                    continue
                out.cells.append((number, slot_cell.cell))
                if slot_cell.time is not None:
                    x = self.columns[number].middle - slot_cell.time.width / 2
                    out.times.append((x, slot_cell.time.shown))
                    out.lines = 2
            # A row is read from left to right, also by a reader that speaks.
            out.cells.sort(key=_column_number)
            out.times.sort()
            if last is not None and row.others:
                out.last_column = wrapped_words(row.others, last.x, last.width, self.space)
                out.lines = max(out.lines, len(out.last_column))
            yield out

    def _gap_row(self, content: GridContent, row: ContentRow) -> RowText:
        last_day = row.day + timedelta(days=row.gap_days - 1)
        text = _("{first} to {last}: nothing written on {days}").format(
            first=short_day_text(row.day, with_year=True),
            last=short_day_text(last_day, with_year=True),
            days=days_text(row.gap_days),
        )
        return RowText(None, 1, content.word(text).shown, ends_week=True)


def _column_number(cell: tuple[int, Cell]) -> int:
    return cell[0]


def wrapped_words(
    words: Sequence[Word], x: float, width: float, space: float
) -> list[list[tuple[float, Word]]]:
    """Words in lines from `x`, none further right than `width` unless it is alone."""
    lines: list[list[tuple[float, Word]]] = [[]]
    at = x
    for word in words:
        if lines[-1] and at + word.width > x + width:
            lines.append([])
            at = x
        lines[-1].append((at, word))
        at += word.width + space
    return lines


@dataclass(frozen=True, slots=True)
class _Needs:
    """How wide a column's content is, in points."""

    slot: Slot
    head: tuple[str, ...]
    digits: float
    tail: float
    width: float


def layouts(document: Document, content: GridContent) -> list[Layout]:
    """The groups of columns, each to be printed with all days; one where all fits a page.

    The page is turned when that makes everything fit. Large print never has more than five columns
    a page and parts a longer day after lunch.
    """
    faces, size = content.faces, content.size
    needs = _needs(content)
    names = foot_names()
    days = max(
        *(faces.width(name, size, bold=True) for name in names),
        *(row.day_word.width for row in content.rows),
    )
    days += _GUTTER
    last = 11.5 * size if content.has_others else 0.0
    width, height = document.options.paper.size
    upright, sideways = width - 2 * MARGIN, height - 2 * MARGIN
    whole = days + last + sum(need.width for need in needs)
    space = faces.width(" ", size)
    is_large = document.print is Print.LARGE
    is_few = not is_large or len(needs) + bool(last) <= MOST_LARGE_COLUMNS
    if whole <= upright and is_few:
        return [_layout(needs, days, last, upright, space, is_sideways=False)]
    if whole <= sideways and is_few:
        return [_layout(needs, days, last, sideways, space, is_sideways=True)]
    groups = _groups(needs, upright - days, MOST_LARGE_COLUMNS if is_large else len(needs))
    if last:
        used = sum(need.width for need in groups[-1])
        has_room = days + used + last <= upright
        if not has_room or (is_large and len(groups[-1]) >= MOST_LARGE_COLUMNS):
            groups.append([])
    found = []
    for number, group in enumerate(groups):
        of_last = last if number == len(groups) - 1 else 0.0
        one = _layout(group, days, of_last, upright, space, is_sideways=False)
        found.append(replace(one, is_first=number == 0))
    return found


def _groups(needs: Sequence[_Needs], room: float, most: int) -> list[list[_Needs]]:
    groups: list[list[_Needs]] = [[]]
    for need in needs:
        group = groups[-1]
        is_noon = bool(group) and group[-1].slot in _MORNING and need.slot not in _MORNING
        is_full = sum(other.width for other in group) + need.width > room or len(group) >= most
        if group and (is_noon or is_full):
            groups.append([])
        groups[-1].append(need)
    return groups


def _needs(content: GridContent) -> list[_Needs]:
    faces, size = content.faces, content.size
    slots = content.grid.slots
    seen: dict[Slot, set[Cell]] = {slot: set() for slot in slots}
    times: dict[Slot, float] = dict.fromkeys(slots, 0.0)
    for row in content.rows:
        for slot, slot_cell in row.cells.items():
            seen[slot].add(slot_cell.cell)
            if slot_cell.time is not None and slot_cell.time.width > times[slot]:
                times[slot] = slot_cell.time.width
    foot = foot_rows(content)
    found = []
    for slot in slots:
        head = tuple(slot_column(slot))
        digits = max(cell.value_width for cell in seen[slot])
        tail = max(cell.width - cell.value_width for cell in seen[slot])
        widest = max(
            digits + tail,
            times[slot],
            *(faces.width(text, size, bold=True) for text in head),
            *(faces.width(of_slot.get(slot, ""), size) for _name, of_slot in foot),
        )
        found.append(_Needs(slot, head, digits, tail, widest + _GUTTER))
    return found


def _layout(
    needs: Sequence[_Needs],
    days: float,
    last: float,
    room: float,
    space: float,
    *,
    is_sideways: bool,
) -> Layout:
    spare = room - days - last - sum(need.width for need in needs)
    spread = min(_MOST_SPREAD, spare / len(needs)) if needs else 0.0
    x = MARGIN
    columns = [Column(None, (_("Day"), ""), x, days, is_left_aligned=True)]
    x += days
    for need in needs:
        width = need.width + spread
        middle = x + width / 2
        # Digits stand in the middle unless what follows them needs the room.
        digits_right = min(middle + need.digits / 2, x + width - _GUTTER / 2 - need.tail)
        columns.append(Column(need.slot, need.head, x, width, digits_right))
        x += width
    if last:
        head = (_("Other checks,"), _("what happened"))
        columns.append(Column(None, head, x + 6, MARGIN + room - x - 6, is_left_aligned=True))
    return Layout(tuple(columns), MARGIN, MARGIN + room, is_sideways, space)
