"""What is said when no low was seen: good news only if someone looked."""

from __future__ import annotations

from logbook.domain.low_facts import Looked
from logbook.domain.moments import Period
from logbook.wording import _
from logbook.wording.numbers import days_text, number_text


def no_lows_text(period: Period, looked: Looked) -> str:
    """That none was seen in `period`, with how often anyone looked at night."""
    return _("No lows seen in {days}. Checks between bedtime and waking: {n}.").format(
        days=days_text(period.days), n=number_text(looked.checks_at_night)
    )
