"""One reading in the making: what is typed and chosen, and not saved yet."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import Enum
from uuid import UUID

from logbook.domain.glucose import Glucose, Kind, Unit
from logbook.domain.moments import Moment
from logbook.domain.readings import Difference, Feeling
from logbook.domain.sites import Site
from logbook.domain.slots import Slot

# "Now" is asked again when the first figure is older.
NOW_HOLDS = timedelta(minutes=10)
MOST_CHARACTERS = 6


class Typed(Enum):
    """What became of a typed character."""

    TAKEN = "taken"
    NO_ROOM = "no_room"
    NO_POINT = "no_point"  # the unit has no decimals


@dataclass(slots=True)
class Draft:
    """What the form holds.

    `at` is None for "now"; `is_when_told` is false while When has no answer. `site` is the finger
    that was touched or confirmed, None for the suggested one. `meter_id` is the meter that was
    chosen, None for the one in use. `asked` are the doubts that were asked about this number.
    """

    kind: Kind = Kind.NUMBER
    text: str = ""
    first_typed_at: datetime | None = None
    at: Moment | None = None
    is_when_told: bool = True
    slot: Slot | None = None
    is_slot_touched: bool = False
    minutes_after: int | None = None
    site: Site | None = None
    meter_id: UUID | None = None
    feelings: tuple[Feeling, ...] = ()
    differences: tuple[Difference, ...] = ()
    could_not_wash: bool = False
    note: str = ""
    asked: tuple[str, ...] = ()

    @property
    def is_empty(self) -> bool:
        """Whether no number, LO or HI is there."""
        return self.kind is Kind.NUMBER and not self.text

    @property
    def shown(self) -> str:
        """What the display shows: the figures typed so far, or LO or HI."""
        letters = {Kind.READS_LOW: "LO", Kind.READS_HIGH: "HI"}
        return letters.get(self.kind, self.text)

    def glucose(self, unit: Unit) -> Glucose:
        """The value as typed. Raises what `Glucose.parse` raises."""
        match self.kind:
            case Kind.READS_LOW:
                return Glucose.reads_low(unit)
            case Kind.READS_HIGH:
                return Glucose.reads_high(unit)
            case Kind.NUMBER:
                return Glucose.parse(self.text.removesuffix("."), unit)

    def type(self, character: str, unit: Unit, now: datetime) -> Typed:
        """Add a figure or the point, as a meter in `unit` would show it."""
        before = self.text if self.kind is Kind.NUMBER else ""
        whole, point, decimals = before.partition(".")
        if character == ".":
            if point or not whole or len(before) >= MOST_CHARACTERS:
                return Typed.NO_ROOM
            self.text, self.asked = before + character, ()
            # In mg/dL the point stays in sight and Save refuses it: dropped without a trace, 7.1
            # read from a meter in mmol/L would become 71.
            return Typed.TAKEN if unit.decimals else Typed.NO_POINT
        if len(before) >= MOST_CHARACTERS or len(decimals) >= unit.decimals > 0:
            return Typed.NO_ROOM
        if not before:
            self.first_typed_at = now
        self.kind, self.text, self.asked = Kind.NUMBER, before + character, ()
        return Typed.TAKEN

    def set_letters(self, kind: Kind, now: datetime) -> None:
        """The meter shows LO or HI."""
        self.kind, self.text, self.asked = kind, "", ()
        self.first_typed_at = now

    def take_back(self) -> None:
        """Take the last figure away; LO and HI as a whole."""
        text = self.text[:-1] if self.kind is Kind.NUMBER else ""
        self._set_number(text)

    def clear(self) -> None:
        """Take the number away; everything else stays."""
        self._set_number("")

    def is_old(self, now: datetime) -> bool:
        """Whether "now" is meant but the first figure is too old for that to be sure."""
        first = self.first_typed_at
        is_recent = first is None or timedelta(0) <= now - first <= NOW_HOLDS
        return self.at is None and not is_recent

    def _set_number(self, text: str) -> None:
        self.kind, self.text, self.asked = Kind.NUMBER, text, ()
        if not text:
            self.first_typed_at = None
            self.is_when_told = True
