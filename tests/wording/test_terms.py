"""Every code of the domain has a name, and no two codes of a kind share one."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from enum import Enum
from typing import Any

import pytest

from logbook.domain.answers import Asked, Said
from logbook.domain.glucose import Kind, Unit
from logbook.domain.happenings import StripFailure, What
from logbook.domain.kit.lancets import LancetChangeReason, LancetHabit
from logbook.domain.readings import Difference, Doubt, Feeling, Source
from logbook.domain.rotation import Reason, SiteNote
from logbook.domain.settings import HandsPricked, RotationHabit
from logbook.domain.sites import Hand, Place, SiteUse
from logbook.domain.slots import Purpose, Slot
from logbook.domain.spells import SpellKind
from logbook.domain.states import State
from logbook.domain.targets import SetBy, TargetKind, Verdict
from logbook.wording import numbers, sites, terms

TEXTS: list[tuple[type[Enum], Callable[[Any], str]]] = [
    (Slot, terms.slot_text),
    (Purpose, terms.purpose_text),
    (State, terms.state_text),
    (Verdict, terms.verdict_text),
    (Kind, terms.kind_text),
    (Source, terms.source_text),
    (Feeling, terms.feeling_text),
    (Difference, terms.difference_text),
    (Doubt, terms.doubt_text),
    (What, terms.what_text),
    (StripFailure, terms.strip_failure_text),
    (SpellKind, terms.spell_text),
    (Asked, terms.asked_text),
    (Said, terms.said_text),
    (RotationHabit, terms.rotation_habit_text),
    (HandsPricked, terms.hands_pricked_text),
    (LancetHabit, terms.lancet_habit_text),
    (LancetChangeReason, terms.lancet_reason_text),
    (TargetKind, terms.target_kind_text),
    (SetBy, terms.set_by_text),
    (Hand, sites.hand_text),
    (Place, sites.place_text),
    (SiteUse, sites.site_use_text),
    (Reason, sites.reason_text),
    (SiteNote, sites.note_text),
]


@pytest.mark.parametrize(("codes", "text"), TEXTS, ids=lambda each: getattr(each, "__name__", ""))
def test_every_code_has_a_name_of_its_own(
    codes: Iterable[Enum], text: Callable[[Any], str]
) -> None:
    names = [text(code) for code in codes]
    assert len(set(names)) == len(names)
    for name in names:
        assert name == name.strip()
        assert name[0].isupper()
        assert "_" not in name  # a code let through


def test_phrases_fit_into_a_sentence() -> None:
    for phrase in map(terms.slot_phrase, Slot):
        assert phrase[0].islower()
    assert len({terms.slot_phrase(slot) for slot in Slot}) == len(Slot)


def test_fasting_never_stands_without_before_breakfast() -> None:
    assert terms.slot_text(Slot.FASTING) == "Fasting (before breakfast)"
    assert terms.slot_phrase(Slot.FASTING) == "fasting (before breakfast)"
    assert terms.target_kind_text(TargetKind.FASTING) == "Fasting (before breakfast)"
    assert "breakfast" in " ".join(terms.slot_column(Slot.FASTING))


def test_column_heads_are_short_and_differ() -> None:
    heads = [terms.slot_column(slot) for slot in Slot]
    assert len(set(heads)) == len(heads)
    assert max(len(line) for head in heads for line in head) <= 9


def test_the_six_states_have_the_words_of_the_trade() -> None:
    assert [terms.state_text(state).lower() for state in State][:6] == [
        "very low",
        "low",
        "below target, not low",
        "in target",
        "above target",
        "very high",
    ]


def test_units_are_the_same_in_every_language() -> None:
    assert [numbers.unit_text(unit) for unit in Unit] == ["mg/dL", "mmol/L"]
