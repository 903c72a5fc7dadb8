"""Tables of the kit, the plan and health; happenings and answers know more.

A happening has two columns more (where the finger was pricked again, and in which meter a strip
failed), so its row text is another and its digest is taken anew: of a row that is what was written,
and of no other. Nothing else about a record changes.
"""

from __future__ import annotations

import hashlib
from contextlib import suppress
from pathlib import Path

from alembic import op
from sqlalchemy import Connection

from logbook.domain.errors import DamagedLog

revision = "0002"
down_revision = "0001"

_FIRST = "id, what, instant, offset_seconds, zone, zone_assumed, wall_minute, written_at"
_FIRST += ", strip_failure, about"
_LAST = "note, crossed_out_at"
_OLD_TEXT = f"CAST(json_array('happening', {_FIRST}, {_LAST}) AS BLOB)"
_NEW_TEXT = f"CAST(json_array('happening', {_FIRST}, NULL, NULL, {_LAST}) AS BLOB)"
_DIGEST_ROOM = 2**256


def upgrade() -> None:
    """Make the new tables, and those of happenings and answers anew with every row.

    Raises `DamagedLog` (why=digest) for a damaged happening, unless damage is to be carried along:
    then the row keeps a digest that does not fit it.
    """
    connection = op.get_bind()
    digests = _new_digests(connection, carries_damage=op.get_context().opts["carries_damage"])
    statements = Path(__file__).with_suffix(".sql").read_text(encoding="utf-8")
    for statement in filter(str.strip, statements.split(";\n")):
        op.execute(statement)
    difference = 0
    for rowid, (old, new) in digests.items():
        connection.exec_driver_sql("UPDATE happenings SET digest = ? WHERE rowid = ?", (new, rowid))
        difference += int.from_bytes(new) - int.from_bytes(old)
    if digests:
        _add_to_digest_of_log(connection, difference)


def _new_digests(connection: Connection, *, carries_damage: bool) -> dict[int, tuple[bytes, bytes]]:
    """The old and the new digest of every happening that is what was written, by rowid."""
    found = {}
    rows = connection.exec_driver_sql("SELECT rowid, digest FROM happenings ORDER BY rowid").all()
    for rowid, digest in rows:
        texts = None
        # SQLite can't even make the text of some damaged rows.
        with suppress(DamagedLog):
            texts = connection.exec_driver_sql(
                f"SELECT {_OLD_TEXT}, {_NEW_TEXT} FROM happenings WHERE rowid = ?",  # noqa: S608
                (rowid,),
            ).one()
        if texts is not None and hashlib.sha256(texts[0]).digest() == digest:
            found[rowid] = (digest, hashlib.sha256(texts[1]).digest())
        elif not carries_damage:
            raise DamagedLog(op.get_context().opts["log_path"], why="digest")
    return found


def _add_to_digest_of_log(connection: Connection, difference: int) -> None:
    (digest,) = connection.exec_driver_sql("SELECT digest FROM log").one()
    total = (int.from_bytes(digest) + difference) % _DIGEST_ROOM
    connection.exec_driver_sql("UPDATE log SET digest = ?", (total.to_bytes(32),))
