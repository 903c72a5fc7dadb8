"""The pairs of *Look back* by meal, and those of the nights, each with its figures."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from logbook.domain.figures import Figures, figures_of_readings
from logbook.domain.pairs import Changes, MealPair, OvernightPair, changes_of
from logbook.domain.slots import Slot
from logbook.ui.pages.look_back_looking import Looked
from logbook.wording.pairs import meal_text, night_text


@dataclass(frozen=True, slots=True)
class _Pair:
    """One pair, of a meal or a night: the places of its two checks and what lies between."""

    day: date
    first: int
    second: int
    change: int


@dataclass(frozen=True, slots=True)
class PairGroup:
    """The pairs of one meal, or of the nights (`slot` is None), oldest first."""

    slot: Slot | None
    pairs: tuple[_Pair, ...]
    first: Figures
    second: Figures
    changes: Changes

    @property
    def name(self) -> str:
        """The meal, or the night."""
        return night_text() if self.slot is None else meal_text(self.slot)


def groups_of(looked: Looked) -> list[PairGroup]:
    """Each meal of which there are pairs, in the order of the day, then the nights."""
    found = [
        (slot, tuple(_of_meal(pair) for pair in looked.meals if pair.slot is slot))
        for slot in Slot
        if slot.is_after_meal
    ]
    groups: list[tuple[Slot | None, tuple[_Pair, ...]]] = [*found]
    groups.append((None, tuple(_of_night(pair) for pair in looked.nights)))
    unit = looked.settings.unit
    return [
        PairGroup(
            slot,
            pairs,
            figures_of_readings(looked.series, [pair.first for pair in pairs], unit),
            figures_of_readings(looked.series, [pair.second for pair in pairs], unit),
            changes_of(pair.change for pair in pairs),
        )
        for slot, pairs in groups
        if pairs
    ]


def _of_meal(pair: MealPair) -> _Pair:
    return _Pair(pair.day, pair.before, pair.after, pair.rise)


def _of_night(pair: OvernightPair) -> _Pair:
    return _Pair(pair.day, pair.bedtime, pair.fasting, pair.change)
