"""Finds glucose numbers that stand without their unit.

A log is fed with glucose values that nothing else in it is: no count, day, hour or share. Wherever
one of them turns up, its unit must stand in the same sentence, or in the heading of its row or
column.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from datetime import date, datetime, timedelta
from uuid import uuid4

from logbook.domain.glucose import Glucose, Unit, steps_to_value
from logbook.domain.moments import Moment
from logbook.domain.readings import Reading
from logbook.domain.slots import Slot
from logbook.domain.targets import Limit, Limits, Operator, SetBy, Target, TargetKind

# In steps: an ordinary value, a low, a very high one, and both ends of the targets. All ordinary
# values are the same, so middle values and quartiles are it too.
ORDINARY = {Unit.MG_DL: 173, Unit.MMOL_L: 97}
LOW = {Unit.MG_DL: 61, Unit.MMOL_L: 34}
VERY_HIGH = {Unit.MG_DL: 317, Unit.MMOL_L: 179}
TARGET = {Unit.MG_DL: (87, 193), Unit.MMOL_L: (49, 107)}

_NUMBER = re.compile(r"(?<![\d.,:/-])\d+(?:[.,]\d+)?(?![\d:/-]|[.,]\d)")
_SENTENCE_ENDS = re.compile(r"(?<=[.;!?])\s+|\n")


def numbers_of(unit: Unit) -> set[str]:
    """The glucose values of the log as they are written, with a point."""
    steps = [ORDINARY[unit], LOW[unit], VERY_HIGH[unit], *TARGET[unit]]
    return {str(steps_to_value(one, unit)) for one in steps}


def has_number(text: str, unit: Unit) -> bool:
    """Whether one of them stands in the text."""
    found = {number.replace(",", ".") for number in _NUMBER.findall(text)}
    return bool(found & numbers_of(unit))


def bare_sentences(text: str, unit: Unit) -> Iterator[str]:
    """The sentences and lines with one of them and without the unit."""
    for sentence in _SENTENCE_ENDS.split(text):
        if has_number(sentence, unit) and unit.value not in sentence:
            yield sentence.strip()


def marked_readings(unit: Unit, zone: str, last: date, days: int) -> Iterable[Reading]:
    """Four checks a day; a low and a very high one are among the latest."""
    for back in range(days, 0, -1):
        for hour, slot in (
            (7, Slot.FASTING),
            (12, Slot.BEFORE_LUNCH),
            (14, Slot.AFTER_LUNCH),
            (22, Slot.BEDTIME),
        ):
            day = last - timedelta(days=back)
            at = Moment.from_wall(datetime(day.year, day.month, day.day, hour, 20), zone)
            steps = ORDINARY[unit]
            if slot is Slot.BEDTIME and back in (3, 9):
                steps = LOW[unit] if back == 3 else VERY_HIGH[unit]
            yield Reading(uuid4(), Glucose.number(steps, unit), at, at.instant, slot)


def marked_targets(unit: Unit) -> Iterable[Target]:
    """One range for every kind of check, from the provider."""
    lower, upper = TARGET[unit]
    limits = Limits(unit, Limit(Operator.AT_LEAST, lower), Limit(Operator.AT_MOST, upper))
    for kind in TargetKind:
        yield Target(uuid4(), kind, (limits,), date(2020, 1, 1), SetBy.PROVIDER)
