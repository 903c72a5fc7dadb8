"""A log with a long name and much of everything that page 1 lists. All of it is invented."""

from __future__ import annotations

from dataclasses import replace
from datetime import time, timedelta

from logbook.domain.glucose import Unit
from logbook.domain.kit.meters import Meter
from logbook.domain.spells import Spell, SpellKind
from logbook.domain.targets import TargetBook, TargetKind
from logbook.domain.visit_data import VisitData
from logbook.domain.visits import Appointment, Medicine, Question
from tests.report.invented import SEVEN_A_DAY, invented_id, invented_visit, target

QUESTIONS = (
    "My numbers before lunch are often higher when my daughter visits. Should I check later?",
    "Twice I woke at three and felt shaky, but the meter said 84. What should I do then?",
    "My right hand is stiff and can't use the lancing device. May I prick one hand only?",
    "Do the injections for my shoulder raise the numbers, and for how many days?",
    "May I test less often, now that my numbers before breakfast have been steady for weeks?",
)


def with_heavy_lists(data: VisitData) -> VisitData:
    """`data` with 8 medicines, 6 changes, 5 long questions, 3 meters and long names."""
    last = data.period.last
    early = data.period.first - timedelta(days=200)

    def back(days: int) -> Spell:
        first, end = last - timedelta(days=days), last - timedelta(days=days - 6)
        note = f"a spell of {days} days ago that took a whole week"
        return Spell(invented_id(("spell", days)), SpellKind.ILL, first, end, note)

    new_medicines = {6: last - timedelta(days=27), 7: last - timedelta(days=28)}
    return replace(
        data,
        settings=replace(
            data.settings,
            person_name="Maria-Magdalena Anastasia von Invented-Longname (demonstration)",
            born="March 14, 1941",
            can_have_lows=True,
        ),
        medicines=tuple(
            Medicine(
                invented_id(("medicine", number)),
                f"Invented medicine {number}, 500 mg, one with breakfast and one with dinner",
                new_medicines.get(number, early),
            )
            for number in range(8)
        ),
        questions=tuple(
            Question(invented_id(("question", number)), text, data.made_at.instant)
            for number, text in enumerate(QUESTIONS)
        ),
        spells=(back(20), back(60), back(75)),
        targets=TargetBook(
            [
                *(target(kind, 80, 130, early) for kind in TargetKind),
                target(TargetKind.FASTING, 90, 150, last - timedelta(days=40)),
                target(TargetKind.BEFORE_MEALS, 90, 150, last - timedelta(days=40)),
            ]
        ),
        meters=tuple(
            Meter.usual(invented_id(("meter", name)), name, Unit.MG_DL, early)
            for name in ("bedside table", "handbag, the small one", "summer house")
        ),
        next_appointment=Appointment(
            invented_id("next"),
            last + timedelta(days=3),
            time(10, 30),
            "Dr. Bartholomew Invented-Practitioner",
            "Room 2",
        ),
    )


def heavy_visit() -> VisitData:
    """Seven times of day, and everything above."""
    return with_heavy_lists(invented_visit(slots=SEVEN_A_DAY))
