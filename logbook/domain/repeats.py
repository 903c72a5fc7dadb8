"""A check made again because the first number was a surprise: do the two tell the same?"""

from __future__ import annotations

from logbook.domain.glucose import Glucose, Kind

# Two strips from one meter may differ by 15 % each way and be within ISO 15197:2013; a finger with
# food on it differs by far more. Where the line lies is common practice, no source.
FAR_APART_SHARE = 0.20


def are_far_apart(first: Glucose, again: Glucose) -> bool:
    """Whether two numbers of one occasion differ by more than a fifth of the first.

    Letters tell no size: LO or HI and a number are far apart, the same letters twice are not.
    """
    if first.kind is Kind.NUMBER and again.kind is Kind.NUMBER:
        difference = abs(first.order_steps - again.order_steps)
        return difference > FAR_APART_SHARE * first.order_steps
    return first.kind is not again.kind
