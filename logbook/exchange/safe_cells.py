"""Cells of a table that no spreadsheet takes for a formula, and how they are read back."""

from __future__ import annotations

# A spreadsheet would take a cell that begins with one of these for a formula; the last four are
# their wide forms of East Asian keyboards (OWASP, "CSV injection", from memory).
_FORMULA_SIGNS = ("=", "+", "-", "@", "\uff1d", "\uff0b", "\uff0d", "\uff20")
_CONTROL_SIGNS = ("\t", "\r", "\n")


def formula_safe(text: str) -> str:
    """The text, with an apostrophe before it where a spreadsheet would calculate it.

    A text that has apostrophes there already gets one more, so that `formula_free` gives it back.
    """
    return f"'{text}" if _is_like_a_formula(text) else text


def formula_free(cell: str) -> str:
    """The text of a cell that `formula_safe` wrote."""
    return cell[1:] if cell.startswith("'") and _is_like_a_formula(cell[1:]) else cell


def _is_like_a_formula(text: str) -> bool:
    bare = text.lstrip("'")
    return bare.startswith(_CONTROL_SIGNS) or bare.lstrip().startswith(_FORMULA_SIGNS)
