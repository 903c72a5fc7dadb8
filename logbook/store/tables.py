"""The tables, with every rule that the file itself can hold: readings and the log itself.

Those of the kit are in `kit_tables`, those of the plan and of health in `plan_tables`. Each table
of records has the digest of the row as its last column. Constraints have names, so that a later
version can change them. What the columns mean is told in docs/file-format.md.
"""

from __future__ import annotations

from enum import StrEnum

from sqlalchemy import (
    CheckConstraint,
    Column,
    ForeignKey,
    Index,
    Integer,
    PrimaryKeyConstraint,
    String,
    Table,
    Text,
    UniqueConstraint,
)

from logbook.domain.answers import Asked, Said
from logbook.domain.glucose import Unit
from logbook.domain.happenings import StripFailure, What
from logbook.domain.kit.lancets import LancetChangeReason
from logbook.domain.readings import Doubt, Source
from logbook.domain.sites import SiteUse
from logbook.domain.slots import Purpose, Slot
from logbook.domain.spells import SpellKind
from logbook.domain.targets import SetBy, TargetKind
from logbook.store import kit_tables, plan_tables  # noqa: F401  (their tables are of the schema)
from logbook.store.table_parts import (
    code_column,
    day_column,
    digest_column,
    flag_column,
    glucose_columns,
    id_column,
    instant_column,
    key_column,
    list_column,
    moment_columns,
    object_column,
    record_table,
    schema_metadata,
    sha256_column,
    text_column,
)

# "FSLB" in the header of every log, the place SQLite gives programs to name their files.
APPLICATION_ID = 0x46534C42
# The number of the newest migration, in the header's user_version.
NEWEST_VERSION = 3

metadata = schema_metadata


class ChangeKind(StrEnum):
    """What a change did. Every one but `BEGIN`, `ERASE`, `UNDO` and `PUT_BACK` can be undone."""

    BEGIN = "begin"
    ADD = "add"
    CORRECT = "correct"
    CROSS_OUT = "cross_out"
    BRING_BACK = "bring_back"
    DOUBT = "doubt"
    REPLACE = "replace"
    SETTINGS = "settings"
    IMPORT = "import"
    MERGE = "merge"
    ERASE = "erase"
    UNDO = "undo"
    PUT_BACK = "put_back"


readings = record_table(
    "readings",
    key_column(),
    *moment_columns(),
    instant_column("written_at"),
    *glucose_columns(),
    code_column("slot", Slot),
    code_column("purpose", Purpose),
    code_column("source", Source),
    Column("minutes_after", Integer, nullable=True),
    id_column("meter_id", to="meters.id"),
    flag_column("is_foreign"),
    Column("site", Text, nullable=True),
    code_column("site_use", SiteUse),
    id_column("recheck_of", to="readings.id"),
    list_column("feelings"),
    list_column("differences"),
    flag_column("could_not_wash"),
    text_column("note"),
    text_column("initials"),
    instant_column("crossed_out_at", nullable=True),
    text_column("crossed_out_reason"),
    code_column("doubt", Doubt, nullable=True),
    list_column("earlier"),
)
# With the wall minute in it, the keys of a period are found even when a row itself can't be read.
Index(None, readings.c.instant, readings.c.wall_minute)
Index(None, readings.c.wall_minute)
# Taking a reading back asks which others refer to it; few do.
Index(None, readings.c.recheck_of, sqlite_where=readings.c.recheck_of.is_not(None))

happenings = record_table(
    "happenings",
    key_column(),
    code_column("what", What),
    *moment_columns(),
    instant_column("written_at"),
    code_column("strip_failure", StripFailure, nullable=True),
    id_column("about"),
    Column("site", Text, nullable=True),
    id_column("meter_id", to="meters.id"),
    text_column("note"),
    instant_column("crossed_out_at", nullable=True),
)

# An answer may be about a record of any kind, so `about` has no foreign key.
answers = record_table(
    "answers",
    key_column(),
    id_column("about", nullable=False),
    code_column("asked", Asked),
    code_column("said", Said),
    instant_column("at"),
)

