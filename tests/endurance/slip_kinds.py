"""What a finger does wrong: for each kind of slip, the keys that are pressed instead.

The kinds come from the literature on number entry (key bounce; numbers out by ten through a point
or a nought: Thimbleby and Cairns, J R Soc Interface 2010, read in abstract) and from notices about
meters whose unit was switched.
"""

from __future__ import annotations

import random
from collections.abc import Callable

from logbook.domain.glucose import Glucose, Unit

# The keys as they lie in the window, row by row; a key over two cells stands in both.
KEYPAD = {
    Unit.MG_DL: (
        ("1", "2", "3"),
        ("4", "5", "6"),
        ("7", "8", "9"),
        ("clear", "0", "back"),
    ),
    Unit.MMOL_L: (
        ("1", "2", "3", "back"),
        ("4", "5", "6", "back"),
        ("7", "8", "9", "clear"),
        ("0", "0", ".", "clear"),
    ),
}


def neighbours(key: str, unit: Unit) -> list[str]:
    """The keys above, below, left and right of one."""
    cells = {
        (row, column): name
        for row, names in enumerate(KEYPAD[unit])
        for column, name in enumerate(names)
    }
    beside = {
        cells[row + down, column + right]
        for (row, column), name in cells.items()
        if name == key
        for down, right in ((0, 1), (0, -1), (1, 0), (-1, 0))
        if (row + down, column + right) in cells
    }
    return sorted(beside - {key})


def _digit_places(text: str) -> list[int]:
    return [place for place, character in enumerate(text) if character.isdigit()]


def _tenfold(true: Glucose, chance: random.Random) -> str:
    return _shifted(true, 1, chance)


def _hundredfold(true: Glucose, chance: random.Random) -> str:
    return _shifted(true, 2, chance)


def _shifted(true: Glucose, places: int, chance: random.Random) -> str:
    assert true.value is not None
    shifted = true.value.scaleb(chance.choice((places, -places)))
    # A log in mg/dL has no point: what would stand behind it falls away.
    return str(int(shifted)) if true.unit is Unit.MG_DL else f"{shifted:f}"


def _lost_point(true: Glucose, chance: random.Random) -> str:
    return true.text.replace(".", "")


def _extra_point(true: Glucose, chance: random.Random) -> str:
    place = chance.randrange(1, len(true.text))
    return f"{true.text[:place]}.{true.text[place:]}"


def _extra_digit(true: Glucose, chance: random.Random) -> str:
    place = chance.randint(0, len(true.text))
    return f"{true.text[:place]}{chance.choice('0123456789')}{true.text[place:]}"


def _lost_digit(true: Glucose, chance: random.Random) -> str:
    place = chance.choice(_digit_places(true.text))
    return true.text[:place] + true.text[place + 1 :]


def _swapped(true: Glucose, chance: random.Random) -> str:
    digits = [true.text[place] for place in _digit_places(true.text)]
    first = chance.randrange(len(digits) - 1)
    digits[first], digits[first + 1] = digits[first + 1], digits[first]
    left = iter(digits)
    return "".join(next(left) if character.isdigit() else character for character in true.text)


def _bounced(true: Glucose, chance: random.Random) -> str:
    place = chance.randrange(len(true.text))
    return true.text[: place + 1] + true.text[place:]


def _other_unit(true: Glucose, chance: random.Random) -> str:
    # The keys of a log in mg/dL have no point: someone who reads 7.1 is left with 7.
    return true.shown_in(true.unit.other).text.split(".")[0]


def _other_unit_with_point(true: Glucose, chance: random.Random) -> str:
    return true.shown_in(true.unit.other).text


def _other_unit_point_left_out(true: Glucose, chance: random.Random) -> str:
    return true.shown_in(true.unit.other).text.replace(".", "")


_WAYS: dict[str, Callable[[Glucose, random.Random], str]] = {
    "ten times or a tenth": _tenfold,
    "a hundred times or a hundredth": _hundredfold,
    "point lost": _lost_point,
    "point too many or too early": _extra_point,
    "other unit": _other_unit,
    "other unit, 7.1 typed on a keyboard": _other_unit_with_point,
    "other unit and point left out, 71": _other_unit_point_left_out,
    "figure too many": _extra_digit,
    "figure lost": _lost_digit,
    "key bounced": _bounced,
    "figures swapped": _swapped,
}
_NEIGHBOUR = "neighbour key"
SLIPS = (*_WAYS, _NEIGHBOUR)


def typed_keys(kind: str, true: Glucose, chance: random.Random) -> list[str]:
    """The keys pressed by someone whose meter shows `true` and who slips in this way."""
    keys = list(true.text)
    if kind == _NEIGHBOUR:
        place = chance.choice(_digit_places(true.text))
        keys[place] = chance.choice(neighbours(keys[place], true.unit))
        return keys
    return list(_WAYS[kind](true, chance))
