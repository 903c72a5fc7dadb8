"""What the form shows from the log: usual times, the advised finger, recent numbers."""

from __future__ import annotations

from dataclasses import dataclass

from logbook.domain.plausibility import USUAL_DAYS
from logbook.domain.series import Series
from logbook.domain.slots import Purpose
from logbook.domain.usual_times import UsualTimes, usual_times
from logbook.ui.desk import Desk
from logbook.ui.entry.fingers import FingerNews, finger_news
from logbook.ui.entry.saving import recent_period


@dataclass(frozen=True, slots=True)
class FormNews:
    """`series` holds the last 90 days."""

    series: Series
    usual: UsualTimes
    fingers: FingerNews


def read_form_news(desk: Desk, purpose: Purpose) -> FormNews:
    """Read it now. A recheck takes a fingertip, never another place."""
    now, settings = desk.now(), desk.book.settings
    series = desk.book.series(recent_period(now, settings, USUAL_DAYS))
    usual = usual_times(series, now, settings.day_starts_at)
    fingers = finger_news(desk, now, fingertips_only=purpose is Purpose.RECHECK)
    return FormNews(series, usual, fingers)
