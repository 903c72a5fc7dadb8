"""What bringing in another copy of the log did, and two versions side by side, as facts."""

from __future__ import annotations

from dataclasses import dataclass

from logbook.domain.actions import Record
from logbook.domain.disagreements import Disagreement
from logbook.domain.settings import LogSettings


@dataclass(frozen=True, slots=True)
class BroughtIn:
    """What another copy brings, or brought.

    `readings` and `others` are new here; `changed` records were changed there since; `taken_back`
    were taken back there; `apart` say one thing here and another there, so both are kept.
    """

    readings: int
    others: int
    changed: int
    taken_back: int
    apart: int

    @property
    def is_nothing(self) -> bool:
        """Whether everything in the other copy is here already."""
        return not (self.readings or self.others or self.changed or self.taken_back or self.apart)


NOTHING = BroughtIn(0, 0, 0, 0, 0)


@dataclass(frozen=True, slots=True)
class SideBySide:
    """Two versions of one record: which holds now, and the other one.

    For a setting both are all settings, alike but for the one that `setting` names.
    """

    disagreement: Disagreement
    kept: Record | LogSettings
    other: Record | LogSettings
    setting: str = ""
