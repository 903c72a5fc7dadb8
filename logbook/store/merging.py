"""Bringing in another copy of the log: the pasts of both, and the steps of what comes of them.

Which version of a record holds is told by `logbook.domain.merging`; here the changes of both are
read, from the last one that both have. Words erased in either copy stay erased.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from datetime import datetime
from uuid import UUID

from sqlalchemy import Connection, Engine, select

from logbook.domain.bringing_in import BroughtIn, SideBySide
from logbook.domain.disagreements import Disagreement
from logbook.domain.errors import NoSuchRecord
from logbook.domain.merging import Copy, Key, Merged, Past, Version, merge, with_both_histories
from logbook.domain.readings import Reading
from logbook.store import tables
from logbook.store.changes import Step, header_of, read_header, read_state
from logbook.store.engine import reading
from logbook.store.erased import Erasures
from logbook.store.lines import Header
from logbook.store.records import DISAGREEMENT, KINDS, READING, SETTING, RecordKind
from logbook.store.setting_rows import settings_from_rows, settings_to_rows
from logbook.store.small_records import read_stored, settings_in
from logbook.store.tables import ChangeKind
from logbook.store.verify import find_stored


@dataclass(frozen=True, slots=True)
class Bringing:
    """What another copy brings: the steps, and what they amount to."""

    steps: tuple[Step, ...]
    brought: BroughtIn


def bringing(ours: Connection, engine: Engine) -> Bringing:
    """What the other copy, open in `engine`, brings to our log. Alters nothing."""
    erased = Erasures()
    erased.read(ours)
    with reading(engine) as theirs:
        erased.read(theirs)
        last_in_both = _last_in_both(ours, theirs)
        their_side = _side(theirs, last_in_both, erased)
    our_side = _side(ours, last_in_both, erased)
    if erased:
        our_side = _with_present(our_side, their_side, ours)
    merged = merge(our_side, their_side, _needed_by, _both)
    steps = _steps(merged, our_side, their_side)
    return Bringing(steps, _brought(steps, merged))


# --- the pasts -----------------------------------------------------------------------------------


def _last_in_both(ours: Connection, theirs: Connection) -> int:
    """The sequence of the last change that both copies have; 0 for none.

    Told by their ids: where words were erased, the same change has another SHA-256.
    """
    least, most = 0, min(read_state(one).last_sequence for one in (ours, theirs))
    while least < most:
        middle = (least + most + 1) // 2
        if read_header(ours, middle).id == read_header(theirs, middle).id:
            least = middle
        else:
            most = middle - 1
    return least


def _side(connection: Connection, after: int, erased: Erasures) -> Copy:
    headers = _headers_after(connection, after)
    left_out = _taken_back_merges(headers)
    instants = {one.sequence: one.instant for one in headers if one.sequence not in left_out}
    r = tables.change_records.c
    pasts: dict[Key, Past] = {}
    for sequence, kind, record_id, before, then in connection.execute(
        select(r.sequence, r.kind, r.record_id, r.before, r.after)
        .where(r.sequence > after)
        .order_by(r.sequence, r.position)
    ):
        if sequence in instants:
            key = (kind, record_id)
            was, became = (erased.without(key, text) if text else None for text in (before, then))
            past = pasts.get(key) or Past(was)
            pasts[key] = past.followed_by(Version(became, instants[sequence]))
    disagreements = [
        _without_erased(DISAGREEMENT.record(stored), erased)
        for stored in read_stored(connection, DISAGREEMENT)
    ]
    return Copy(pasts, disagreements)


def _without_erased(one: Disagreement, erased: Erasures) -> Disagreement:
    about = (one.kind, one.about)
    kept, other = (erased.without(about, text) for text in (one.kept, one.other))
    return replace(one, kept=kept, other=other)


def _with_present(ours: Copy, theirs: Copy, connection: Connection) -> Copy:
    """Our side with every record of theirs as it is here: erasing left other words on each side."""
    pasts = dict(ours.pasts)
    for key in theirs.pasts.keys() - ours.pasts.keys():
        kind = KINDS[key[0]]
        with suppress(NoSuchRecord):
            pasts[key] = Past(kind.record_text(find_stored(connection, kind, key[1])))
    return Copy(pasts, ours.disagreements)


def _headers_after(connection: Connection, after: int) -> list[Header]:
    rows = connection.execute(
        select(*tables.changes.columns)
        .where(tables.changes.c.sequence > after)
        .order_by(tables.changes.c.sequence)
    )
    return [header_of(connection, row) for row in rows]


def _taken_back_merges(headers: Sequence[Header]) -> set[int]:
    """The changes from each merge that was taken back to the undo that did it, as if never done.

    Undo is last in, first out, so whatever lies between was taken back as well. Else what a person
    took back could not be brought in once more.
    """
    merges = {one.id: one for one in headers if one.kind is ChangeKind.MERGE}
    undone_by: dict[UUID, Header] = {}
    undo_of: dict[UUID, UUID] = {}
    for one in headers:
        if one.undoes is None:
            continue
        if one.kind is ChangeKind.UNDO:
            undo_of[one.id] = one.undoes
            undone_by[one.undoes] = one
        else:
            undone_by.pop(undo_of.get(one.undoes, one.undoes), None)
    left_out: set[int] = set()
    for merged_id, undo in undone_by.items():
        if merged_id in merges:
            left_out |= set(range(merges[merged_id].sequence, undo.sequence + 1))
    return left_out


# --- what comes of them --------------------------------------------------------------------------


def _steps(merged: Merged, ours: Copy, theirs: Copy) -> tuple[Step, ...]:
    steps = []
    for key, after in merged.becomes.items():
        our_past = ours.pasts.get(key)
        before = theirs.pasts[key].base if our_past is None else our_past.now
        if before is not None or after is not None:
            steps.append(_step(KINDS[key[0]], key[1], before, after))
    for one in merged.apart:
        stored = DISAGREEMENT.stored(one)
        steps.append(Step(DISAGREEMENT, str(one.id), None, stored))
    # In an order that does not depend on which copy is brought into which, readings first.
    return tuple(sorted(steps, key=_in_order))


def _step(kind: RecordKind, key: str, before: str | None, after: str | None) -> Step:
    stored = (None if text is None else kind.from_record_text(text) for text in (before, after))
    return Step(kind, key, *stored)


def _in_order(step: Step) -> tuple[object, ...]:
    return (
        step.kind is not READING,
        step.kind.name,
        step.before is not None,
        step.after is not None,
        step.key,
    )


def _brought(steps: Sequence[Step], merged: Merged) -> BroughtIn:
    apart = {(one.kind, one.about) for one in merged.apart}
    told = [
        step
        for step in steps
        if step.kind is not DISAGREEMENT and (step.kind.name, step.key) not in apart
    ]
    new = [step for step in told if step.before is None]
    readings = sum(step.kind is READING for step in new)
    taken_back = sum(step.after is None for step in told)
    changed = len(told) - len(new) - taken_back
    return BroughtIn(readings, len(new) - readings, changed, taken_back, len(merged.apart))


_KIND_OF_TABLE = {kind.table.name: kind for kind in KINDS.values()}
_NEEDS = {
    kind.name: [
        (column.name, _KIND_OF_TABLE[reference.column.table.name].name)
        for column in kind.columns
        for reference in column.foreign_keys
    ]
    for kind in KINDS.values()
}


def _needed_by(key: Key, text: str) -> Iterable[Key]:
    """The records without which the log can't hold this version."""
    if _NEEDS[key[0]]:
        stored = KINDS[key[0]].from_record_text(text)
        for column, kind_name in _NEEDS[key[0]]:
            if stored[column] is not None:
                yield kind_name, str(stored[column])


