"""Words beside figures: when there are too few values, and what shares are of."""

from __future__ import annotations

from logbook.domain.figures import Figures, Share
from logbook.domain.glucose import HI_STEPS, LO_STEPS, Unit
from logbook.domain.levels import HIGH_ABOVE, HIGHER_ABOVE, LOW_BELOW, VERY_LOW_BELOW
from logbook.wording import _
from logbook.wording.numbers import (
    NOTHING,
    count_of_text,
    figure_text,
    number_text,
    percent_text,
    range_text,
    readings_text,
    steps_text,
)


def too_few_text(count: int) -> str:
    """In place of SD, CV, middle half or percentage: "too few to tell (3 readings)"."""
    return _("too few to tell ({readings})").format(readings=readings_text(count))


def share_text(share: Share) -> str:
    """A share with its numbers: "7 of 12, 58%"; without the percentage when it is of too few."""
    numbers = count_of_text(share.part, share.of)
    if not share.is_enough:
        return numbers
    return _("{numbers}, {percent}").format(numbers=numbers, percent=percent_text(share.percent))


def share_with_interval_text(share: Share) -> str:
    """A share with its 95 % interval: "7 of 12, 58% (32% to 81%)"."""
    interval = share.interval_percent
    if interval is None or not share.is_enough:
        return share_text(share)
    low, high = interval
    return _("{share} ({low} to {high})").format(
        share=share_text(share), low=percent_text(low), high=percent_text(high)
    )


def change_in_steps_text(steps: float, unit: Unit, *, with_unit: bool = True) -> str:
    """A rise or fall with its sign, from steps of `unit`: "+34 mg/dL", "−0.6 mmol/L"."""
    sign = "+" if steps > 0 else "−" if steps < 0 else "±"
    return sign + figure_text(abs(steps) / unit.steps_per_one, unit, with_unit=with_unit)


def middle_text(figures: Figures) -> str:
    """The middle value without its unit, or that there are too few values for one."""
    if not figures.is_enough:
        return _("too few to tell")
    return figure_text(figures.median, figures.unit, with_unit=False)


def middle_half_text(figures: Figures) -> str:
    """Between which values the middle half lies, without the unit; a dash where that is not told.

    It is not told of too few values, nor where an end rests on a LO or HI.
    """
    if figures.q1 is None or figures.q3 is None or not figures.is_enough:
        return NOTHING
    return _("{lowest} to {highest}").format(
        lowest=figure_text(figures.q1, figures.unit, with_unit=False),
        highest=figure_text(figures.q3, figures.unit, with_unit=False),
    )


def span_text(figures: Figures, *, with_unit: bool = False) -> str:
    """Lowest to highest, LO and HI included; a dash for nothing."""
    unit = figures.unit
    ends = [LO_STEPS] if figures.reads_low else []
    ends += [
        round(value * unit.steps_per_one)
        for value in (figures.least, figures.greatest)
        if value is not None
    ]
    if figures.reads_high:
        ends.append(HI_STEPS)
    return range_text(ends[0], ends[-1], unit, with_unit=with_unit) if ends else NOTHING


def figures_sentence(name: str, figures: Figures) -> str:
    """One time of day in a sentence: how many, the middle value, the middle half."""
    readings = readings_text(figures.count)
    if not figures.is_enough:
        return _("{name}: {too_few}.").format(name=name, too_few=too_few_text(figures.count))
    middle = figure_text(figures.median, figures.unit)
    if figures.q1 is None or figures.q3 is None:
        return _("{name}: {readings}, middle value {middle}.").format(
            name=name, readings=readings, middle=middle
        )
    return _("{name}: {readings}, middle value {middle}, middle half {q1} to {q3}.").format(
        name=name,
        readings=readings,
        middle=middle,
        q1=figure_text(figures.q1, figures.unit, with_unit=False),
        q3=figure_text(figures.q3, figures.unit),
    )


def spread_sentence(figures: Figures) -> str:
    """Mean, SD and CV of all readings, or why they are not told."""
    readings = readings_text(figures.count)
    if not figures.is_complete:
        outside = figures.reads_low + figures.reads_high
        return _("{readings}, {n} of them outside the meter’s range: no mean, SD or CV.").format(
            readings=readings, n=number_text(outside)
        )
    if not figures.is_enough:
        return _("Mean {mean}. SD, CV and middle half: {too_few}.").format(
            mean=figure_text(figures.mean, figures.unit), too_few=too_few_text(figures.count)
        )
    return _("{readings}: mean {mean}, SD {sd}, CV {cv}.").format(
        readings=readings,
        mean=figure_text(figures.mean, figures.unit),
        sd=figure_text(figures.sd, figures.unit),
        cv=percent_text(figures.cv_percent),
    )


def band_limits(unit: Unit) -> list[str]:
    """The limits of the bands without the unit, from the lowest band to the highest."""
    very_low, low = VERY_LOW_BELOW[unit], LOW_BELOW[unit]
    high, higher = HIGH_ABOVE[unit], HIGHER_ABOVE[unit]
    return [
        _("below {limit}").format(limit=steps_text(very_low, unit, with_unit=False)),
        range_text(very_low, low - 1, unit, with_unit=False),
        range_text(low, high, unit, with_unit=False),
        range_text(high + 1, higher, unit, with_unit=False),
        _("above {limit}").format(limit=steps_text(higher, unit, with_unit=False)),
    ]
