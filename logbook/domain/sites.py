"""Where the drop of blood came from: hands, fingers, sides, and the other places.

Which site is next, how long each has rested and how evenly they share the work is in `rotation`.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from logbook.domain.errors import LogbookError


class Hand(StrEnum):
    """The person's left or right."""

    LEFT = "left"
    RIGHT = "right"

    @property
    def other(self) -> Hand:
        """The hand that this one is not."""
        return Hand.RIGHT if self is Hand.LEFT else Hand.LEFT


class Place(StrEnum):
    """The five fingers in order from the thumb, then places that some meters allow."""

    THUMB = "thumb"
    INDEX = "index"
    MIDDLE = "middle"
    RING = "ring"
    LITTLE = "little"
    PALM = "palm"
    FOREARM = "forearm"
    THIGH = "thigh"

    @property
    def is_finger(self) -> bool:
        """A fingertip; the rest are other sites, used only if turned on."""
        return self in FINGERS


FINGERS = (Place.THUMB, Place.INDEX, Place.MIDDLE, Place.RING, Place.LITTLE)
OTHER_PLACES = (Place.PALM, Place.FOREARM, Place.THIGH)


class Side(StrEnum):
    """Which side of a fingertip.

    The inner edge of the thumb is its little-finger side, the inner edge of the little finger its
    thumb side; the words for that are in `logbook.wording`.
    """

    THUMB_SIDE = "thumb_side"
    LITTLE_FINGER_SIDE = "little_finger_side"


SIDES = (Side.THUMB_SIDE, Side.LITTLE_FINGER_SIDE)


class SiteUse(StrEnum):
    """How the site is known: touched or confirmed, only suggested, or not noted at all."""

    USED = "used"
    SUGGESTED = "suggested"
    NOT_NOTED = "not_noted"


@dataclass(frozen=True, slots=True)
class Site:
    """One place to prick. Fingers have a side (None when it was not told), other places none."""

    hand: Hand
    place: Place
    side: Side | None = None

    @property
    def code(self) -> str:
        """A short text for files and tables: `right.ring.thumb_side`, `left.palm`."""
        return ".".join(filter(None, (self.hand, self.place, self.side)))

    @classmethod
    def from_code(cls, code: str) -> Site:
        """The site of a `code`. Raises `LogbookError` when it is not one."""
        hand, _, rest = code.partition(".")
        place, _, side = rest.partition(".")
        try:
            return cls(Hand(hand), Place(place), Side(side) if side else None)
        except ValueError as error:
            raise LogbookError(code) from error
