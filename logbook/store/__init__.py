"""Keeping the log: SQLAlchemy over one SQLite file, and SQL nowhere else.

`logbook.book` is the only module that uses it. What lies where on the disk and what each column
means is told in docs/file-format.md.
"""
