"""What stood out in these months: lows and how they went on, a mistake, a number not believed.

Told in days before today. The ordinary checks of the same time of day are left out on such days.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import timedelta

from logbook.demo.events import Corrected, CrossedOutEntry, Doubted, Event, Written
from logbook.demo.plan import bare_reading, in_mg_dl
from logbook.demo.story import LAST_VISIT, Story, record_id
from logbook.domain.answers import Answer, Asked, Said
from logbook.domain.glucose import Glucose, Unit
from logbook.domain.happenings import Happening, StripFailure, What
from logbook.domain.moments import Moment
from logbook.domain.readings import Difference, Doubt, Feeling, Reading
from logbook.domain.slots import Purpose, Slot


@dataclass(frozen=True, slots=True)
class ToldLow:
    """A low: when, how low, the rechecks as (minutes after it, value), and what she answered."""

    days_ago: int
    hour: int
    minute: int
    slot: Slot
    steps: int
    rechecks: tuple[tuple[int, int], ...] = ()
    felt: Said | None = None
    feelings: tuple[Feeling, ...] = ()
    differences: tuple[Difference, ...] = ()

    @property
    def name(self) -> str:
        """The name its reading has in the story."""
        return f"low {self.days_ago}"


_SHAKY = (Feeling.SHAKY, Feeling.SWEATY)
_ACTIVE = (Difference.MORE_ACTIVE,)

LOWS = (
    ToldLow(100, 11, 40, Slot.BEFORE_LUNCH, 66, ((16, 92),), Said.YES, _SHAKY, _ACTIVE),
    ToldLow(97, 11, 55, Slot.BEFORE_LUNCH, 61, ((15, 68), (31, 96)), Said.YES, _SHAKY, _ACTIVE),
    ToldLow(92, 3, 10, Slot.NIGHT, 51, ((15, 63), (31, 88)), Said.NO, (Feeling.CONFUSED,)),
    ToldLow(70, 17, 35, Slot.BEFORE_DINNER, 67, (), None, (Feeling.HUNGRY,)),
    ToldLow(33, 17, 40, Slot.BEFORE_DINNER, 64, ((17, 104),), Said.YES, _SHAKY),
    ToldLow(12, 2, 50, Slot.NIGHT, 52, ((16, 66), (32, 91)), Said.NO),
)

UNMEASURED_LOW = 63
BIRTHDAY = 131
NOT_BELIEVED = 28
FAILED_STRIP = 20
CORRECTED = 30
CROSSED_OUT = 25

# Days and times of day at which no ordinary check is wanted.
TAKEN = frozenset(
    {(low.days_ago, low.slot) for low in LOWS}
    | {(BIRTHDAY, Slot.AFTER_DINNER), (NOT_BELIEVED, Slot.BEFORE_LUNCH)}
    | {(CORRECTED, Slot.BEFORE_DINNER), (CROSSED_OUT, Slot.BEFORE_DINNER)}
)


def told_readings(story: Story, days_ago: int) -> list[Reading]:
    """The readings of what stood out on one day; the first of a low before its rechecks."""
    readings = [reading for low in LOWS if low.days_ago == days_ago for reading in _low(story, low)]
    if days_ago == BIRTHDAY:
        readings += _birthday(story)
    if days_ago == NOT_BELIEVED:
        readings += _jam(story)
    if days_ago == CORRECTED:
        at = story.moment(days_ago, 17, 55)
        readings.append(bare_reading("to correct", at, Slot.BEFORE_DINNER, in_mg_dl(118)))
    if days_ago == CROSSED_OUT:
        at = story.moment(days_ago, 17, 48)
        readings.append(bare_reading("not mine", at, Slot.BEFORE_DINNER, in_mg_dl(101)))
    if days_ago == LAST_VISIT:
        at = story.moment(days_ago, 10, 25)
        clinic = bare_reading("at the practice", at, Slot.BETWEEN_MEALS, in_mg_dl(164))
        _bedside, _handbag, practice = story.meters()
        readings.append(replace(clinic, is_foreign=True, meter_id=practice.id))
    return readings


def told_events(story: Story, wording: IncidentWords) -> Iterator[Event]:
    """Answers, happenings and mendings, in any order."""
    for low in LOWS:
        if low.felt is None:
            continue
        last = low.rechecks[-1][0]
        when = story.moment(low.days_ago, low.hour, low.minute).instant
        when += timedelta(minutes=last + 3)
        about = record_id(low.name)
        asked = Asked.FELT_LOW_COMING
        answer = Answer(record_id(f"answer {low.name}"), about, asked, low.felt, when)
        yield Written(when, (answer,))
    at = story.moment(UNMEASURED_LOW, 15, 40)
    when = at.instant + timedelta(minutes=50)
    felt = Happening(record_id("felt low"), What.FELT_LOW_TREATED, at, when, note=wording.felt_low)
    yield Written(when, (felt,))
    at = story.moment(FAILED_STRIP, 7, 14)
    when = at.instant + timedelta(minutes=1)
    failed = Happening(
        record_id("failed strip"), What.STRIP_FAILED, at, when, StripFailure.PRICKED_AGAIN
    )
    yield Written(when, (failed,))
    yield Corrected(
        story.moment(CORRECTED - 2, 9, 5).instant,
        record_id("to correct"),
        in_mg_dl(181),
        story.moment(CORRECTED, 17, 55),
        Slot.BEFORE_DINNER,
        wording.digits_swapped,
    )
    yield CrossedOutEntry(
        story.moment(CROSSED_OUT, 18, 20).instant, record_id("not mine"), wording.not_mine
    )
    yield Doubted(
        story.moment(NOT_BELIEVED, 12, 20).instant, record_id("jam"), Doubt.UNWASHED_FINGER
    )


@dataclass(frozen=True, slots=True)
class IncidentWords:
    """Her own words about it."""

    felt_low: str
    digits_swapped: str
    not_mine: str


def _low(story: Story, low: ToldLow) -> Iterator[Reading]:
    at = story.moment(low.days_ago, low.hour, low.minute)
    first = bare_reading(low.name, at, low.slot, in_mg_dl(low.steps))
    purpose = Purpose.FELT_SOMETHING if low.feelings else Purpose.PLANNED
    yield replace(first, purpose=purpose, feelings=low.feelings, differences=low.differences)
    for minutes, steps in low.rechecks:
        again = Moment.at(at.instant + timedelta(minutes=minutes), story.zone)
        check = bare_reading(f"{low.name} {minutes}", again, low.slot, in_mg_dl(steps))
        yield replace(check, purpose=Purpose.RECHECK, recheck_of=first.id)


def _birthday(story: Story) -> Iterator[Reading]:
    """The meter showed HI after a festive dinner, and a high number with clean hands."""
    at = story.moment(BIRTHDAY, 20, 30)
    high = Glucose.reads_high(Unit.MG_DL)
    first = bare_reading("birthday", at, Slot.AFTER_DINNER, high)
    yield replace(first, minutes_after=120, differences=(Difference.ATE_MORE,))
    again = story.moment(BIRTHDAY, 20, 41)
    repeat = bare_reading("birthday again", again, Slot.AFTER_DINNER, in_mg_dl(438))
    yield replace(repeat, minutes_after=130, purpose=Purpose.REPEAT)


def _jam(story: Story) -> Iterator[Reading]:
    """A high number from an unwashed finger, and the one after washing."""
    at = story.moment(NOT_BELIEVED, 12, 8)
    first = bare_reading("jam", at, Slot.BEFORE_LUNCH, in_mg_dl(318))
    yield replace(first, could_not_wash=True)
    again = story.moment(NOT_BELIEVED, 12, 15)
    repeat = bare_reading("jam again", again, Slot.BEFORE_LUNCH, in_mg_dl(139))
    yield replace(repeat, purpose=Purpose.REPEAT)
