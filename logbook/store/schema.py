"""The definition of the tables, as the file itself holds it, and whether it is what it was.

A flipped bit there harms no record, but the next one that is written.
"""

from __future__ import annotations

import hashlib

from sqlalchemy import Connection


def schema_sha256(connection: Connection) -> bytes:
    """SHA-256 over every definition in the file, in order of name."""
    statement = "SELECT type, name, tbl_name, coalesce(sql, '') FROM sqlite_schema ORDER BY name"
    rows = connection.exec_driver_sql(statement).all()
    return hashlib.sha256("\0".join(part for row in rows for part in row).encode()).digest()
