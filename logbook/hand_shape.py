"""The shape of a hand as numbers, for window and paper: palms up, as one looks at one's own.

The left hand lies in a square of side 1, x to the right and y down; the right hand is its mirror
image. Our own drawing; no source.
"""

from __future__ import annotations

from logbook.domain.sites import Hand, Place

# From where each finger grows, and where its tip is.
GROWN_FROM = {
    Place.THUMB: (0.36, 0.90),
    Place.INDEX: (0.38, 0.66),
    Place.MIDDLE: (0.50, 0.64),
    Place.RING: (0.61, 0.66),
    Place.LITTLE: (0.71, 0.72),
}
TIPS = {
    Place.THUMB: (0.10, 0.61),
    Place.INDEX: (0.275, 0.23),
    Place.MIDDLE: (0.485, 0.10),
    Place.RING: (0.695, 0.16),
    Place.LITTLE: (0.90, 0.35),
}
THICKNESS = {
    Place.THUMB: 0.135,
    Place.INDEX: 0.115,
    Place.MIDDLE: 0.115,
    Place.RING: 0.115,
    Place.LITTLE: 0.105,
}

# Left, top, width and height of the palm, and how round its corners are.
PALM = (0.315, 0.58, 0.455, 0.52)
PALM_ROUND = 0.17

# Start, bend and end of each line of the palm.
CREASES = (
    ((0.36, 0.75), (0.50, 0.83), (0.72, 0.78)),
    ((0.38, 0.82), (0.50, 0.88), (0.66, 0.90)),
    ((0.42, 0.80), (0.54, 0.92), (0.50, 1.06)),
)

HAND_HEIGHT = 1.14


def mirrored(hand: Hand, x: float) -> float:
    """How far across a point of the left hand's square lies in the square of this hand."""
    return x if hand is Hand.LEFT else 1 - x
