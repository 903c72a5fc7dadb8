"""Which action can be taken back, and which can be put back: told from the changes alone.

Last in, first out, among the last 50 actions, across restarts. What was taken back can be put back
until the next action. Nothing is kept for it but the changes themselves.
"""

from __future__ import annotations

from dataclasses import dataclass
from uuid import UUID

from sqlalchemy import Connection

from logbook.store.changes import read_headers_backwards
from logbook.store.lines import Header
from logbook.store.tables import ChangeKind

# The person may take back any of the last 50 actions that were not taken back already.
DEPTH = 50


@dataclass(frozen=True, slots=True)
class UndoState:
    """The change that undo takes back, and the undo that put back reverses with what it took."""

    undoable: Header | None
    undo_to_reverse: Header | None
    restorable: Header | None


def read_undo_state(connection: Connection) -> UndoState:
    """Walk back through the changes until both are known."""
    cancelled: set[UUID] = set()
    undo_to_reverse: Header | None = None
    restorable: Header | None = None
    actions = 0
    for header in read_headers_backwards(connection):
        if header.kind is ChangeKind.BEGIN:
            break
        if header.kind in (ChangeKind.UNDO, ChangeKind.PUT_BACK):
            # A put back cancels an undo, and an undo that stands cancels an action.
            if header.id not in cancelled and header.undoes is not None:
                cancelled.add(header.undoes)
                if header.kind is ChangeKind.UNDO and undo_to_reverse is None:
                    undo_to_reverse = header
            continue
        if header.kind is ChangeKind.ERASE:  # for good; what was done before it can still go back
            continue
        actions += 1
        if actions > DEPTH:
            break
        if undo_to_reverse is not None and header.id == undo_to_reverse.undoes:
            restorable = header
        # An action that stands also ends the search for an undo: whatever was taken back before
        # it can't be put back any more.
        if header.id not in cancelled:
            return UndoState(header, undo_to_reverse, restorable)
    return UndoState(None, undo_to_reverse, restorable)
