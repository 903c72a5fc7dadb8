"""The laws of bringing two copies together, on pasts without any file.

Expected outcomes of the single cases follow from the rules in `merging`; the laws are those of any
such joining: twice is once, either order gives the same, nothing that was written last is lost.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from itertools import count
from uuid import UUID

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from logbook.domain import merging
from logbook.domain.disagreements import Disagreement
from logbook.domain.merging import Copy, Key, Merged, Past, Version, merge

BEGIN = datetime(2026, 3, 1, tzinfo=UTC)
KEY: Key = ("note", "1")


def later(minutes: int) -> datetime:
    return BEGIN + timedelta(minutes=minutes)


def needs_nothing(_key: Key, _text: str) -> list[Key]:
    return []


def one_holds(_key: Key, kept: str, _other: str, _since: datetime) -> str:
    return kept


def past(base: str | None, *then: str | None, at: int = 0) -> Past:
    return Past(base, tuple(Version(text, later(at + n)) for n, text in enumerate(then)))


def merged(ours: Past | None, theirs: Past | None) -> Merged:
    first, second = ({} if one is None else {KEY: one} for one in (ours, theirs))
    return merge(Copy(first), Copy(second), needs_nothing, one_holds)


@pytest.mark.parametrize(
    ("ours", "theirs", "becomes"),
    [
        pytest.param(None, past(None, "new"), "new", id="written there"),
        pytest.param(past(None, "new"), None, None, id="written here"),
        pytest.param(None, past("a", "b"), "b", id="changed there"),
        pytest.param(past("a", "b"), past("a", "b", at=9), None, id="the same change in both"),
        pytest.param(past("a", "b", "c"), past("a", "b", at=9), None, id="here it went on"),
        pytest.param(past("a", "b"), past("a", "b", "c"), "c", id="there it went on"),
        pytest.param(past("a", "x", "a"), past("a", "b"), "b", id="changed back here"),
        pytest.param(past("a", "b"), past("a", "x", "a", at=9), None, id="changed back there"),
        pytest.param(past(None, "a"), past(None, "a", None), "taken back", id="taken back there"),
        pytest.param(past("a", "b"), past("a", None, at=9), None, id="taken back, changed here"),
        pytest.param(past("a", None), past("a", "b"), "b", id="taken back, changed there"),
    ],
)
def test_one_record(ours: Past | None, theirs: Past | None, becomes: str | None) -> None:
    found = merged(ours, theirs)
    assert found.apart == ()
    expected = {} if becomes is None else {KEY: None if becomes == "taken back" else becomes}
    assert found.becomes == expected


def test_changed_differently_in_both_the_later_holds_and_the_other_is_kept() -> None:
    ours, theirs = past("a", "here"), past("a", "there", at=9)
    for first, second, becomes in ((ours, theirs, {KEY: "there"}), (theirs, ours, {})):
        found = merged(first, second)
        assert found.becomes == becomes
        assert [(one.kept, one.other) for one in found.apart] == [("there", "here")]


def test_a_record_that_another_needs_is_not_taken_back() -> None:
    meter: Key = ("meter", "m")
    ours = Copy({KEY: past(None, "needs m")})
    theirs = Copy({meter: past("the meter", None)})

    def refers(_key: Key, text: str) -> list[Key]:
        return [meter] if text == "needs m" else []

    assert merge(ours, theirs, refers, one_holds).becomes == {}
    assert merge(theirs, ours, refers, one_holds).becomes == {KEY: "needs m", meter: "the meter"}


# --- random copies -------------------------------------------------------------------------------

_moments = count()


Deed = tuple[str, object, object]


@dataclass
class Log:
    """A log in memory: what each record is, and every change, as the store keeps them."""

    records: dict[Key, str] = field(default_factory=dict)
    changes: list[tuple[datetime, dict[Key, tuple[str | None, str | None]]]] = field(
        default_factory=list
    )

    def copied(self) -> Log:
        return Log(dict(self.records), list(self.changes))

    def change(self, becomes: Mapping[Key, str | None]) -> None:
        steps = {
            key: (self.records.get(key), text)
            for key, text in becomes.items()
            if self.records.get(key) != text
        }
        if steps:
            self.changes.append((later(next(_moments)), steps))
            for key, (_, text) in steps.items():
                if text is None:
                    del self.records[key]
                else:
                    self.records[key] = text

    def undo(self) -> None:
        if self.changes:
            self.change({key: before for key, (before, _) in self.changes[-1][1].items()})

    def disagreements(self) -> list[Disagreement]:
        return [_told(text) for (kind, _), text in self.records.items() if kind == "disagreement"]

    def settle(self, take_other: bool) -> None:
        for one in sorted(self.disagreements(), key=lambda one: str(one.id)):
            if one.settled_at is None:
                settled = Disagreement(
                    one.id, one.kind, one.about, one.kept, one.other, later(next(_moments))
                )
                becomes: dict[Key, str | None] = {("disagreement", str(one.id)): _text(settled)}
                self.change(becomes | ({(one.kind, one.about): one.other} if take_other else {}))
                return

    def bring_in(self, other: Log) -> Merged:
        shared = 0
        for ours, theirs in zip(self.changes, other.changes, strict=False):
            if ours is not theirs:
                break
            shared += 1
        found = merge(self._side(shared), other._side(shared), needs_nothing, _joined)
        new = {("disagreement", str(one.id)): _text(one) for one in found.apart}
        self.change({**found.becomes, **new})
        return found

    def _side(self, shared: int) -> Copy:
        pasts: dict[Key, Past] = {}
        for at, steps in self.changes[shared:]:
            for key, (before, after) in steps.items():
                one = pasts.get(key) or Past(before)
                pasts[key] = one.followed_by(Version(after, at))
        return Copy(pasts, self.disagreements())


def _text(one: Disagreement) -> str:
    at = None if one.settled_at is None else one.settled_at.isoformat()
    return json.dumps([str(one.id), one.kind, one.about, one.kept, one.other, at])


def _told(text: str) -> Disagreement:
    one_id, kind, about, kept, other, at = json.loads(text)
    when = None if at is None else datetime.fromisoformat(at)
    return Disagreement(UUID(one_id), kind, about, kept, other, when)


def _joined(key: Key, kept: str, other: str, _since: datetime) -> str:
    """As a reading: what holds, and beside it what the other said."""
    if key[0] != "reading":
        return kept
    value, *said = kept.split("|")
    other_value, *other_said = other.split("|")
    return "|".join([value, *sorted({*said, *other_said, other_value} - {value})])


_keys = st.sampled_from([("reading", "1"), ("reading", "2"), ("note", "3"), ("setting", "unit")])
_writing = st.tuples(st.just("write"), _keys, st.sampled_from("abcde"))
_deeds = st.one_of(
    _writing,
    _writing,
    st.tuples(st.just("undo"), st.none(), st.none()),
    st.tuples(st.just("settle"), st.booleans(), st.none()),
)
_in_two = st.lists(
    st.one_of(
        st.tuples(st.integers(0, 1), _deeds),
        st.tuples(st.integers(0, 1), st.just(("bring in", None, None))),
    ),
    max_size=12,
)


def _do(log: Log, other: Log, deed: Deed) -> None:
    match deed:
        case ("write", tuple() as key, str() as text):
            log.change({key: text})
        case ("undo", _, _):
            log.undo()
        case ("settle", bool() as take_other, _):
            log.settle(take_other)
        case _:
            log.bring_in(other.copied())


@given(st.lists(_deeds, max_size=4), _in_two)
@settings(max_examples=400)
def test_laws(before: list[Deed], then: list[tuple[int, Deed]]) -> None:
    one = Log()
    for deed in before:
        _do(one, one, deed)
    logs = (one, one.copied())
    for which, deed in then:
        _do(logs[which], logs[1 - which], deed)
    check_laws(*logs)


def check_laws(first: Log, second: Log) -> None:
    into_first, into_second = first.copied(), second.copied()
    found = into_first.bring_in(second)
    into_second.bring_in(first)

    assert into_first.records == into_second.records, "either order gives the same"
    again = into_first.copied()
    assert again.bring_in(second) == Merged({}, ()), "twice is once"
    assert again.bring_in(into_second) == Merged({}, ()), "then they are one"
    assert again.records == into_first.records
    _nothing_is_lost(first, second, into_first)
    _nothing_is_lost(second, first, into_first)
    assert into_first.changes[: len(first.changes)] == first.changes, "what was done stays done"
    assert all(first.records.get(key) != text for key, text in found.becomes.items())


@pytest.mark.parametrize("broken", ["ours always holds", "theirs always holds"])
def test_a_rule_that_favours_one_side_is_caught(
    broken: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The negative control: the laws tell a wrong rule."""
    holds = merging._Holds.OURS if broken.startswith("ours") else merging._Holds.THEIRS
    first = Log()
    first.change({KEY: "a"})
    second = first.copied()
    first.change({KEY: "b"})
    second.change({KEY: "c"})
    check_laws(first, second)
    monkeypatch.setattr(merging, "_which_holds", lambda *_: holds)
    with pytest.raises(AssertionError):
        check_laws(first, second)


