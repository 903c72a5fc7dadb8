"""Two copies of one log can be brought together, and words be erased for good.

Two kinds of change more, and a table more.

Only the rule of the kind's column changes, and no row. So the definition is altered where SQLite
keeps it, which its manual allows for such a change ("Making Other Kinds Of Table Schema Changes");
the rows, and what may be damaged among them, are not touched.
"""

from __future__ import annotations

from pathlib import Path

from alembic import op

revision = "0003"
down_revision = "0002"

_WIDEN = """
UPDATE sqlite_schema
SET sql = replace(sql, '''import'', ''undo''', '''import'', ''merge'', ''erase'', ''undo''')
WHERE type = 'table' AND name = 'changes'
"""


def upgrade() -> None:
    """Let a change be a merge or an erasing, and make the table of what stands side by side."""
    connection = op.get_bind()
    connection.exec_driver_sql("PRAGMA writable_schema = ON")
    connection.exec_driver_sql(_WIDEN)
    connection.exec_driver_sql("PRAGMA writable_schema = RESET")
    statements = Path(__file__).with_suffix(".sql").read_text(encoding="utf-8")
    for statement in filter(str.strip, statements.split(";\n")):
        op.execute(statement)
