"""The drawn marks of paper, the same shapes as on screen: told apart without colour.

Paths, never characters of a font. Each function returns PDF operators for one mark.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache

from logbook.domain.states import State

# Control points that make a circle of four curves: 4/3 * (sqrt(2) - 1).
_CIRCLE = 0.5523


def circle(x: float, y: float, radius: float) -> str:
    """The path of a circle, not yet drawn."""
    r, c = radius, radius * _CIRCLE
    return (
        f"{x + r:.2f} {y:.2f} m "
        f"{x + r:.2f} {y + c:.2f} {x + c:.2f} {y + r:.2f} {x:.2f} {y + r:.2f} c "
        f"{x - c:.2f} {y + r:.2f} {x - r:.2f} {y + c:.2f} {x - r:.2f} {y:.2f} c "
        f"{x - r:.2f} {y - c:.2f} {x - c:.2f} {y - r:.2f} {x:.2f} {y - r:.2f} c "
        f"{x + c:.2f} {y - r:.2f} {x + r:.2f} {y - c:.2f} {x + r:.2f} {y:.2f} c h"
    )


def _triangle(x: float, y: float, radius: float, *, down: bool) -> str:
    tip = -radius if down else radius
    return (
        f"{x - radius:.2f} {y - tip * 0.8:.2f} m {x + radius:.2f} {y - tip * 0.8:.2f} l "
        f"{x:.2f} {y + tip:.2f} l h"
    )


def _ring(x: float, y: float, radius: float) -> str:
    return f"{circle(x, y, radius * 0.85)} S"


def _plain_dot(x: float, y: float, radius: float) -> str:
    return f"{circle(x, y, radius * 0.5)} f"


def _low(x: float, y: float, radius: float) -> str:
    return f"{_triangle(x, y, radius, down=True)} f"


def _very_low(x: float, y: float, radius: float) -> str:
    both = (_triangle(x + side * radius, y, radius, down=True) for side in (-1, 1))
    return f"{' '.join(both)} f"


def _below(x: float, y: float, radius: float) -> str:
    return f"{_triangle(x, y, radius, down=True)} S"


def _above(x: float, y: float, radius: float) -> str:
    return f"{_triangle(x, y, radius, down=False)} S"


def _very_high(x: float, y: float, radius: float) -> str:
    return f"{_triangle(x, y, radius, down=False)} f"


STATE_MARKS: dict[State, Callable[[float, float, float], str]] = {
    State.VERY_LOW: _very_low,
    State.LOW: _low,
    State.BELOW_TARGET: _below,
    State.IN_TARGET: _ring,
    State.ABOVE_TARGET: _above,
    State.VERY_HIGH: _very_high,
    State.NOT_JUDGED: _plain_dot,
}


def clock_mark(x: float, y: float, height: float) -> str:
    """A small clock whose lower left corner is at `x`, `y`: written down on a later day."""
    return f"q 1 0 0 1 {x:.2f} {y:.2f} cm {_clock(height)} Q"


def pencil_mark(x: float, y: float, height: float) -> str:
    """A small pencil, tip down and left: corrected later."""
    return f"q 1 0 0 1 {x:.2f} {y:.2f} cm {_pencil(height)} Q"


def diamond_mark(x: float, y: float, height: float) -> str:
    """A small hollow diamond: strips or control tests put the reading in question."""
    return f"q 1 0 0 1 {x:.2f} {y:.2f} cm {_diamond(height)} Q"


@lru_cache(maxsize=8)
def _clock(height: float) -> str:
    r = height / 2
    return (
        f"0.8 w {circle(r, r, r)} S "
        f"{r:.2f} {r * 1.7:.2f} m {r:.2f} {r:.2f} l {r * 1.55:.2f} {r:.2f} l S"
    )


@lru_cache(maxsize=8)
def _diamond(height: float) -> str:
    r = height / 2
    return f"0.9 w 0 {r:.2f} m {r:.2f} {height:.2f} l {height:.2f} {r:.2f} l {r:.2f} 0 l h S"


@lru_cache(maxsize=8)
def _pencil(height: float) -> str:
    h = height
    return (
        f"0.8 w 0 0 m {0.08 * h:.2f} {0.34 * h:.2f} l {0.68 * h:.2f} {0.94 * h:.2f} l "
        f"{0.94 * h:.2f} {0.68 * h:.2f} l {0.34 * h:.2f} {0.08 * h:.2f} l h S "
        f"0 0 m {0.06 * h:.2f} {0.22 * h:.2f} l {0.22 * h:.2f} {0.06 * h:.2f} l h f"
    )
