"""The table of times of day on page 1: checks, middle value, lowest to highest, in target, lows.

After a change of target or medicine with two weeks on either side, the figures stand in two
columns: before it, and from it on.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from logbook.domain.levels import LOW_BELOW
from logbook.domain.summary import SlotSummary, Summary
from logbook.report.contents import Contents
from logbook.report.document import Document, Page
from logbook.report.grid_words import day_in, lowest_highest_text, middle_value_text
from logbook.report.options import LEADING
from logbook.report.text import EMPTY, Block, baseline_below_top
from logbook.wording import _
from logbook.wording.numbers import NOTHING, count_of_text, number_text, steps_text, unit_text
from logbook.wording.terms import slot_text

_SlotText = Callable[[SlotSummary], str]


@dataclass(frozen=True, slots=True)
class _Column:
    """One column: its heads, its share of the width, a text for each row.

    Neighbours of one `group` stand under its name.
    """

    heads: tuple[str, str]
    texts: tuple[str, ...]
    share: float
    group: str = ""


@dataclass(frozen=True, slots=True)
class _Placed:
    """A column and where it lies."""

    column: _Column
    left: float
    right: float

    @property
    def middle(self) -> float:
        return (self.left + self.right) / 2


def slot_table(
    document: Document, contents: Contents, width: float, leading_share: float = LEADING
) -> Block:
    """The table; nothing at all when there is no reading. Leading in sizes of the letters."""
    summary = contents.summary
    if not summary.slots:
        return EMPTY
    names = [slot_text(part.slot) for part in summary.slots]
    columns = _columns(contents)
    size = document.print.table_size
    leading = size * leading_share
    below_top = baseline_below_top(size, leading_share)
    first_head = _("Values in {unit}").format(unit=unit_text(contents.unit))
    faces = document.faces
    first_width = 4 + max(
        faces.width(first_head, size, bold=True), *(faces.width(n, size) for n in names)
    )
    height = (2 + len(names)) * leading + 3

    def draw(page: Page, x: float, top: float) -> None:
        placed = _placed(columns, x + first_width, x + width)
        first, second = (top - line * leading - below_top for line in (0, 1))
        _draw_groups(page, placed, first, size)
        page.text(x, second, first_head, size, bold=True)
        for one in placed:
            for baseline, head in ((first, one.column.heads[0]), (second, one.column.heads[1])):
                page.text_middle(one.middle, baseline, head, size, bold=True)
        page.rule(x, top - 2 * leading - 1, x + width, line=1.0)
        for row, name in enumerate(names):
            under = top - 2 - (3 + row) * leading
            baseline = under + leading - below_top
            page.text(x, baseline, name, size)
            for one in placed:
                page.text_middle(one.middle, baseline, one.column.texts[row], size)
            if row < len(names) - 1:
                page.rule(x, under, x + width, line=0.4, grey=0.7)
        page.rule(x, top - height + 1, x + width, line=1.0)

    return Block(height, draw)


def _placed(columns: Sequence[_Column], left: float, right: float) -> list[_Placed]:
    total = sum(column.share for column in columns)
    room = right - left
    placed = []
    for column in columns:
        wide = room * column.share / total
        placed.append(_Placed(column, left, left + wide))
        left += wide
    return placed


def _draw_groups(page: Page, placed: Sequence[_Placed], baseline: float, size: float) -> None:
    for group in dict.fromkeys(one.column.group for one in placed if one.column.group):
        members = [one for one in placed if one.column.group == group]
        left, right = members[0].left + 3, members[-1].right - 3
        page.text_middle((left + right) / 2, baseline, group, size, bold=True)
        page.rule(left, baseline - 0.28 * size, right, line=0.6)


def _columns(contents: Contents) -> list[_Column]:
    split = contents.review.compared.split
    if split is None:
        return _whole_columns(contents)
    shown = day_in(contents.period, split.day)
    return [
        *_side_columns(contents, split.before, _("Before {day}").format(day=shown)),
        *_side_columns(contents, split.after, _("From {day}").format(day=shown)),
        *_shared_columns(contents),
    ]


def _whole_columns(contents: Contents) -> list[_Column]:
    slots = contents.summary.slots
    return [
        _Column(("", _("Checks")), _texts(slots, _checks), 1.0),
        _Column((_("Middle"), _("value")), _texts(slots, middle_value_text), 1.0),
        *_range_column(contents, 1.3),
        *_target_column(slots),
        *_lows_column(contents),
    ]


def _target_column(slots: Sequence[SlotSummary]) -> list[_Column]:
    """Nothing when no reading was held against a target."""
    if not any(slot.judged for slot in slots):
        return []
    return [_Column((_("In"), _("target")), _texts(slots, _in_target), 1.3)]


def _side_columns(contents: Contents, part: Summary, title: str) -> list[_Column]:
    of_slots = [part.slot(slot.slot) for slot in contents.summary.slots]
    wanted: tuple[tuple[str, _SlotText, float], ...] = (
        (_("Checks"), _checks, 0.97),
        (_("Middle"), middle_value_text, 0.95),
        (_("In target"), _in_target, 1.15),
    )
    return [
        _Column(("", name), tuple(text(s) if s else NOTHING for s in of_slots), share, title)
        for name, text, share in wanted
    ]


def _shared_columns(contents: Contents) -> list[_Column]:
    return [*_range_column(contents, 1.1), *_lows_column(contents)]


def _range_column(contents: Contents, share: float) -> list[_Column]:
    texts = _texts(contents.summary.slots, lambda s: lowest_highest_text(s, contents.unit))
    return [_Column((_("Lowest–"), _("highest")), texts, share)]


def _lows_column(contents: Contents) -> list[_Column]:
    limit = steps_text(LOW_BELOW[contents.unit], contents.unit, with_unit=False)
    texts = _texts(contents.summary.slots, lambda s: number_text(s.low))
    return [_Column((_("Below"), limit), texts, 0.8)]


def _texts(slots: Iterable[SlotSummary], text: _SlotText) -> tuple[str, ...]:
    return tuple(text(slot) for slot in slots)


def _checks(summary: SlotSummary) -> str:
    return number_text(summary.count)


def _in_target(summary: SlotSummary) -> str:
    return count_of_text(summary.in_target, summary.judged) if summary.judged else NOTHING
