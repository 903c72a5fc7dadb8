"""What is doubtful about a number: a question before saving, or one quiet line after a low."""

from __future__ import annotations

from dataclasses import dataclass

from logbook.domain.glucose import Glucose
from logbook.domain.moments import Moment
from logbook.domain.plausibility import Odd, Oddity, Usual, find_oddities, usual_of
from logbook.domain.series import Series
from logbook.ui.desk import Desk
from logbook.ui.draft import Draft
from logbook.ui.entry.saving import meter_in_use
from logbook.wording import _
from logbook.wording.numbers import glucose_text, range_text

_QUIET = (Odd.TENFOLD, Odd.OTHER_UNIT, Odd.FAR_FROM_USUAL)


@dataclass(frozen=True, slots=True)
class Doubt:
    """Why, in a sentence; and the value in the log's unit that may have been meant."""

    code: str
    why: str
    meant: Glucose | None = None


def doubts_before_saving(
    desk: Desk, draft: Draft, glucose: Glucose, series: Series, now: Moment
) -> list[Doubt]:
    """The doubts to ask about before saving; none for a low, and none twice for one number."""
    usual = usual_of(series, glucose.unit, now.instant)
    return [
        _doubt(oddity, usual)
        for oddity in _oddities(desk, draft, glucose, usual, now)
        if oddity.asks_first and oddity.odd.value not in draft.asked
    ]


def quiet_doubt(
    desk: Desk, draft: Draft, glucose: Glucose, series: Series, now: Moment
) -> Doubt | None:
    """The one doubt told beside a low that is saved already."""
    usual = usual_of(series, glucose.unit, now.instant)
    oddities = _oddities(desk, draft, glucose, usual, now)
    return next((_doubt(oddity, usual) for oddity in oddities if oddity.odd in _QUIET), None)


def _oddities(
    desk: Desk, draft: Draft, glucose: Glucose, usual: Usual | None, now: Moment
) -> tuple[Oddity, ...]:
    meter = meter_in_use(desk.book, now)
    return find_oddities(glucose, draft.at or now, now.instant, usual=usual, meter=meter)


def _doubt(oddity: Oddity, usual: Usual | None) -> Doubt:
    why = _why(oddity, usual)
    # A value in the other unit can't be saved in this log; the sentence alone tells of it.
    meant = oddity.meant if oddity.odd is Odd.TENFOLD else None
    return Doubt(oddity.odd.value, why, meant)


def _why(oddity: Oddity, usual: Usual | None) -> str:
    if oddity.limit is not None:
        limit = glucose_text(oddity.limit)
        if oddity.odd is Odd.BELOW_METER:
            return _("Your meter shows LO below {limit}.").format(limit=limit)
        return _("Your meter shows HI above {limit}.").format(limit=limit)
    if oddity.odd is Odd.OTHER_UNIT and oddity.meant is not None:
        value = glucose_text(oddity.meant)
        return _("It would fit your usual numbers as {value}. Look at the unit.").format(
            value=value
        )
    if usual is None:
        return ""
    numbers = range_text(usual.lowest, usual.highest, usual.unit)
    return _("Your numbers of the last 90 days were {range}.").format(range=numbers)
