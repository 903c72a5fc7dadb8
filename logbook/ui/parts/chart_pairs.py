"""The picture of pairs: a line from each check to the one that belongs to it, group by group.

The groups stand side by side, the first check of each pair at the left and the second at the right.
A thick line leads from middle value to middle value.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtWidgets import QWidget

from logbook.domain.glucose import Unit
from logbook.domain.picture_scale import PlacedMarks, ValueScale, value_scale
from logbook.domain.states import State
from logbook.ui.parts.chart_frame import ChartFrame
from logbook.ui.parts.chart_labels import Label
from logbook.ui.theme import Look
from logbook.wording import _
from logbook.wording.numbers import unit_text

# Where the two checks stand in the width of a group.
_BEFORE, _AFTER = 0.25, 0.75


@dataclass(frozen=True, slots=True)
class DrawnPair:
    """Two checks in steps, each with its state."""

    before: int
    after: int
    state_before: State
    state_after: State


@dataclass(frozen=True, slots=True)
class DrawnGroup:
    """Pairs of one kind. `middle` are the two middle values in steps, None of too few pairs."""

    name: str
    before: str
    after: str
    pairs: Sequence[DrawnPair]
    middle: tuple[float, float] | None = None


class PairsChart(ChartFrame):
    """`show_groups` draws them."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        self._groups: Sequence[DrawnGroup] = ()
        self._unit = Unit.MG_DL
        super().__init__(look, _("Picture of checks before and after"), parent)

    def show_groups(self, groups: Sequence[DrawnGroup], unit: Unit) -> None:
        """Draw these groups, from left to right."""
        self._groups, self._unit = groups, unit
        self.draw()

    def paint(self) -> None:
        groups, unit = self._groups, self._unit
        if not groups:
            return
        steps = [
            one for group in groups for pair in group.pairs for one in (pair.before, pair.after)
        ]
        scale = value_scale(steps, unit, self.most_ticks())
        end = float(len(groups))
        self.use_range(0.0, end, scale)
        self.labels.use_room(self.plot_left(), self.plot_width(), 0.0, end)
        self.draw_value_lines(scale, unit, steps, 0.0, end)
        for place, group in enumerate(groups):
            if place:
                self.add_line((place, scale.least), (place, scale.most), "edge", 1, -24)
            self._draw_group(group, place)
        self._draw_ends(scale)
        labels = [
            Label(place, place + 1, group.name, is_centred=True)
            for place, group in enumerate(groups)
        ]
        self.labels.show_labels(unit_text(unit), labels)
        self._name_ends()

    def _draw_group(self, group: DrawnGroup, place: int) -> None:
        before, after = place + _BEFORE, place + _AFTER
        for pair in group.pairs:
            self.add_line((before, pair.before), (after, pair.after), "edge", 1, -4)
        if group.middle is not None:
            first, second = group.middle
            self.add_line((before, first), (after, second), "ink", 6, 4)

    def _draw_ends(self, scale: ValueScale) -> None:
        by_state: dict[State, list[tuple[float, float]]] = {}
        for place, group in enumerate(self._groups):
            for pair in group.pairs:
                ends = (
                    (pair.state_before, place + _BEFORE, pair.before),
                    (pair.state_after, place + _AFTER, pair.after),
                )
                for state, x, steps in ends:
                    by_state.setdefault(state, []).append((x, scale.place(steps)))
        placed = []
        for state, together in by_state.items():
            xs, ys = zip(*together, strict=True)
            placed.append(PlacedMarks(state, xs, ys, 1))
        self.draw_marks(placed, self.mark_side())

    def _name_ends(self) -> None:
        """Which check stands where; left out where the words would run into each other."""
        ticks = []
        for place, group in enumerate(self._groups):
            ticks += [(place + _BEFORE, group.before), (place + _AFTER, group.after)]
        room = self.plot_width() / len(self._groups) / 2 - 8
        has_room = all(self.tick_text_width(text) <= room for _place, text in ticks)
        self.bottom_axis.setTicks([ticks if has_room else []])
