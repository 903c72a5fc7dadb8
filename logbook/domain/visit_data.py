"""Everything a visit report is made from, gathered in one object by the Book.

The report draws from this alone, so it needs neither the store nor the Book.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from logbook.domain.answers import Answer
from logbook.domain.happenings import Happening
from logbook.domain.lancets import LancetChange
from logbook.domain.meters import Meter
from logbook.domain.moments import Moment, Period
from logbook.domain.readings import Reading
from logbook.domain.series import Series
from logbook.domain.settings import LogSettings
from logbook.domain.spells import Spell
from logbook.domain.targets import TargetBook
from logbook.domain.visits import Appointment, Medicine, Question


@dataclass(frozen=True, slots=True)
class VisitData:
    """The log's content for one period.

    `series` holds every reading of the period, `before` those of the period of equal length just
    before it. `noted` are the whole readings that carry a note, a correction, a crossing out or a
    doubt, oldest first. `made_at` is when the report is made.
    """

    period: Period
    settings: LogSettings
    series: Series
    before: Series
    noted: tuple[Reading, ...]
    happenings: tuple[Happening, ...]
    answers: tuple[Answer, ...]
    targets: TargetBook
    meters: tuple[Meter, ...]
    lancet_changes: tuple[LancetChange, ...]
    spells: tuple[Spell, ...]
    medicines: tuple[Medicine, ...]
    questions: tuple[Question, ...]
    last_appointment: Appointment | None
    next_appointment: Appointment | None
    sites: tuple[tuple[date, str], ...]
    made_at: Moment
