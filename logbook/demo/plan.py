"""Her ordinary checks: one to four a day, with the habits of a person.

Later at the weekend, few away from home, more while ill. Fingers, meters and lancets are added by
`diary`; what stands out (lows, a repeat, a mistake) is in `incidents`.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from random import Random

from logbook.demo.story import AWAY, COLD, LAST_VISIT, STEROID, Story, record_id
from logbook.demo.values import Circumstances, day_effect, drawn_value
from logbook.domain.glucose import Glucose, Unit
from logbook.domain.moments import Moment
from logbook.domain.readings import Feeling, Reading, Source
from logbook.domain.slots import Slot

# Usual clock time of each check, in minutes after midnight.
USUAL_MINUTE = {
    Slot.FASTING: 7 * 60 + 20,
    Slot.AFTER_BREAKFAST: 9 * 60 + 45,
    Slot.BEFORE_LUNCH: 12 * 60 + 5,
    Slot.AFTER_LUNCH: 14 * 60 + 20,
    Slot.BEFORE_DINNER: 17 * 60 + 50,
    Slot.AFTER_DINNER: 20 * 60 + 10,
    Slot.BEDTIME: 22 * 60 + 25,
}
_LATER_AT_WEEKENDS = 45
_MOST_A_DAY = 4
_DAY_WITHOUT_CHECKS = 0.03
_ALWAYS_CHECKED_LATELY = 7  # days, so that the last pages of the log are never empty
_HELPER = "CT"  # her sister wrote some of them down


def bare_reading(name: str, at: Moment, slot: Slot, glucose: Glucose, seconds: int = 60) -> Reading:
    """A check without finger and meter, written down so many seconds later."""
    return Reading(
        id=record_id(name),
        glucose=glucose,
        at=at,
        written_at=at.instant + timedelta(seconds=seconds),
        slot=slot,
    )


def in_mg_dl(steps: int) -> Glucose:
    """A number as she types it."""
    return Glucose.number(steps, Unit.MG_DL, str(steps))


def ordinary_checks(story: Story, chance: Random, days_ago: int) -> list[Reading]:
    """The planned checks of one day, in order."""
    is_away = AWAY[1] <= days_ago <= AWAY[0]
    is_cold = COLD[1] <= days_ago <= COLD[0]
    circumstances = Circumstances(
        is_later=days_ago < LAST_VISIT,
        is_weekend=story.day(days_ago).weekday() >= 5,
        is_on_steroid=STEROID[1] <= days_ago <= STEROID[0],
        is_away=is_away,
    )
    common = day_effect(chance)
    readings = []
    for slot in _slots(chance, days_ago, circumstances, is_ill=is_cold):
        minute = USUAL_MINUTE[slot] + round(chance.gauss(0.0, 14.0))
        if circumstances.is_weekend and slot is Slot.FASTING:
            minute += _LATER_AT_WEEKENDS
        at = story.moment(days_ago, minute // 60, minute % 60)
        glucose = in_mg_dl(drawn_value(chance, slot, common, circumstances))
        name = f"check {days_ago} {slot}"
        reading = bare_reading(name, at, slot, glucose, chance.randint(40, 150))
        if slot.is_after_meal:
            reading = replace(reading, minutes_after=chance.choice((90, 120, 120, 120)))
        if is_cold and chance.random() < 0.5:
            reading = replace(reading, feelings=(Feeling.UNWELL,), initials=_HELPER)
        if is_away:
            reading = _copied_later(story, reading)
        elif chance.random() < 0.03:
            reading = replace(reading, written_at=story.moment(days_ago - 1, 8, 40).instant)
        readings.append(reading)
    return readings


def _slots(
    chance: Random, days_ago: int, circumstances: Circumstances, *, is_ill: bool
) -> list[Slot]:
    """The checks she made that day, in the order of the day."""
    if circumstances.is_away:
        return [Slot.FASTING] if chance.random() < 0.55 else []
    if chance.random() < _DAY_WITHOUT_CHECKS and days_ago > _ALWAYS_CHECKED_LATELY:
        return []
    is_weekend = circumstances.is_weekend
    shares = {
        Slot.FASTING: 0.94,
        Slot.AFTER_BREAKFAST: 0.06,
        Slot.BEFORE_LUNCH: 0.24,
        Slot.AFTER_LUNCH: 0.14 if is_weekend else 0.26,
        Slot.BEFORE_DINNER: 0.58,
        Slot.AFTER_DINNER: 0.42 if is_weekend else 0.12,
        Slot.BEDTIME: 0.22 if days_ago >= LAST_VISIT else 0.72,
    }
    if is_ill or circumstances.is_on_steroid:
        shares |= {Slot.BEFORE_LUNCH: 0.9, Slot.BEFORE_DINNER: 0.95, Slot.BEDTIME: 0.95}
    made = [slot for slot, share in shares.items() if chance.random() < share]
    is_lately = days_ago <= _ALWAYS_CHECKED_LATELY
    return made[:_MOST_A_DAY] or ([Slot.FASTING] if is_lately else [])


def _copied_later(story: Story, reading: Reading) -> Reading:
    """Away from home she copied the numbers from the meter's memory after the trip."""
    back = story.moment(AWAY[1] - 1, 17, 30).instant
    return replace(reading, written_at=back, source=Source.COPIED_FROM_METER)
