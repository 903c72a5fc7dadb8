"""What a sentence for a person may look like: how long, and without which words."""

from __future__ import annotations

import re
from collections.abc import Iterator

LONGEST_SENTENCE = 20

# Nobody is blamed, nobody is begged, and nothing shouts.
BANNED = re.compile(
    r"\b(invalid|illegal|please|sorry|errors?|failed code|oops|abort\w*|fatal|exception)\b|!",
    re.IGNORECASE,
)

_PLACEHOLDER = re.compile(r"\{\w*\}")


def sentences(text: str) -> list[str]:
    """The sentences of a text, each placeholder counted as one word."""
    return [s for s in re.split(r"(?<=[.?!])\s+|\n", _PLACEHOLDER.sub("X", text)) if s]


def faults(text: str) -> Iterator[str]:
    """What is wrong with a text, in words; nothing for a good one."""
    if not text.strip():
        yield "empty"
    for sentence in sentences(text):
        if len(sentence.split()) > LONGEST_SENTENCE:
            yield f"over {LONGEST_SENTENCE} words: {sentence}"
    if found := BANNED.search(_PLACEHOLDER.sub("X", text)):
        yield f"says {found[0]!r}: {text}"
    if "  " in text or text != text.strip():
        yield f"spaces: {text!r}"
