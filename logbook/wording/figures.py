"""Words beside figures: when there are too few values, and what shares are of."""

from __future__ import annotations

from logbook.domain.figures import Share
from logbook.domain.glucose import Unit
from logbook.wording import _
from logbook.wording.numbers import count_of_text, figure_text, percent_text, readings_text


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
