"""Phrases: a few short words, drawn by chance, that lock a file for whoever does not have them.

The words are our own list of 1,024 in `resources/words`: of 4 to 8 letters, no two alike in their
first four letters or but for one letter, so that what was heard or read wrongly is noticed. Each
word, drawn evenly, is worth 10 bits.
"""

from __future__ import annotations

import re
import secrets
from functools import cache

from logbook.domain.errors import WrongPhrase
from logbook.resources import resource_path

WORDS_FOR_COPY = 7
"""70 bits, for a file that anybody who finds the stick can try for ever."""

WORDS_FOR_PDF = 5
"""50 bits, for a report whose words are told over the phone."""

_BETWEEN = re.compile(r"[\s\d.,;:\-–]+")
_PREFIX = 4


@cache
def phrase_words() -> tuple[str, ...]:
    """The words that phrases are made of, in the order of the alphabet."""
    text = resource_path("words", "phrase-words.txt").read_text(encoding="ascii")
    return tuple(text.split())


def make_phrase(count: int) -> str:
    """A new phrase of `count` words, with one space between them."""
    return " ".join(secrets.choice(phrase_words()) for _number in range(count))


def phrase_of(typed: str, count: int | None = None) -> str:
    """The phrase that a person typed: small letters, one space, without numbers and points.

    Raises `WrongPhrase` (why=empty, unknown_word, word_count) before any time is spent on trying.
    The fact `like` of an unknown word is the one with the same first letters, if there is one.
    """
    words = [word for word in _BETWEEN.split(typed.lower()) if word]
    if not words:
        raise WrongPhrase(why="empty")
    known = set(phrase_words())
    for number, word in enumerate(words, start=1):
        if word not in known:
            raise WrongPhrase(word, why="unknown_word", number=number, like=_like(word))
    if count is not None and len(words) != count:
        raise WrongPhrase(" ".join(words), why="word_count", typed=len(words), count=count)
    return " ".join(words)


def _like(word: str) -> str:
    return next((one for one in phrase_words() if one[:_PREFIX] == word[:_PREFIX]), "")
