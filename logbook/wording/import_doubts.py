"""Sentences about readings of a file that are worth a second look; all of them are kept."""

from __future__ import annotations

from logbook.domain.glucose import Glucose
from logbook.domain.import_doubts import NAMED_AT_MOST, BeyondMeters, ImportDoubts, SharedMinute
from logbook.domain.moments import Moment
from logbook.wording import _, ngettext
from logbook.wording.dates import clock_text, short_day_text
from logbook.wording.numbers import glucose_text, number_text


def shared_minutes_text(doubts: ImportDoubts) -> str:
    """How many new readings share their minute with another one; empty for none."""
    count = doubts.sharing
    if not count:
        return ""
    told = ngettext(
        "{n} new reading has the same time as another one.",
        "{n} new readings have the same time as another one.",
        count,
    ).format(n=number_text(count))
    why = _("It may be a second meter, a wrong clock, or a line typed twice.")
    return " ".join([told, _kept_text(count), why, *_named_text(are_all=doubts.names_all_sharing)])


def beyond_meters_text(doubts: ImportDoubts) -> str:
    """How many new readings none of the person's meters can show; empty for none."""
    count = doubts.beyond
    if not count:
        return ""
    told = ngettext(
        "{n} new reading is outside what your meters show.",
        "{n} new readings are outside what your meters show.",
        count,
    ).format(n=number_text(count))
    why = _("It may be another meter, or a slip of the pen.")
    return " ".join([told, _kept_text(count), why, *_named_text(are_all=doubts.names_all_beyond)])


def shared_minute_heads() -> list[str]:
    """The heads of the table of `shared_minute_cells`."""
    return [_("When"), _("In this file"), _("In your log")]


def shared_minute_cells(shared: SharedMinute) -> list[str]:
    """Day and clock, the new numbers, and those that are in the log."""
    return [_when_text(shared.at), _numbers_text(shared.new), _numbers_text(shared.in_log)]


def beyond_meters_heads() -> list[str]:
    """The heads of the table of `beyond_meters_cells`."""
    return [_("When"), _("In this file"), _("Your meters show")]


def beyond_meters_cells(beyond: BeyondMeters) -> list[str]:
    """Day and clock, the number, and how far the meters go on that side."""
    return [_when_text(beyond.at), glucose_text(beyond.glucose), _limit_text(beyond)]


def shared_minute_line(shared: SharedMinute) -> str:
    """One minute with several readings, on one line."""
    if not shared.in_log:
        return _("{when}: {numbers} in this file").format(
            when=_when_text(shared.at), numbers=_numbers_text(shared.new)
        )
    return _("{when}: {numbers} in this file, {others} in the log").format(
        when=_when_text(shared.at),
        numbers=_numbers_text(shared.new),
        others=_numbers_text(shared.in_log),
    )


def beyond_meters_line(beyond: BeyondMeters) -> str:
    """One number that no meter shows, on one line."""
    return _("{when}: {number}, your meters show {limit}").format(
        when=_when_text(beyond.at), number=glucose_text(beyond.glucose), limit=_limit_text(beyond)
    )


def rows_shown_text(first: int, last: int, of: int) -> str:
    """Which rows of a list are in sight; empty where all are."""
    if (first, last) == (1, of):
        return ""
    return _("Rows {first} to {last} of {count}").format(
        first=number_text(first), last=number_text(last), count=number_text(of)
    )


def _kept_text(count: int) -> str:
    return ngettext("It is kept.", "All are kept.", count)


def first_named_text() -> str:
    """That a list is cut short."""
    return _("The first {n} are named.").format(n=number_text(NAMED_AT_MOST))


def _named_text(*, are_all: bool) -> list[str]:
    return [] if are_all else [first_named_text()]


def _when_text(at: Moment) -> str:
    return _("{day}, {time}").format(
        day=short_day_text(at.wall.date(), with_year=True), time=clock_text(at)
    )


def _numbers_text(numbers: tuple[Glucose, ...]) -> str:
    return ", ".join(map(glucose_text, numbers)) or _("nothing")


def _limit_text(beyond: BeyondMeters) -> str:
    limit = glucose_text(beyond.limit)
    if beyond.is_above:
        return _("at most {number}").format(number=limit)
    return _("at least {number}").format(number=limit)
