"""What the form shows from the log: what is due, the advised finger, recent numbers."""

from __future__ import annotations

from dataclasses import dataclass

from logbook.domain.moments import Moment
from logbook.domain.plan.due import Due, what_is_due
from logbook.domain.plausibility import USUAL_DAYS
from logbook.domain.series import Series
from logbook.domain.slots import Purpose
from logbook.ui.desk import Desk
from logbook.ui.entry.fingers import FingerNews, finger_news
from logbook.ui.entry.saving import recent_period


@dataclass(frozen=True, slots=True)
class FormNews:
    """`series` holds the last 90 days."""

    series: Series
    due: Due
    fingers: FingerNews


def read_form_news(desk: Desk, purpose: Purpose) -> FormNews:
    """Read it now. A recheck takes a fingertip, never another place."""
    now, settings = desk.now(), desk.book.settings
    series = desk.book.series(recent_period(now, settings, USUAL_DAYS))
    fingers = finger_news(desk, now, fingertips_only=purpose is Purpose.RECHECK)
    return FormNews(series, due_now(desk, series, now), fingers)


def due_now(desk: Desk, series: Series, now: Moment) -> Due:
    """What the plan asks now, or what is usual without one; `series` holds the last 28 days."""
    facts = desk.book.plan_facts(recent_period(now, desk.book.settings, 2))
    return what_is_due(facts, series, now, desk.book.settings)
