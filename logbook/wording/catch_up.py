"""Sentences of catching up: many readings at once, from the meter's memory or from paper."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import timedelta

from logbook.domain.catch_up import From, Tally
from logbook.domain.glucose import Glucose
from logbook.domain.sheet_column import ClockFrom, NextRow
from logbook.wording import _, mark, ngettext
from logbook.wording.dates import duration_text
from logbook.wording.numbers import glucose_text, number_text, readings_text

_FROM = {
    From.METER: mark("The meter’s memory"),
    From.PAPER: mark("A sheet of paper"),
}


_NEXT_ROWS = {
    NextRow.CHECK_BEFORE: mark("Reading by reading"),
    NextRow.DAY_EARLIER: mark("Same column, a day earlier"),
    NextRow.DAY_LATER: mark("Same column, a day later"),
}
_CLOCKS_FROM = {
    ClockFrom.PLAN: mark("The time is from your plan; type over it if need be."),
    ClockFrom.HABIT: mark("The time is your usual one; type over it if need be."),
    ClockFrom.COMMON: mark("The time is a common one; type over it if need be."),
}


def next_row_text(way: NextRow) -> str:
    """What the next row of a sheet is, on a tile."""
    return _(_NEXT_ROWS[way])


def column_told_text(told_by: ClockFrom) -> str:
    """Where the time of a row of a column comes from, and how to go on where it is empty."""
    return f"{_(_CLOCKS_FROM[told_by])} {_('Empty box: type - and Enter.')}"


def there_text(there: Sequence[Glucose]) -> str:
    """What the log has for a row that is not typed yet; empty for nothing."""
    if not there:
        return ""
    return _("In your log: {numbers}.").format(numbers=", ".join(map(glucose_text, there)))


def about_note() -> str:
    """What is noted at a reading whose sheet gave no clock time."""
    return _("about this time")


def from_text(origin: From) -> str:
    """Where the rows come from, on a tile."""
    return _(_FROM[origin])


def offset_text(ahead: timedelta) -> str:
    """That the meter's clock is wrong, and what is done about it; empty for a right one."""
    if not ahead:
        return ""
    by = duration_text(abs(ahead))
    if ahead > timedelta(0):
        return _(
            "Your meter’s clock is {time} ahead. Type what it shows; the log puts it right."
        ).format(time=by)
    return _(
        "Your meter’s clock is {time} behind. Type what it shows; the log puts it right."
    ).format(time=by)


def save_text(count: int) -> str:
    """The main action; empty while there is nothing to save."""
    if not count:
        return ""
    return _("Save all {n}").format(n=number_text(count))


def saved_text(count: int, lows: int) -> str:
    """After Save."""
    saved = ngettext("{readings} is saved.", "{readings} are saved.", count).format(
        readings=readings_text(count)
    )
    if not lows:
        return saved
    more = ngettext("{n} of them is a low.", "{n} of them are lows.", lows)
    return f"{saved} {more.format(n=number_text(lows))}"


def tally_text(found: Tally) -> str:
    """What the meter's own count says beside the log's."""
    if found.missing == 0:
        return _("The log and the meter agree: {readings}.").format(
            readings=readings_text(found.in_log)
        )
    number = number_text(abs(found.missing))
    if found.missing > 0:
        text = ngettext(
            "The log holds {readings}. {n} more is in the meter.",
            "The log holds {readings}. {n} more are in the meter.",
            found.missing,
        )
    else:
        text = ngettext(
            "The log holds {readings}, {n} more than the meter.",
            "The log holds {readings}, {n} more than the meter.",
            -found.missing,
        )
    return text.format(readings=readings_text(found.in_log), n=number)