@given(
    st.lists(_deeds, max_size=3),
    st.lists(
        st.tuples(
            st.integers(0, 2),
            st.one_of(_deeds, st.tuples(st.just("bring in"), st.integers(0, 2), st.none())),
        ),
        max_size=10,
    ),
)
@settings(max_examples=200)
def test_three_copies_come_to_the_same(before: list[Deed], then: list[tuple[int, Deed]]) -> None:
    one = Log()
    for deed in before:
        _do(one, one, deed)
    logs = [one, one.copied(), one.copied()]
    for which, deed in then:
        other = deed[1] if deed[0] == "bring in" else which
        assert isinstance(other, int)
        if deed[0] != "bring in" or other != which:
            _do(logs[which], logs[other], deed)
    home, *others = logs
    for _round in range(3):
        for other_log in others:
            home.bring_in(other_log.copied())
        for other_log in others:
            other_log.bring_in(home.copied())
    assert all(one.records == home.records for one in others)


def _nothing_is_lost(one: Log, other: Log, both: Log) -> None:
    """Every record of either copy is there, or beside, or the other copy went on from it."""
    beside = {(d.kind, d.about): {d.kept, d.other} for d in both.disagreements()}
    went_on = [
        (key, text)
        for _, steps in other.changes
        for key, versions in steps.items()
        for text in versions
    ]
    for key, text in one.records.items():
        now = both.records.get(key)
        kept = now == text or text in beside.get(key, set())
        kept = kept or (now is not None and text in now.split("|"))
        assert kept or (key, text) in went_on, (key, text)