def _both(key: Key, kept: str, other: str, since: datetime) -> str:
    """A reading keeps what both said earlier; any other record is the one that holds."""
    if key[0] != READING.name:
        return kept
    one, beside = (READING.record(READING.from_record_text(text)) for text in (kept, other))
    return READING.record_text(READING.stored(with_both_histories(one, beside, since)))


# --- side by side --------------------------------------------------------------------------------


def open_disagreements(engine: Engine) -> list[SideBySide]:
    """What the person has not chosen between yet, readings first.

    What holds now is shown, should it have been changed in the meantime. A record that is not there
    any more has nothing to be chosen.
    """
    found = []
    with reading(engine) as connection:
        for stored in read_stored(connection, DISAGREEMENT):
            one: Disagreement = DISAGREEMENT.record(stored)
            if one.settled_at is None and (beside := _side_by_side(connection, one)) is not None:
                found.append(beside)
    return sorted(found, key=_readings_first)


def _readings_first(one: SideBySide) -> tuple[object, ...]:
    when = one.kept.at.instant.isoformat() if isinstance(one.kept, Reading) else ""
    return (
        not isinstance(one.kept, Reading),
        when,
        one.disagreement.kind,
        str(one.disagreement.id),
    )


def _side_by_side(connection: Connection, one: Disagreement) -> SideBySide | None:
    kind = KINDS[one.kind]
    try:
        now = find_stored(connection, kind, one.about)
    except NoSuchRecord:
        return None
    other = kind.from_record_text(one.other)
    if kind is not SETTING:
        return SideBySide(one, kind.record(now), kind.record(other))
    settings = settings_in(connection)
    values = {name: str(row["value"]) for name, row in settings_to_rows(settings).items()}
    values[one.about] = str(other["value"])
    return SideBySide(one, settings, settings_from_rows(values), one.about)


def settling(
    connection: Connection, disagreement_id: UUID, at: datetime, *, take_other: bool
) -> list[Step]:
    """The steps of a choice: the other version takes the place of the one that holds, or not.

    A reading keeps what it said. Raises `NoSuchRecord` and `DamagedLog`.
    """
    before = find_stored(connection, DISAGREEMENT, str(disagreement_id))
    one: Disagreement = DISAGREEMENT.record(before)
    if one.settled_at is not None:
        return []
    settled = DISAGREEMENT.stored(replace(one, settled_at=at))
    steps = [Step(DISAGREEMENT, str(one.id), before, settled)]
    if take_other:
        kind = KINDS[one.kind]
        now = find_stored(connection, kind, one.about)
        after = kind.from_record_text(one.other)
        if kind is READING:
            after = READING.stored(
                with_both_histories(READING.record(after), READING.record(now), at)
            )
        if now != after:
            steps.insert(0, Step(kind, one.about, now, after))
    return steps
