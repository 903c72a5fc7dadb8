"""Which paper printers of a country hold, when nobody has chosen one."""

from __future__ import annotations

from logbook.report.options import Paper
from logbook.wording.manner import find_locale

# Countries that print on letter paper (Unicode CLDR, paperSize; from memory, not checked). The rest
# of the world prints on A4.
_LETTER_COUNTRIES = frozenset(
    ("BZ", "CA", "CL", "CO", "CR", "GT", "MX", "NI", "PA", "PH", "PR", "SV", "US", "VE")
)


def usual_paper(language_tag: str) -> Paper:
    """Letter or A4, for a tag such as `en_US.UTF-8`; one that names no country gets letter."""
    country = find_locale(language_tag).territory or "US"
    return Paper.LETTER if country in _LETTER_COUNTRIES else Paper.A4
