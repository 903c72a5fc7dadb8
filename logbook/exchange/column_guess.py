"""Which column of a file is what: told from its heading and from what stands in it."""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import date, datetime, time

from logbook.exchange import known_words
from logbook.exchange.first_look import FirstLook
from logbook.exchange.pattern_guess import ENOUGH, dates_written, moments_written, times_written

_NUMBER = re.compile(r"[0-9]{1,4}(?:[.,][0-9]{1,3})?", re.ASCII)
_CELLS = 300
# Of times of day there are few; a column with more different texts is a note.
_MOST_WORDS = 40
_ENOUGH_WHERE_SAID = 0.5


def guess_columns(look: FirstLook) -> tuple[str, ...]:
    """For each column one of `layout.COLUMNS`, or an empty text where nothing fits."""
    columns = [_Column(look, place) for place in range(look.column_count)]
    found = [""] * len(columns)

    def give(name: str, scores: Sequence[float]) -> bool:
        free = [place for place, taken in enumerate(found) if not taken and scores[place] > 0]
        if not free:
            return False
        found[max(free, key=lambda place: scores[place])] = name
        return True

    days = [one.day_score for one in columns]
    clocks = [one.clock_score for one in columns]
    together = [one.moment_score for one in columns]
    if (max(days, default=0) > 0 and max(clocks, default=0) > 0) or not give("moment", together):
        give("date", days)
        give("time", clocks)
    give("unit", [one.unit_score for one in columns])
    give("slot", [one.slot_score for one in columns])
    give("kind", [one.kind_score for one in columns])
    give("minutes_after", [one.numbers_named("minutes_after") for one in columns])
    give("value", [one.value_score for one in columns])
    give("site", [one.named("site") for one in columns])
    give("note", [one.note_score for one in columns])
    return tuple(found)


class _Column:
    """One column, and how much speaks for each meaning (0 for not at all)."""

    def __init__(self, look: FirstLook, place: int) -> None:
        self.heading = look.headings[place] if look.has_header else ""
        rows = [row for row in look.rows if row.reason is None][:_CELLS]
        self.count = len(rows)
        self.typed = [row.moments[place] for row in rows if place in row.moments]
        self.cells = [
            row.fields[place].strip()
            for row in rows
            if place < len(row.fields) and place not in row.moments
        ]
        self.said = [cell for cell in self.cells if cell]
        self.words = {cell.casefold() for cell in self.said}

    def named(self, column: str) -> float:
        return float(known_words.heading_fit(self.heading, column))

    def _is_called(self, column: str) -> bool:
        return self.named(column) == 2

    def numbers_named(self, column: str) -> float:
        return self.named(column) if self._share_of_numbers >= ENOUGH else 0.0

    @property
    def _share_of_numbers(self) -> float:
        numbers = sum(_NUMBER.fullmatch(cell) is not None for cell in self.said)
        return numbers / len(self.said) if self.said else 0.0

    def _share_typed(self, *kinds: type) -> float:
        fitting = sum(type(one) in kinds for one in self.typed)
        return fitting / self.count if self.count else 0.0

    @property
    def _has_clock(self) -> bool:
        return any(isinstance(one, datetime) and one.time() != time(0) for one in self.typed)

    @property
    def day_score(self) -> float:
        if self._share_typed(date) >= 0.5:
            return 2 + self.named("date")
        if self._share_typed(datetime) >= 0.5 and not self._has_clock:
            return 2 + self.named("date")
        if not self._is_full or dates_written(self.cells, is_said=self._is_called("date")) is None:
            return 0
        return 1 + self.named("date")

    @property
    def clock_score(self) -> float:
        if self._share_typed(time) >= 0.5:
            return 2 + self.named("time")
        if not self._is_full or times_written(self.cells, is_said=self._is_called("time")) is None:
            return 0
        return 1 + self.named("time")

    @property
    def moment_score(self) -> float:
        if self._share_typed(datetime) >= 0.5 and self._has_clock:
            return 2 + self.named("moment")
        if (
            not self._is_full
            or moments_written(self.cells, is_said=self._is_called("moment")) is None
        ):
            return 0
        return 1 + self.named("moment")

    @property
    def _is_full(self) -> bool:
        return len(self.said) * 2 >= max(self.count, 1)

    @property
    def unit_score(self) -> float:
        # A figure beside the unit is the value itself.
        units = sum(
            known_words.unit_named(cell) is not None and not any(c.isdigit() for c in cell)
            for cell in self.said
        )
        return float(bool(self.said) and units >= ENOUGH * len(self.said))

    @property
    def slot_score(self) -> float:
        if not self.said or len(self.words) > _MOST_WORDS or self._share_of_numbers >= 0.5:
            return 0
        known = sum(known_words.slot_named(cell) is not None for cell in self.said)
        share = known / len(self.said)
        if self.named("slot") == 2:
            return 1 + share
        return share if share >= 0.5 else 0

    @property
    def kind_score(self) -> float:
        if not self.said or len(self.words) > _MOST_WORDS or self._share_of_numbers >= 0.5:
            return 0
        told = sum(
            known_words.is_reading(cell) or known_words.is_control(cell) for cell in self.said
        )
        share = told / len(self.said)
        return share + self.named("kind") if share >= 0.3 else 0

    @property
    def value_score(self) -> float:
        if not self.said:
            return 0
        fitting = sum(
            _NUMBER.fullmatch(known_words.parted_from_unit(cell)[0]) is not None
            or known_words.reads_low(cell)
            or known_words.reads_high(cell)
            for cell in self.said
        )
        share = fitting / len(self.said)
        unit = known_words.unit_named(self.heading) is not None
        # A heading that says it leaves room for lines that are wrong.
        enough = _ENOUGH_WHERE_SAID if unit or self.named("value") == 2 else ENOUGH
        if share < enough or len(self.said) * 4 < self.count:
            return 0
        # Figures that all count up by one are the number of the line.
        if [str(n) for n in range(1, len(self.said) + 1)] == self.said and len(self.said) > 3:
            return 0
        return share + 2 * self.named("value") + 3 * unit + len(self.said) / max(self.count, 1)

    @property
    def note_score(self) -> float:
        if self.named("note"):
            return 1 + self.named("note")
        return 0
