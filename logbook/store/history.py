"""Changes told as actions of the person: what was done, to which record, and what it was before."""

from __future__ import annotations

from collections.abc import Sequence

from sqlalchemy import Connection

from logbook.domain.actions import Action, Done, Record
from logbook.domain.errors import DamagedLog
from logbook.domain.settings import LogSettings
from logbook.store.changes import (
    Step,
    find_change,
    read_record_values,
    read_steps,
    step_of,
)
from logbook.store.engine import log_of
from logbook.store.lines import Header
from logbook.store.records import SETTING, Stored
from logbook.store.setting_rows import settings_from_rows, settings_to_rows
from logbook.store.small_records import settings_in
from logbook.store.tables import ChangeKind

# A sentence names one record. Of a change with more than these only the first is read, unverified:
# the sentence for an import says how many there were, and no value.
_VERIFIED_UP_TO = 100


def describe(connection: Connection, header: Header) -> Done:
    """The action that a change was."""
    try:
        if header.count <= _VERIFIED_UP_TO:
            steps: Sequence[Step] = read_steps(connection, header)
        else:
            steps = [_first_step(connection, header)]
    except DamagedLog:
        steps = ()
    return describe_steps(connection, header, steps)


def _first_step(connection: Connection, header: Header) -> Step:
    """The first step of a long change, as it stands there. Raises `DamagedLog` when it is none."""
    try:
        step = step_of(read_record_values(connection, header.sequence, limit=1)[0])
        for stored in (step.before, step.after):
            if stored is not None:
                step.kind.record(stored)
    except (LookupError, TypeError, ValueError) as error:
        raise DamagedLog(log_of(connection), why="change") from error
    return step


def describe_steps(connection: Connection, header: Header, steps: Sequence[Step]) -> Done:
    """The action that a change was, whose steps are known."""
    before, after = _first_record(connection, header, steps)
    return Done(
        Action(header.kind.value),
        header.sequence,
        header.instant,
        after,
        before,
        header.count,
        header.name,
        _taken(connection, header),
    )


def _taken(connection: Connection, header: Header) -> Done | None:
    if header.undoes is None:
        return None
    other = find_change(connection, header.undoes)
    if header.kind is ChangeKind.PUT_BACK and other.undoes is not None:
        other = find_change(connection, other.undoes)
    return describe(connection, other)


def _first_record(
    connection: Connection, header: Header, steps: Sequence[Step]
) -> tuple[Record | LogSettings | None, Record | LogSettings | None]:
    if not steps:
        return None, None
    if steps[0].kind is SETTING:
        now = settings_to_rows(settings_in(connection))
        said = [step for step in steps if step.kind is SETTING]
        return (
            _settings_with(now, [(step.key, step.before) for step in said]),
            _settings_with(now, [(step.key, step.after) for step in said]),
        )
    # An undo has the steps of what it took in reverse.
    first = steps[-1] if header.kind is ChangeKind.UNDO else steps[0]
    before, after = (
        None if stored is None else first.kind.record(stored)
        for stored in (first.before, first.after)
    )
    return before, after


def _settings_with(
    now: dict[str, Stored], said: Sequence[tuple[str, Stored | None]]
) -> LogSettings:
    values = {name: str(row["value"]) for name, row in now.items()}
    for name, stored in said:
        if stored is None:
            values.pop(name, None)
        else:
            values[name] = str(stored["value"])
    return settings_from_rows(values)
