"""Texts as a file for others can hold them: without control characters and halves of signs."""

from __future__ import annotations

import re

# Tab, line feed and carriage return may stay; so may U+0085, which is a line end to some.
_UNUSABLE = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x84\x86-\x9f\ud800-\udfff\ufffe\uffff]")


def has_unusable_signs(text: str) -> bool:
    """Whether a text holds a sign that no file of text should."""
    return _UNUSABLE.search(text) is not None


def usable_text(text: str) -> str:
    """The text with a space for each such sign."""
    return _UNUSABLE.sub(" ", text)
