"""What is doubtful about a number: a question before saving, or one quiet line after a low."""

from __future__ import annotations

from dataclasses import dataclass

from logbook.domain.glucose import Glucose
from logbook.domain.kit.meters import Meter
from logbook.domain.levels import LOW_BELOW
from logbook.domain.low_trail import FORGOTTEN_AFTER
from logbook.domain.moments import Moment
from logbook.domain.other_log import SavedNumber
from logbook.domain.plausibility import (
    USUAL_DAYS,
    Before,
    Odd,
    Oddity,
    Usual,
    find_oddities,
    first_to_tell,
    number_before,
    usual_of,
)
from logbook.domain.readings import Reading
from logbook.domain.series import Series
from logbook.ui.desk import Desk
from logbook.ui.draft import Draft
from logbook.ui.entry.saving import meter_of, recent_period
from logbook.wording import _
from logbook.wording.numbers import glucose_text, range_text


@dataclass(frozen=True, slots=True)
class Doubt:
    """Why, in a sentence; and what may have been meant.

    `meant` is a value that this log can take, `shown_beside` one to read beside the typed one,
    which may be in the other unit.
    """

    code: str
    why: str
    meant: Glucose | None = None
    shown_beside: Glucose | None = None

    def question(self) -> str:
        """What is asked about it before saving."""
        if self.code == Odd.OTHER_LOG:
            return _("Does this number belong in this log?")
        return _("Is this what the meter shows?")


def doubts_before_saving(
    desk: Desk, draft: Draft, glucose: Glucose, series: Series, now: Moment
) -> list[Doubt]:
    """The doubts to ask about before saving, the one to tell first.

    None for a low, and none twice for one number.
    """
    usual = usual_of(series, glucose.unit, now.instant)
    asked = [
        oddity
        for oddity in _oddities(
            desk, draft, glucose, series, usual, now, _saved_elsewhere(desk, now)
        )
        if oddity.asks_first and oddity.odd.value not in draft.asked
    ]
    told = first_to_tell(asked)
    asked.sort(key=lambda oddity: oddity is not told)
    return [_doubt(oddity, glucose, usual) for oddity in asked]


def doubt_about_row(
    glucose: Glucose,
    at: Moment,
    now: Moment,
    *,
    usual: Usual | None,
    before: Before,
    meter: Meter | None,
) -> Doubt | None:
    """The doubt to ask about before one of many rows is taken; None for a low, or for none."""
    oddities = find_oddities(glucose, at, now.instant, usual=usual, before=before, meter=meter)
    told = first_to_tell(oddity for oddity in oddities if oddity.asks_first)
    return None if told is None else _doubt(told, glucose, usual)


def quiet_doubt(
    desk: Desk, draft: Draft, glucose: Glucose, series: Series, now: Moment
) -> Doubt | None:
    """The one doubt told beside a low that is saved already; `series` is the log before it."""
    usual = usual_of(series, glucose.unit, now.instant)
    elsewhere = _saved_elsewhere(desk, now)
    oddities = _oddities(desk, draft, glucose, series, usual, now, elsewhere)
    told = first_to_tell(oddity for oddity in oddities if oddity.odd is not Odd.CLOCK_BEHIND)
    return None if told is None else _doubt(told, glucose, usual)


def doubts_about_correction(
    desk: Desk, reading: Reading, glucose: Glucose, at: Moment
) -> list[Doubt]:
    """The doubts to ask about before a corrected number is kept, the one to tell first.

    Told from the log as it was at `at`, the reading itself aside. None for a low of the last hours:
    it is kept at once, and its own page tells a doubt.
    """
    is_low = glucose.order_steps < LOW_BELOW[glucose.unit]
    if glucose == reading.glucose or (is_low and desk.clock() - at.instant <= FORGOTTEN_AFTER):
        return []
    days = recent_period(at, desk.book.settings, USUAL_DAYS)
    series = desk.book.series(days).before(at.instant).without(str(reading.id))
    usual = usual_of(series, glucose.unit, at.instant)
    draft = Draft(at=at, meter_id=reading.meter_id)
    found = [
        oddity
        for oddity in _oddities(desk, draft, glucose, series, usual, at)
        if oddity.asks_first or is_low
    ]
    told = first_to_tell(found)
    found.sort(key=lambda oddity: oddity is not told)
    return [_doubt(oddity, glucose, usual, is_past=True) for oddity in found]


def _saved_elsewhere(desk: Desk, now: Moment) -> tuple[SavedNumber, ...]:
    return desk.saved_numbers.elsewhere(desk.book.path, now.instant)


def _oddities(
    desk: Desk,
    draft: Draft,
    glucose: Glucose,
    series: Series,
    usual: Usual | None,
    now: Moment,
    elsewhere: tuple[SavedNumber, ...] = (),
) -> tuple[Oddity, ...]:
    return find_oddities(
        glucose,
        draft.at or now,
        now.instant,
        usual=usual,
        before=number_before(series, glucose.unit),
        meter=meter_of(draft, desk.book, now),
        elsewhere=elsewhere,
    )


def _doubt(
    oddity: Oddity, glucose: Glucose, usual: Usual | None, *, is_past: bool = False
) -> Doubt:
    meant = oddity.meant
    # A value in the other unit can't be saved in this log; it is only shown.
    can_save = meant is not None and meant.unit is glucose.unit
    return Doubt(
        oddity.odd.value,
        _why(oddity, glucose, usual, is_past=is_past),
        meant if can_save else None,
        meant,
    )


def _why(oddity: Oddity, glucose: Glucose, usual: Usual | None, *, is_past: bool) -> str:
    if oddity.limit is not None:
        limit = glucose_text(oddity.limit)
        if oddity.odd is Odd.BELOW_METER:
            return _("Your meter shows LO below {limit}.").format(limit=limit)
        return _("Your meter shows HI above {limit}.").format(limit=limit)
    if oddity.odd is Odd.OTHER_LOG:
        return _("The same number was written in another log just now.")
    if oddity.odd is Odd.FUTURE:
        return _("That time has not come yet. Look at the day and the clock once more.")
    if oddity.odd is Odd.OTHER_UNIT and oddity.meant is not None:
        value = glucose_text(oddity.meant)
        return _("It would fit your usual numbers as {value}. Look at the unit.").format(
            value=value
        )
    return _why_unusual(oddity, glucose, usual, is_past=is_past)


def _why_unusual(oddity: Oddity, glucose: Glucose, usual: Usual | None, *, is_past: bool) -> str:
    if oddity.odd is Odd.RARE or usual is None:
        if glucose.order_steps < LOW_BELOW[glucose.unit]:
            if is_past:
                return _("So low a number is rare. Look in the meter's memory once more.")
            return _("So low a number is rare. After the sugar, look at the meter once more.")
        if is_past:
            return _("So high a number is rare. Look in the meter's memory once more.")
        return _("So high a number is rare. Look at the meter once more.")
    numbers = range_text(usual.lowest, usual.highest, usual.unit)
    if is_past:
        return _("Your numbers of the 90 days before it were mostly {range}.").format(range=numbers)
    return _("Your numbers of the last 90 days were mostly {range}.").format(range=numbers)
