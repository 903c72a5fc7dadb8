"""Taking back and putting back: last in, first out, 50 deep, across restarts, and nothing lost."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from contextlib import closing
from dataclasses import replace
from pathlib import Path
from typing import Any
from uuid import UUID

import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import (
    RuleBasedStateMachine,
    initialize,
    invariant,
    precondition,
    rule,
    run_state_machine_as_test,
)

from logbook.book import Action, Book
from logbook.domain.errors import NothingToUndo
from logbook.domain.glucose import Glucose, Unit
from logbook.domain.kit.lancets import LancetChange
from logbook.domain.readings import Doubt, Reading
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Slot
from logbook.store.undo import DEPTH
from tests.store.records import Clock, make_log, make_reading, new_id
from tests.store.strategies import KEPT, log_settings, readings, records


def can_put_back(book: Book) -> bool:
    return book.restorable is not None


def test_actions_are_taken_back_in_reverse_across_restarts(tmp_path: Path) -> None:
    path = make_log(tmp_path / "a.logbook", *(make_reading(n) for n in range(1, 6)))
    for left in (4, 3, 2, 1, 0):
        with Book.open(path, Clock()) as book:
            assert book.undoable is not None
            assert book.undoable.record == make_reading(left + 1)
            changed = book.undo()
            assert changed.kinds == {Reading}
            assert changed.done.action is Action.UNDO
            assert changed.done.record is None
            assert changed.done.earlier == make_reading(left + 1)
            assert changed.done.of is not None
            assert changed.done.of.action is Action.ADD
            assert len(book.readings()) == left
    with Book.open(path, Clock()) as book:
        assert book.undoable is None
        with pytest.raises(NothingToUndo):
            book.undo()


def test_what_was_taken_back_is_put_back_across_restarts_until_the_next_action(
    tmp_path: Path,
) -> None:
    path = make_log(tmp_path / "a.logbook", *(make_reading(n) for n in range(1, 4)))
    with Book.open(path, Clock()) as book:
        book.undo()
        book.undo()
    for there in (2, 3):
        with Book.open(path, Clock()) as book:
            assert book.restorable is not None
            assert book.restorable.record == make_reading(there)
            done = book.put_back().done
            assert (done.action, done.record) == (Action.PUT_BACK, make_reading(there))
            assert done.of is not None
            assert done.of.action is Action.ADD
            assert len(book.readings()) == there
    with Book.open(path, Clock()) as book:
        assert not can_put_back(book)
        with pytest.raises(NothingToUndo):
            book.put_back()
        book.undo()
        assert can_put_back(book)
        book.add(make_reading(9))
        assert not can_put_back(book)
        with pytest.raises(NothingToUndo):
            book.put_back()


def test_the_last_fifty_actions_can_be_taken_back_and_no_more(tmp_path: Path) -> None:
    with Book.create(tmp_path / "a.logbook", LogSettings(), Clock()) as book:
        for number in range(1, 61):
            book.add(make_reading(number))
        for _ in range(DEPTH):
            book.undo()
        assert book.readings() == [make_reading(n) for n in range(1, 11)]
        assert book.undoable is None
        with pytest.raises(NothingToUndo):
            book.undo()
        for _ in range(DEPTH):
            book.put_back()
        assert book.readings() == [make_reading(n) for n in range(1, 61)]


def test_a_reading_taken_back_takes_its_lancet_along(tmp_path: Path) -> None:
    with Book.create(tmp_path / "a.logbook", LogSettings(), Clock()) as book:
        reading = make_reading(1)
        lancet = LancetChange(new_id(900), reading.at, reading.written_at)
        changed = book.add(reading, lancet)
        assert (changed.done.record, changed.done.count) == (reading, 2)
        assert changed.kinds == {Reading, LancetChange}
        done = book.undo().done
        assert (done.earlier, done.count) == (reading, 2)
        assert (book.readings(), book.lancet_changes()) == ([], [])
        assert book.put_back().done.record == reading
        assert (book.readings(), book.lancet_changes()) == ([reading], [lancet])


@pytest.mark.parametrize(
    "act",
    [
        lambda b, r: b.correct(r.id, Glucose.number(182, Unit.MG_DL), r.at, r.slot, "swapped"),
        lambda b, r: b.cross_out(r.id, "not mine"),
        lambda b, r: b.doubt(r.id, Doubt.STRIP),
        lambda b, r: b.replace(replace(r, note="after a walk")),
        lambda b, _: b.save_settings(replace(b.settings, person_name="Someone")),
        lambda b, _: b.take_in([make_reading(n) for n in range(10, 30)], "file.csv"),
    ],
    ids=["correct", "cross out", "doubt", "replace", "settings", "import"],
)
def test_every_action_is_taken_back_whole(
    tmp_path: Path, act: Callable[[Book, Reading], object]
) -> None:
    reading = make_reading(1)
    path = make_log(tmp_path / "a.logbook", reading)
    with Book.open(path, Clock()) as book:
        before = (book.readings(), book.settings)
        act(book, reading)
        after = (book.readings(), book.settings)
        assert after != before
        book.undo()
        assert (book.readings(), book.settings) == before
        book.put_back()
        assert (book.readings(), book.settings) == after
        assert book.check().is_sound


def content_of(path: Path) -> dict[str, Any]:
    """Every row of every table of records, and the sum of their digests."""
    with closing(sqlite3.connect(path)) as connection:
        names = [
            name
            for (name,) in connection.execute("SELECT name FROM sqlite_schema WHERE type = 'table'")
            if name not in ("changes", "change_records", "log", "alembic_version")
        ]
        rows: dict[str, Any] = {
            name: sorted(connection.execute(f"SELECT * FROM {name}").fetchall(), key=repr)
            for name in names
        }
        sequence, digest = connection.execute("SELECT last_sequence, digest FROM log").fetchone()
    rows["digests"] = (int.from_bytes(digest) - sequence) % 2**256
    return rows


class UndoWalk(RuleBasedStateMachine):
    """A random walk of actions, undo and put back, held against a list of what the log was."""

    folder: Path
    number = 0

    @initialize()
    def begin(self) -> None:
        type(self).number += 1
        self.path = self.folder / f"{self.number}.logbook"
        self.clock = Clock()
        self.book = Book.create(self.path, LogSettings(), self.clock)
        self.past: list[dict[str, Any]] = []  # what undo leads back to, oldest first
        self.future: list[dict[str, Any]] = []
        empty = content_of(self.path)
        self.book.add(*KEPT)
        self.past.append(empty)
        self.now = content_of(self.path)

    def did(self, kinds: frozenset[type]) -> None:
        if kinds:
            self.past.append(self.now)
            self.future.clear()
        self.now = content_of(self.path)
        assert not kinds or self.now != self.past[-1]

    def some_reading(self, which: int) -> UUID | None:
        found = self.book.readings()
        return found[which % len(found)].id if found else None

    @rule(record=records)
    def add(self, record: Any) -> None:
        self.did(self.book.add(record).kinds)

    @rule(which=st.integers(0, 50), steps=st.integers(10, 1000))
    def correct(self, which: int, steps: int) -> None:
        if (found := self.some_reading(which)) is not None:
            at = self.book.reading(found).at
            value = Glucose.number(steps, Unit.MG_DL)
            self.did(self.book.correct(found, value, at, Slot.NIGHT, "walk").kinds)

    @rule(which=st.integers(0, 50), action=st.sampled_from(["cross_out", "bring_back"]))
    def cross_out_or_bring_back(self, which: int, action: str) -> None:
        if (found := self.some_reading(which)) is not None:
            self.did(getattr(self.book, action)(found).kinds)

    @rule(which=st.integers(0, 50), doubt=st.none() | st.sampled_from(Doubt))
    def doubt(self, which: int, doubt: Doubt | None) -> None:
        if (found := self.some_reading(which)) is not None:
            self.did(self.book.doubt(found, doubt).kinds)

    @rule(other=log_settings)
    def save_settings(self, other: LogSettings) -> None:
        self.did(self.book.save_settings(other).kinds)

    @rule(many=st.lists(readings, min_size=1, max_size=4, unique_by=lambda r: r.id))
    def take_in(self, many: list[Reading]) -> None:
        self.did(self.book.take_in(many, "walk.csv").kinds)

    # What records refer to stays until the end of the walk.
    @precondition(lambda self: len(self.past) > 1)
    @rule()
    def undo(self) -> None:
        self.book.undo()
        self.future.append(self.now)
        expected = self.past.pop()
        self.now = content_of(self.path)
        assert self.now == expected

    @precondition(lambda self: self.future)
    @rule()
    def put_back(self) -> None:
        self.book.put_back()
        self.past.append(self.now)
        expected = self.future.pop()
        self.now = content_of(self.path)
        assert self.now == expected

    @rule()
    def restart(self) -> None:
        self.book.close()
        self.book = Book.open(self.path, self.clock)

    @invariant()
    def offers_what_is_possible(self) -> None:
        assert (self.book.undoable is not None) == bool(self.past)
        assert (self.book.restorable is not None) == bool(self.future)

    def teardown(self) -> None:
        if not hasattr(self, "book"):
            return
        try:
            first = self.past[0] if self.past else self.now
            while self.past:
                self.undo()
            assert content_of(self.path) == first
            assert self.book.check().is_sound
        finally:
            self.book.close()


def test_any_walk_taken_back_leads_to_the_first_state(tmp_path: Path) -> None:
    UndoWalk.folder = tmp_path
    run_state_machine_as_test(
        UndoWalk, settings=settings(max_examples=25, stateful_step_count=30, deadline=None)
    )
