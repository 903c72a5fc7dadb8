"""The tables of the first version, as they stand in the SQL file beside this one."""

from __future__ import annotations

from pathlib import Path

from alembic import op

revision = "0001"
down_revision = None


def upgrade() -> None:
    """Make every table and index."""
    statements = Path(__file__).with_suffix(".sql").read_text(encoding="utf-8")
    for statement in filter(str.strip, statements.split(";\n")):
        op.execute(statement)
