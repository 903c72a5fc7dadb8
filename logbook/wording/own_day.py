"""What the hour at which the person's day starts changes, in words."""

from __future__ import annotations

from datetime import time

from logbook.domain.night_work import sleeps_by_day
from logbook.wording import _
from logbook.wording.dates import clock_text


def day_start_sentences() -> list[str]:
    """What it rules, and what a person who works at night chooses."""
    return [
        _("A check before this time still belongs to the day before, as a late bedtime does."),
        _("Beside that day it is written as after midnight. Screen, report and plan count alike."),
        _("If you work at night, choose the hour at which you get up."),
        _("Meals go by what you eat, not by the clock: breakfast is your first meal after sleep."),
    ]


def day_starts_text(day_starts_at: time) -> str:
    """What is said after a choice."""
    text = _("Your day starts at {time}.").format(time=clock_text(day_starts_at))
    if sleeps_by_day(day_starts_at):
        return f"{text} {_('The night is when you sleep by day.')}"
    return text
