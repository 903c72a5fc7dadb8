"""Words that were erased in one copy of the log do not come back with another copy of it.

An erasing keeps the salted SHA-256 of what it erased. So the same words in the other copy are known
and left out, without being kept anywhere.
"""

from __future__ import annotations

import hashlib
import json
from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from sqlalchemy import Connection, select

from logbook.domain.merging import Key
from logbook.store import tables
from logbook.store.erasing import WORDS
from logbook.store.records import DISAGREEMENT
from logbook.store.row_parts import canonical_json
from logbook.store.tables import ChangeKind


@dataclass
class Erasures:
    """What was erased, of which records: pairs of a salt and a salted SHA-256."""

    _of: dict[Key, set[tuple[str, str]]] = field(default_factory=lambda: defaultdict(set))

    def read(self, connection: Connection) -> None:
        """Add what was erased in this copy."""
        c = tables.changes.c
        for name in connection.scalars(select(c.name).where(c.kind == ChangeKind.ERASE)):
            told = json.loads(name)
            key = (str(told["kind"]), str(told["record"]))
            self._of[key] |= {(str(told["salt"]), str(words)) for words in told["words"]}

    def __bool__(self) -> bool:
        return bool(self._of)

    def without(self, key: Key, text: str) -> str:
        """A record text without words that were erased of this record in either copy."""
        if not self._of:
            return text
        told = json.loads(text)
        if key[0] == DISAGREEMENT.name:
            about = (str(told.get("kind", "")), str(told.get("about", "")))
            sides = {
                side: self.without(about, told[side])
                for side in ("kept", "other")
                if about in self._of and told.get(side)
            }
            return canonical_json({**told, **sides}) if sides else text
        if key not in self._of:
            return text
        return canonical_json(self._left(key, told))

    def _left(self, key: Key, told: Mapping[str, Any]) -> dict[str, Any]:
        columns = WORDS.get(key[0], ())
        return {
            column: value
            for column, value in told.items()
            if column not in columns or not self._is_erased(key, str(value))
        }

    def _is_erased(self, key: Key, words: str) -> bool:
        return any(
            hashlib.sha256(f"{salt}{words}".encode()).hexdigest() == known
            for salt, known in self._of[key]
        )
