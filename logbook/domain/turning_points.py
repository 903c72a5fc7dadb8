"""Days from which something was different: a target, a medicine, a spell.

Figures from before and after such a day are not of one piece. What is said about it is for
`wording`.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta

from logbook.domain.moments import Period
from logbook.domain.spells import Spell
from logbook.domain.targets import Target, TargetBook
from logbook.domain.visits import Medicine


@dataclass(frozen=True, slots=True)
class TurningPoint:
    """From `day` on something was different. `is_end` says that it is what ended the day before.

    The first target ever written is a turning point too: readings before it were not judged.
    """

    day: date
    about: Target | Medicine | Spell
    is_end: bool = False


def turning_points(
    period: Period,
    targets: TargetBook,
    medicines: Iterable[Medicine],
    spells: Iterable[Spell],
) -> list[TurningPoint]:
    """What began or ended inside `period`, after its first day, in order of day.

    What already held on the first day changed nothing inside the period.
    """
    found = [TurningPoint(target.holds_from, target) for target in targets.all]
    for medicine in medicines:
        found.append(TurningPoint(medicine.holds_from, medicine))
        if medicine.holds_until is not None:
            after = medicine.holds_until + timedelta(days=1)
            found.append(TurningPoint(after, medicine, is_end=True))
    for spell in spells:
        found.append(TurningPoint(spell.first, spell))
        if spell.last is not None:
            found.append(TurningPoint(spell.last + timedelta(days=1), spell, is_end=True))
    inside = [point for point in found if point.day in period and point.day != period.first]
    return sorted(inside, key=lambda point: point.day)


def splitting_day(points: Iterable[TurningPoint], period: Period, least_days: int) -> date | None:
    """The latest change with `least_days` on either side, or None; figures are told apart there.

    A new target or medicine comes before the beginning or end of a spell: that was decided with the
    provider, and figures with and without a spell can be told as well.
    """
    fitting = [
        point
        for point in points
        if (point.day - period.first).days >= least_days
        and (period.last - point.day).days + 1 >= least_days
    ]
    decided = [point for point in fitting if not isinstance(point.about, Spell)]
    return max((point.day for point in decided or fitting), default=None)
