"""The meter's own average and count beside the log, in words. They compare; they prove nothing."""

from __future__ import annotations

from logbook.domain.glucose import Kind
from logbook.domain.meter_average import Completeness, CouldExplain, DaysCounted, LogAndMeter
from logbook.wording import _, mark, ngettext
from logbook.wording.numbers import (
    days_text,
    figure_text,
    glucose_text,
    number_text,
    readings_text,
)

_PHRASE = {
    Completeness.AGREES: mark("agrees"),
    Completeness.LOG_HAS_FEWER: mark("log has fewer readings"),
    Completeness.LOG_HAS_OTHER_NUMBERS: mark("log has other numbers"),
    Completeness.CANNOT_TELL: mark("can't be compared"),
}

_COUNTED = {
    DaysCounted.CALENDAR_DAYS: mark("days counted from midnight"),
    DaysCounted.FULL_DAYS: mark("days counted back from the hour"),
}

_COULD_EXPLAIN = {
    CouldExplain.NOT_WRITTEN_DOWN: mark("Readings in the meter that are not written down yet."),
    CouldExplain.CONTROL_TESTS: mark("Control tests, which some meters count as readings."),
    CouldExplain.OTHER_PEOPLE: mark("Tests that someone else made with this meter."),
    CouldExplain.METER_DATE: mark("A date or time in the meter that is not right."),
    CouldExplain.DAYS_COUNTED: mark("Days that meter and log count from different hours."),
    CouldExplain.OTHER_METER: mark("Readings of another meter that are noted for this one."),
    CouldExplain.OUTSIDE_METER_RANGE: mark("LO and HI, which meters count in different ways."),
    CouldExplain.CROSSED_OUT: mark("Readings that are crossed out in the log."),
    CouldExplain.DAMAGED: mark("Readings that are damaged in the log."),
    CouldExplain.TYPED_DIFFERENTLY: mark("A number written down other than the meter showed it."),
}


def completeness_phrase(verdict: Completeness) -> str:
    """The verdict in two or three words, behind "meter's average"."""
    return _(_PHRASE[verdict])


def days_counted_text(counted: DaysCounted) -> str:
    """Which way of counting days the numbers are for, inside a sentence."""
    return _(_COUNTED[counted])


def could_explain_text(code: CouldExplain) -> str:
    """One thing that can make log and meter differ."""
    return _(_COULD_EXPLAIN[code])


def both_counts(compared: LogAndMeter) -> list[str]:
    """What the meter says and what the log says, over which days."""
    average = compared.average
    days = days_text(average.days)
    if average.count is None:
        meter = _("The meter shows an average of {average} over {days}.").format(
            average=glucose_text(average.glucose), days=days
        )
    else:
        meter = _("The meter shows an average of {average} from {readings} over {days}.").format(
            average=glucose_text(average.glucose),
            readings=readings_text(average.count),
            days=days,
        )
    if compared.log_mean is None:
        log = _("The log has {readings} in these days.").format(
            readings=readings_text(compared.log_count)
        )
    else:
        log = _("The log has an average of {average} from {readings} ({counted}).").format(
            average=figure_text(compared.log_mean, average.glucose.unit),
            readings=readings_text(compared.log_count),
            counted=days_counted_text(compared.counted),
        )
    return [meter, log]


def verdict_sentences(compared: LogAndMeter) -> list[str]:
    """What the comparison says, and how far it goes."""
    if compared.verdict is Completeness.AGREES:
        if compared.average.count is None:
            return [_("The averages agree. The meter's count would tell more.")]
        return [_("Count and average agree.")]
    if compared.verdict is Completeness.LOG_HAS_FEWER:
        if not compared.missing:
            return [_("The log may have fewer readings than the meter.")]
        return [
            ngettext(
                "The meter has {n} reading more than the log.",
                "The meter has {n} readings more than the log.",
                compared.missing,
            ).format(n=number_text(compared.missing))
        ]
    if compared.verdict is Completeness.LOG_HAS_OTHER_NUMBERS:
        if compared.missing is not None and compared.missing < 0:
            return [
                ngettext(
                    "The log has {n} reading more than the meter.",
                    "The log has {n} readings more than the meter.",
                    -compared.missing,
                ).format(n=number_text(-compared.missing))
            ]
        return [_("The averages differ.")]
    if compared.average.glucose.kind is not Kind.NUMBER:
        return [_("The meter's average is outside its range, so it can't be compared.")]
    return [_("A reading in the log is damaged, so the averages can't be compared.")]


def proves_nothing() -> str:
    """How far such a comparison goes; stands wherever it stands."""
    return _("This compares log and meter. It does not show that either is right.")
