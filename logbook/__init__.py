"""Fingerstick Logbook: keeps years of fingerstick glucose readings.

The map of the package is in DEVELOPERS.md; here is only the version.
"""

__version__ = "0.1.0"
