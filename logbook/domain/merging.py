"""Bringing two copies of one log together: which version of each record holds.

Two copies share their changes up to a point and then go their own ways. What is compared is each
record's past since then. The laws: bringing a copy in twice is bringing it in once; both copies
come to the same records, whichever takes in the other; and no version that somebody wrote last is
lost: it holds, or it is kept beside the one that holds.

A version is a text that stands for the whole record. What the texts say is not looked at here.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime
from enum import Enum, auto

from logbook.domain.disagreements import Disagreement
from logbook.domain.readings import Earlier, Reading

Key = tuple[str, str]
"""A record: the name of its kind and its id."""


@dataclass(frozen=True, slots=True)
class Version:
    """What a record became (None for taken back) and when (UTC)."""

    text: str | None
    at: datetime


@dataclass(frozen=True, slots=True)
class Past:
    """What became of one record since the two copies were one, oldest first; `base` is before."""

    base: str | None
    since: tuple[Version, ...] = ()

    @property
    def now(self) -> str | None:
        """What the record is now."""
        return self.since[-1].text if self.since else self.base

    def followed_by(self, version: Version) -> Past:
        """This past with one version more."""
        return replace(self, since=(*self.since, version))


@dataclass(frozen=True)
class Copy:
    """One of the two copies: the pasts of what changed in it, and what it holds side by side."""

    pasts: Mapping[Key, Past]
    disagreements: Iterable[Disagreement] = ()
    seen: Mapping[Key, frozenset[str]] = field(init=False)
    settled: Mapping[Key, frozenset[object]] = field(init=False)

    def __post_init__(self) -> None:
        seen: dict[Key, set[str]] = defaultdict(set)
        settled: dict[Key, set[object]] = defaultdict(set)
        for one in self.disagreements:
            about = (one.kind, one.about)
            seen[about] |= {one.kept, one.other}
            if one.settled_at is not None:
                settled[about].add(one.id)
        object.__setattr__(self, "seen", {key: frozenset(some) for key, some in seen.items()})
        object.__setattr__(self, "settled", {key: frozenset(some) for key, some in settled.items()})

    def has_been_at(self, key: Key, text: str | None) -> bool:
        """Whether the record was this here since the copies parted, or stands beside it."""
        past = self.pasts.get(key)
        if past is not None and any(version.text == text for version in past.since):
            return True
        return text in self.seen.get(key, frozenset())


@dataclass(frozen=True, slots=True)
class Merged:
    """What comes of it: `becomes` has our records that change, `apart` what is new side by side."""

    becomes: Mapping[Key, str | None]
    apart: tuple[Disagreement, ...]


class _Holds(Enum):
    OURS = auto()
    THEIRS = auto()
    BOTH_APART = auto()


Both = Callable[[Key, str, str, datetime], str]
"""Makes the version that holds of it and the other one; told since when it holds."""


def merge(
    ours: Copy, theirs: Copy, refers: Callable[[Key, str], Iterable[Key]], both: Both
) -> Merged:
    """What our records become when `theirs` is brought in.

    `refers` tells which records a version can't be without.
    """
    final: dict[Key, str | None] = {}
    apart: list[Disagreement] = []
    for key in sorted(ours.pasts.keys() | theirs.pasts.keys()):
        our_past, their_past = _pasts(ours, theirs, key)
        final[key] = our_past.now
        if our_past.now == their_past.now:
            continue
        match _which_holds(key, ours, theirs, our_past, their_past):
            case _Holds.THEIRS:
                final[key] = their_past.now
            case _Holds.BOTH_APART:
                final[key] = _keep_both(key, our_past, their_past, both, apart)
            case _Holds.OURS:
                pass
    _keep_what_is_referred_to(final, ours, theirs, refers)
    becomes = {key: text for key, text in final.items() if text != _pasts(ours, theirs, key)[0].now}
    there = {("disagreement", str(one.id)) for one in ours.disagreements}
    there |= {key for key, text in final.items() if text is not None}
    new = [one for one in apart if ("disagreement", str(one.id)) not in there]
    return Merged(becomes, tuple(sorted(new, key=lambda one: str(one.id))))


def _pasts(ours: Copy, theirs: Copy, key: Key) -> tuple[Past, Past]:
    """The record's past in both; where only one changed it, the other is where both were."""
    our_past, their_past = ours.pasts.get(key), theirs.pasts.get(key)
    if our_past is None:
        assert their_past is not None
        return Past(their_past.base), their_past
    return our_past, Past(our_past.base) if their_past is None else their_past


def _which_holds(key: Key, ours: Copy, theirs: Copy, our_past: Past, their_past: Past) -> _Holds:
    if not our_past.since:
        return _Holds.THEIRS
    if not their_past.since:
        return _Holds.OURS
    # Whoever has been at the other's version has gone on from there.
    ours_went_on = ours.has_been_at(key, their_past.now)
    theirs_went_on = theirs.has_been_at(key, our_past.now)
    if ours_went_on and theirs_went_on:
        # Both have been at both: a choice that the person made in one copy alone tells.
        chosen, chosen_there = (one.settled.get(key, frozenset()) for one in (ours, theirs))
        ours_went_on, theirs_went_on = chosen > chosen_there, chosen_there > chosen
    if ours_went_on != theirs_went_on:
        return _Holds.OURS if ours_went_on else _Holds.THEIRS
    if not ours_went_on:
        # Changed and changed back is not changed.
        if our_past.now == our_past.base:
            return _Holds.THEIRS
        if their_past.now == their_past.base:
            return _Holds.OURS
    return _Holds.BOTH_APART


def _keep_both(
    key: Key, our_past: Past, their_past: Past, both: Both, apart: list[Disagreement]
) -> str | None:
    """The version that holds: what is there before what was taken back, else the later one."""
    candidates = [past.since[-1] for past in (our_past, their_past)]
    there = [one for one in candidates if one.text is not None]
    if len(there) < len(candidates):
        return there[0].text if there else None
    other, kept = sorted(there, key=lambda one: (one.at, one.text))
    assert kept.text is not None
    assert other.text is not None
    apart.append(Disagreement.between(*key, kept.text, other.text))
    return both(key, kept.text, other.text, kept.at)


def _keep_what_is_referred_to(
    final: dict[Key, str | None],
    ours: Copy,
    theirs: Copy,
    refers: Callable[[Key, str], Iterable[Key]],
) -> None:
    """A record that one copy took back stays when a record of the other needs it."""
    waiting = [(key, text) for key, text in final.items() if text is not None]
    while waiting:
        for needed in refers(*waiting.pop()):
            if needed in final and final[needed] is None:
                for past in _pasts(ours, theirs, needed):
                    if past.now is not None:
                        final[needed] = past.now
                        waiting.append((needed, past.now))


def with_both_histories(kept: Reading, other: Reading, since: datetime) -> Reading:
    """`kept` with what both said earlier, and with what `other` says, as corrected at `since`."""
    earlier = {*kept.earlier, *other.earlier}
    if (kept.glucose, kept.at, kept.slot) != (other.glucose, other.at, other.slot):
        earlier.add(Earlier(other.glucose, other.at, other.slot, since))
    return replace(kept, earlier=tuple(sorted(earlier, key=_in_order)))


def _in_order(one: Earlier) -> tuple[object, ...]:
    return (
        one.corrected_at,
        one.at.instant,
        one.at.offset,
        one.at.zone,
        one.at.zone_assumed,
        one.glucose.unit,
        one.glucose.order_steps,
        one.glucose.written,
        one.slot,
        one.reason,
    )
