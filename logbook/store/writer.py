"""What a person can do to an open log, as changes: one durable transaction each."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import datetime
from pathlib import Path
from uuid import UUID

from sqlalchemy import Connection, Engine

from logbook.domain.actions import Action, Changed, Done, Record
from logbook.domain.bringing_in import NOTHING, BroughtIn
from logbook.domain.readings import Reading
from logbook.domain.settings import LogSettings
from logbook.store import steps
from logbook.store.another_copy import another_copy
from logbook.store.changes import Step, Told, Written
from logbook.store.copies import Occasion
from logbook.store.engine import reading
from logbook.store.history import describe, describe_steps
from logbook.store.lines import Header
from logbook.store.log_store import LogStore
from logbook.store.merging import bringing, settling
from logbook.store.records import KIND_OF_TYPE
from logbook.store.tables import ChangeKind


class Writer:
    """Writes into one open log, and tells what was done."""

    def __init__(self, store: LogStore, clock: Callable[[], datetime]) -> None:
        self._store = store
        self._clock = clock

    def add(self, records: Sequence[Record]) -> Changed:
        """Keep new records."""
        return self._write(Action.ADD, lambda _: steps.adding(records))

    def replace(self, records: Sequence[Record]) -> Changed:
        """Keep new versions of records."""
        return self._write(Action.REPLACE, lambda c: steps.replacing(c, records))

    def keep(self, records: Sequence[Record]) -> Changed:
        """Keep new records and new versions of others, as one action."""
        return self._write(Action.ADD, lambda c: steps.keeping(c, records))

    def alter(
        self, action: Action, reading_id: UUID, alter: Callable[[Reading], Reading]
    ) -> Changed:
        """Keep what `alter` makes of a reading."""
        return self._write(action, lambda c: steps.altering(c, reading_id, alter))

    def save_settings(self, settings: LogSettings) -> Changed:
        """Keep the settings that differ."""
        return self._write(Action.SETTINGS, lambda c: steps.setting(c, settings))

    def take_in(self, records: Sequence[Record], name: str, told: Told | None = None) -> Changed:
        """Keep many records as one action, after a checked copy of what was there before."""
        if records:
            self._store.make_copy(Occasion.IMPORT)
        return self._write(Action.IMPORT, lambda _: steps.adding(records), name, told)

    def bring_in(self, other: Path) -> tuple[Changed, BroughtIn]:
        """Bring another copy of the log in as one action, after a checked copy of what was there.

        Nothing is written, and no copy made, when everything in it is here already.
        """
        brought = NOTHING
        with another_copy(other, self._store.path, self._store.log_id) as engine:

            def steps_of(connection: Connection) -> Sequence[Step]:
                nonlocal brought
                found = bringing(connection, engine)
                brought = found.brought
                return found.steps

            if not self._would_bring(engine).is_nothing:
                self._store.make_copy(Occasion.IMPORT)
            changed = self._write(Action.MERGE, steps_of, other.name)
        return changed, brought

    def look_at(self, other: Path) -> BroughtIn:
        """What `bring_in` would bring. Alters nothing."""
        with another_copy(other, self._store.path, self._store.log_id) as engine:
            return self._would_bring(engine)

    def _would_bring(self, engine: Engine) -> BroughtIn:
        with reading(self._store.engine) as connection:
            return bringing(connection, engine).brought

    def settle(self, disagreement_id: UUID, *, take_other: bool) -> Changed:
        """Keep the person's choice between two versions."""
        at = self._clock()
        return self._write(
            Action.REPLACE, lambda c: settling(c, disagreement_id, at, take_other=take_other)
        )

    def erase_words(self, record: Record) -> Changed:
        """Erase a record's words for good."""
        kind = KIND_OF_TYPE[type(record)]
        header = self._store.erase_words(kind, str(kind.stored(record)[kind.key]))
        sequence = self._store.last_sequence() if header is None else header.sequence
        done = Done(Action.ERASE, sequence, self._clock(), None, None, 0)
        return Changed(done, frozenset() if header is None else frozenset({type(record)}))

    def undo(self) -> Changed:
        """Take the last action back. Raises `NothingToUndo`."""
        return self._changed(self._store.undo())

    def put_back(self) -> Changed:
        """Put back what the last undo took. Raises `NothingToUndo`."""
        return self._changed(self._store.put_back())

    @property
    def undoable(self) -> Done | None:
        """The action that `undo` would take back."""
        return self._describe(self._store.undo_state().undoable)

    @property
    def restorable(self) -> Done | None:
        """The action that `put_back` would put back."""
        return self._describe(self._store.undo_state().restorable)

    def _write(
        self,
        action: Action,
        steps_of: Callable[[Connection], Sequence[Step]],
        name: str = "",
        told: Told | None = None,
    ) -> Changed:
        written = self._store.write(ChangeKind(action.value), steps_of, name=name, told=told)
        if written is None:
            done = Done(action, self._store.last_sequence(), self._clock(), None, None, 0, name)
            return Changed(done, frozenset())
        return self._changed(written)

    def _changed(self, written: Written) -> Changed:
        with reading(self._store.engine) as connection:
            done = describe_steps(connection, written.header, written.steps)
        return Changed(done, frozenset(kind.record_type for kind in written.kinds))

    def _describe(self, header: Header | None) -> Done | None:
        if header is None:
            return None
        with reading(self._store.engine) as connection:
            return describe(connection, header)
