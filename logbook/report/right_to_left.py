"""Hebrew and Arabic on paper: letters joined and put in the order in which they stand.

A line's right-to-left words are turned round and Arabic letters take the form they have beside
their neighbours. It is a plain reading of the Unicode bidirectional algorithm (UAX 9) for short
notes: one level, the line itself running from left to right.
"""

from __future__ import annotations

import unicodedata
from functools import cache

_ISOLATED, _FINAL, _INITIAL, _MEDIAL = "<isolated>", "<final>", "<initial>", "<medial>"
_RIGHT_TO_LEFT = frozenset({"R", "AL"})
_CARRIED = frozenset({"NSM", "EN", "AN", "ES", "ET", "CS", "WS", "ON", "BN"})
_NUMBER = frozenset({"EN", "AN"})
_MIRRORED = str.maketrans("()[]{}<>«»", ")(][}{><»«")


def visual_order(line: str) -> str:
    """The characters of `line` as they stand on the page from left to right."""
    if not any(unicodedata.bidirectional(c) in _RIGHT_TO_LEFT for c in line):
        return line
    pieces: list[str] = []
    position = 0
    while position < len(line):
        if unicodedata.bidirectional(line[position]) not in _RIGHT_TO_LEFT:
            pieces.append(line[position])
            position += 1
            continue
        end = _end_of_run(line, position)
        pieces.append(_turned(joined(line[position:end])))
        position = end
    return "".join(pieces)


def _end_of_run(line: str, start: int) -> int:
    """Where the run that begins at `start` ends: with its last right-to-left letter or number."""
    end = start + 1
    for index in range(start + 1, len(line)):
        kind = unicodedata.bidirectional(line[index])
        if kind in _RIGHT_TO_LEFT or kind in _NUMBER or (kind == "NSM" and end == index):
            end = index + 1
        elif kind not in _CARRIED:
            break
    return end


def _turned(run: str) -> str:
    """`run` from right to left, its numbers as they were and marks after their letters."""
    groups: list[str] = []
    for character in run:
        kind = unicodedata.bidirectional(character)
        follows = groups and (
            kind == "NSM"
            or (kind in _NUMBER and unicodedata.bidirectional(groups[-1][0]) in _NUMBER)
        )
        if follows:
            groups[-1] += character
        else:
            groups.append(character)
    return "".join(
        group if len(group) > 1 else group.translate(_MIRRORED) for group in reversed(groups)
    )


@cache
def _forms() -> dict[str, dict[str, str]]:
    """Arabic letters and their joined forms, out of the Unicode character database."""
    forms: dict[str, dict[str, str]] = {}
    for code in range(0xFE80, 0xFEF5):
        parts = unicodedata.decomposition(chr(code)).split()
        if len(parts) == 2:
            forms.setdefault(chr(int(parts[1], 16)), {})[parts[0]] = chr(code)
    return forms


def joined(run: str) -> str:
    """`run`, in reading order, with each Arabic letter in the form its neighbours give it."""
    forms = _forms()
    letters = [i for i, c in enumerate(run) if unicodedata.category(c) != "Mn"]
    out = list(run)
    for place, index in enumerate(letters):
        own = forms.get(run[index])
        if own is None:
            continue
        before = run[letters[place - 1]] if place else ""
        after = run[letters[place + 1]] if place + 1 < len(letters) else ""
        joins_before = _INITIAL in forms.get(before, {}) and _FINAL in own
        joins_after = _INITIAL in own and _FINAL in forms.get(after, {})
        wanted = {
            (True, True): _MEDIAL,
            (True, False): _FINAL,
            (False, True): _INITIAL,
            (False, False): _ISOLATED,
        }[joins_before, joins_after]
        out[index] = own.get(wanted, own.get(_ISOLATED, run[index]))
    return "".join(out)