targets = record_table(
    "targets",
    key_column(),
    code_column("kind", TargetKind),
    list_column("printed"),
    day_column("holds_from"),
    code_column("set_by", SetBy),
    text_column("set_by_name"),
    text_column("source"),
    text_column("edition"),
    flag_column("is_agreed"),
    instant_column("written_at", nullable=True),
)

meters = record_table(
    "meters",
    key_column(),
    text_column("name"),
    code_column("unit", Unit),
    Column("lowest", Integer, nullable=False),
    Column("highest", Integer, nullable=False),
    day_column("in_use_from"),
    day_column("in_use_until", nullable=True),
    flag_column("is_own"),
    Column("clock_ahead_seconds", Integer, nullable=False),
)

lancet_changes = record_table(
    "lancet_changes",
    key_column(),
    *moment_columns(),
    instant_column("written_at"),
    code_column("reason", LancetChangeReason),
)

spells = record_table(
    "spells",
    key_column(),
    code_column("kind", SpellKind),
    day_column("first"),
    day_column("last", nullable=True),
    text_column("note"),
)

appointments = record_table(
    "appointments",
    key_column(),
    day_column("day"),
    Column("at", Text, nullable=True),
    text_column("with_whom"),
    text_column("place"),
    text_column("decided"),
)

questions = record_table(
    "questions",
    key_column(),
    text_column("text"),
    instant_column("written_at"),
    day_column("done_on", nullable=True),
)

medicines = record_table(
    "medicines",
    key_column(),
    text_column("text"),
    day_column("holds_from"),
    day_column("holds_until", nullable=True),
)

contacts = record_table(
    "contacts", key_column(), text_column("role"), text_column("name"), text_column("phone")
)

# What two copies of the log say of one record; `about` is an id, or the name of a setting.
disagreements = record_table(
    "disagreements",
    key_column(),
    text_column("kind"),
    text_column("about"),
    object_column("kept"),
    object_column("other"),
    instant_column("settled_at", nullable=True),
)

settings = record_table(
    "settings",
    Column("name", Text, primary_key=True),
    Column("value", Text, CheckConstraint("value <> ''", name="value"), nullable=False),
)

# --- the log itself ------------------------------------------------------------------------------

log = Table(
    "log",
    schema_metadata,
    Column("only", Integer, CheckConstraint("only = 1", name="only"), primary_key=True),
    id_column("log_id", nullable=False),
    id_column("writer", nullable=False),
    instant_column("born_at"),
    Column("last_sequence", Integer, nullable=False),
    sha256_column("schema_sha256"),
    digest_column(),
    sqlite_strict=True,
)

changes = Table(
    "changes",
    schema_metadata,
    Column("sequence", Integer, primary_key=True),
    id_column("id", nullable=False),
    id_column("writer", nullable=False),
    instant_column("instant"),
    code_column("kind", ChangeKind),
    id_column("undoes", to="changes.id"),
    text_column("name"),
    Column("count", Integer, CheckConstraint("count >= 0", name="count"), nullable=False),
    sha256_column("sha256"),
    UniqueConstraint("id"),
    sqlite_strict=True,
)

# One record of a change: what it was before and after, as canonical JSON; empty means "not there".
change_records = Table(
    "change_records",
    schema_metadata,
    Column("sequence", Integer, ForeignKey("changes.sequence"), primary_key=True),
    Column("position", Integer, primary_key=True),
    text_column("kind"),
    text_column("record_id"),
    object_column("before"),
    object_column("after"),
    sqlite_strict=True,
)

# Alembic's own, as Alembic makes it, and so the one table that is not STRICT.
alembic_version = Table(
    "alembic_version",
    schema_metadata,
    Column("version_num", String(32), nullable=False),
    PrimaryKeyConstraint("version_num", name="alembic_version_pkc"),
)


def revision_name(version: int) -> str:
    """What Alembic calls the revision of a version."""
    return f"{version:04d}"
