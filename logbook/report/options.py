"""What a person can choose about a printed report: paper, size of print, days in the grid."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from logbook.wording.manner import Manner

# One point is 1/72 inch; one inch is 25.4 mm.
MM = 72 / 25.4

MARGIN = 20 * MM


class Paper(StrEnum):
    """The two sheets that printers at home hold."""

    LETTER = "letter"
    A4 = "a4"

    @property
    def size(self) -> tuple[float, float]:
        """Width and height in points, upright (ISO 216; ANSI/ASME Y14.1)."""
        return (612.0, 792.0) if self is Paper.LETTER else (210 * MM, 297 * MM)


class Print(StrEnum):
    """Standard print is for the provider, large print is the person's own paper."""

    STANDARD = "standard"
    LARGE = "large"

    @property
    def text_size(self) -> float:
        """Body text and page numbers, in points."""
        return 12.0 if self is Print.STANDARD else 18.0

    @property
    def table_size(self) -> float:
        """Tables and the smallest text there is, in points."""
        return 11.0 if self is Print.STANDARD else 16.0

    @property
    def title_size(self) -> float:
        """Titles, in points."""
        return 15.0 if self is Print.STANDARD else 22.0


# Distance of one line from the next, in sizes of its letters.
LEADING = 1.4


@dataclass(frozen=True, slots=True)
class ReportOptions:
    """Everything that can be chosen for a report.

    `grid_days` is how many of the period's last days the grid shows; None means every day.
    `manner` is how dates, times and numbers are written; None means as everywhere else just now.
    """

    paper: Paper = Paper.LETTER
    print: Print = Print.STANDARD
    grid_days: int | None = 28
    appendix: bool = False
    manner: Manner | None = None
