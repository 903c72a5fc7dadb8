"""Text from a file or a path as one line that no terminal acts upon."""

from __future__ import annotations

_LONGEST_SHOWN = 100


def one_line(text: object) -> str:
    """The text on one line, with a dot for every sign that is not printed."""
    plain = str(text).replace("\t", "  ")
    return "".join(letter if letter.isprintable() else "·" for letter in plain)


def short_line(text: object) -> str:
    """`one_line`, shortened when it is very long."""
    line = one_line(str(text)[: 2 * _LONGEST_SHOWN])
    return line if len(line) <= _LONGEST_SHOWN else line[:_LONGEST_SHOWN] + "…"
