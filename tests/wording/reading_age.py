"""How many years of school a text needs, by the Flesch-Kincaid grade.

Kincaid, Fishburne, Rogers and Chissom, Navy Research Branch Report 8-75, 1975: 0.39 words a
sentence + 11.8 syllables a word - 15.59 (from memory). A grade of 6 is read at about 11. The
syllables are counted by rules of spelling, which is off by one in a few words either way.
"""

from __future__ import annotations

import re

HIGHEST_GRADE = 6.0


def syllables(word: str) -> int:
    """The syllables of an English word, at least one."""
    letters = re.sub(r"[^a-z]", "", word.lower())
    count = len(re.findall(r"[aeiouy]+", letters))
    is_silent = re.search(r"[^laeiouy]e$|[^tde]ed$|[^aeiouyszxcg]es$", letters)
    return max(1, count - bool(is_silent))


def grade(text: str) -> float:
    """The Flesch-Kincaid grade of a text."""
    sentences = [one for one in re.split(r"(?<=[.?!])\s+", text) if one]
    words = re.findall(r"[A-Za-z0-9']+", text)
    return (
        0.39 * len(words) / len(sentences) + 11.8 * sum(map(syllables, words)) / len(words) - 15.59
    )
