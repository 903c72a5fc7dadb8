"""What is said about findings: short, with a unit, never a cause, a dose or a change of treatment.

The limits of the words are the project's own rules for sentences.
"""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date
from uuid import UUID

import pytest

from logbook.domain.findings import Finding, FindingKind, PartOfDay, Rank, Side
from logbook.domain.glucose import Unit
from logbook.domain.readings import Difference
from logbook.domain.slots import Slot
from logbook.wording.findings import (
    finding_kind_text,
    finding_sentences,
    finding_title,
    provider_line,
)

_SOME = Finding(
    kind=FindingKind.HIGH,
    slot=Slot.FASTING,
    group=None,
    count=9,
    of=14,
    first=date(2026, 3, 4),
    last=date(2026, 3, 12),
    reading_ids=("a", "b"),
    happening_ids=(UUID(int=1),),
    is_recent=True,
    rank=Rank.BEFORE_MEALS,
    unit=Unit.MG_DL,
    middle=161.0,
    limit_steps=130,
    change=42.0,
    side=Side.HIGHER,
    difference=Difference.MEDICINE_MISSED,
)
_WITHOUT_SLOT = {
    FindingKind.LOW_HELPED,
    FindingKind.LOW_AT_NIGHT,
    FindingKind.LOW_UNAWARE,
    FindingKind.BEFORE_LOW,
}


_WHEN = "fasting (before breakfast)"


def _all() -> list[Finding]:
    """Each kind, as it is found, in all its ways of being said."""
    found = []
    for kind in FindingKind:
        some = replace(_SOME, kind=kind)
        if kind in _WITHOUT_SLOT:
            found += [replace(some, slot=None, count=count, helped=1) for count in (1, 3)]
        elif kind is FindingKind.DAY_GROUP:
            found += [
                replace(some, slot=slot, part=part, group=group, side=side)
                for slot in (None, Slot.FASTING)
                for part in PartOfDay
                for group in ("weekend", "dialysis")
                for side in Side
            ]
        else:
            slots = [None] if kind in (FindingKind.LOW_REPEATED, FindingKind.NEAR_LOW) else []
            found += [
                replace(some, slot=slot, side=side) for slot in (*slots, *Slot) for side in Side
            ]
    return found + [
        replace(one, is_recent=False, low_before_ids=("c",), unit=Unit.MMOL_L) for one in found
    ]


@pytest.mark.parametrize("finding", _all(), ids=lambda one: f"{one.kind}-{one.slot}-{one.group}")
def test_every_sentence_is_short_and_plain(finding: Finding) -> None:
    sentences = finding_sentences(finding)
    for sentence in (*sentences, finding_title(finding)):
        assert len(sentence.split()) <= 20
        assert not re.search(r"[!{}]|None|  | ,|\bplease\b|\bsorry\b|invalid|dose|median", sentence)
        assert sentence[0].isupper() or sentence[0].isdigit() or sentence[0] == "“"
    assert sentences[-1] == "Worth asking your provider about."
    line = provider_line(finding)
    assert not re.search(r"[!{}]|None|  |Worth|your", line)
    assert "latest Mar 12" in line
    assert finding_kind_text(finding.kind) in finding_title(finding)


def test_person_and_provider_read_different_words() -> None:
    assert finding_sentences(_SOME) == (
        f"9 of 14 checks {_WHEN} were above target; the middle value is 161 mg/dL.",
        "The latest was on March 12.",
        "Worth asking your provider about.",
    )
    assert provider_line(_SOME) == (
        "Fasting (before breakfast): above target in 9 of 14, middle value 161 mg/dL"
        " (limit 130 mg/dL); latest Mar 12"
    )


def test_what_was_earlier_is_said_to_be_earlier() -> None:
    old = replace(_SOME, kind=FindingKind.LOW_HELPED, slot=None, count=2, helped=2, is_recent=False)
    assert finding_sentences(old)[:2] == (
        "Someone had to help you with 2 lows.",
        "The latest was on March 12: earlier, not lately.",
    )
    assert provider_line(old).endswith("; latest Mar 12, not since")


def test_a_low_before_a_high_is_said_beside_it() -> None:
    high = replace(_SOME, low_before_ids=("c",))
    assert "There was a low in the 12 hours before some of these." in finding_sentences(high)
    assert "low within 12 h before some" in provider_line(high)


def test_what_chance_could_bring_says_so() -> None:
    group = replace(
        _SOME,
        kind=FindingKind.DAY_GROUP,
        slot=None,
        group="weekend",
        part=PartOfDay.WHOLE_DAY,
        count=8,
        of=28,
    )
    assert finding_sentences(group)[0] == (
        "At weekends, glucose is about 42 mg/dL higher than on other days (8 such days)."
    )
    assert "This can have many reasons, and chance is one of them." in finding_sentences(group)
    assert provider_line(group).startswith("Weekend (all day): +42 mg/dL against other days")


@pytest.mark.parametrize(
    ("count", "of", "sentence"),
    [
        (1, 1, "You did not feel a low coming."),
        (2, 2, "You did not feel any of 2 lows coming."),
        (1, 2, "You did not feel 1 of 2 lows coming."),
        (3, 12, "You did not feel 3 of 12 lows coming."),
    ],
)
def test_lows_that_were_not_felt_are_one_some_or_all(count: int, of: int, sentence: str) -> None:
    unfelt = replace(_SOME, kind=FindingKind.LOW_UNAWARE, slot=None, count=count, of=of)
    assert finding_sentences(unfelt)[0] == sentence
