"""The versions of the tables, as Alembic finds them in `versions`.

Each file alters the tables from the version before it and never imports `logbook.store.tables`,
which tells only how the newest version looks. The number of a revision is the log's user_version.
What surrounds them (copy, checks, one transaction) is in `logbook.store.migration`.
"""
