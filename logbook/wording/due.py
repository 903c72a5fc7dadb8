"""What is due in words: the title of Write down, the day of the plan, what is said after a press.

What was not done is told as a count or a name and never as a fault.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, time

from logbook.domain.moments import DAY_STARTS_AT, Moment
from logbook.domain.plan.calendar_days import Reason
from logbook.domain.plan.done import PlanDone
from logbook.domain.plan.due import Basis, Due, DueCheck
from logbook.domain.plan.plans import Pause
from logbook.domain.slots import Slot
from logbook.wording import _, mark
from logbook.wording.dates import (
    clock_text,
    day_text,
    relative_day_text,
    short_day_text,
    weekday_text,
)
from logbook.wording.terms import slot_phrase, slot_text

_REASON = {
    Reason.PLAN: mark("By your plan"),
    Reason.AFTER_MEAL: mark("Counted from your meal"),
    Reason.PROFILE: mark("Before your visit"),
    Reason.ILL: mark("While you are ill"),
    Reason.RECHECK: mark("After a low"),
    Reason.USUAL: mark("By your habit"),
}


def reason_text(reason: Reason) -> str:
    """Why a check is asked."""
    return _(_REASON[reason])


def due_heading(due: Due, now: Moment, day_starts_at: time = DAY_STARTS_AT) -> str:
    """The title of the form: what is due now, by the plan or by habit; else what comes next.

    Short, for it stands in large type above the number; empty where nothing is known.
    """
    if due.now:
        check = due.now[0]
        clock = clock_text(check.at)
        if check.reason is Reason.USUAL:
            return _("{check}: usually about {time}.").format(check=_alone(check.slot), time=clock)
        words = _("Due now: {check} ({time}).")
        if check.reason is Reason.PROFILE:
            words = _("For your visit now: {check}.")
        return words.format(check=_short(check), time=clock)
    if due.pause is not None:
        if due.pause.last is None:
            return pause_sentence(due.pause)
        return _("Your plan is paused until {day}.").format(day=short_day_text(due.pause.last))
    to_come = due.next
    if due.basis is not Basis.PLAN or to_come is None:
        return ""
    if to_come.day != now.day(day_starts_at):
        return _("Nothing more is due today.")
    return _("Next: {check}, {time}.").format(check=_short(to_come), time=clock_text(to_come.at))


def _short(check: DueCheck) -> str:
    if check.reason is Reason.ILL:
        return _("extra check")
    return _("before breakfast") if check.slot is Slot.FASTING else slot_phrase(check.slot)


def _alone(slot: Slot) -> str:
    return _("Before breakfast") if slot is Slot.FASTING else slot_text(slot)


def due_sentence(due: Due, now: Moment, day_starts_at: time = DAY_STARTS_AT) -> str:
    """What is due now, else what comes next, in whole words; empty if nothing can be said.

    A check after a low comes before everything else.
    """
    if due.recheck is not None:
        if now.instant >= due.recheck.at.instant:
            return _("Now due: the check after your low.")
        return _("Next: the check after your low, at {time}.").format(
            time=clock_text(due.recheck.at)
        )
    if due.now:
        check = due.now[0]
        sentence = _("Now due: {check}, about {time}.").format(
            check=check_phrase(check), time=clock_text(check.at)
        )
        if check.reason is Reason.ILL:  # the phrase says so already
            return sentence
        why = _("{reason}.").format(reason=reason_text(check.reason))
        return f"{sentence} {why}"
    upcoming = next_check_sentence(due, now, day_starts_at)
    if due.pause is not None:
        return f"{pause_sentence(due.pause)} {upcoming}".rstrip()
    if due.basis is Basis.USUAL and not upcoming:
        return ""  # the log is too young to say that nothing is due
    nothing = _("Nothing is due now.")
    return f"{nothing} {upcoming}".rstrip()


def later_today_sentence(due: Due) -> str:
    """What follows today after what `due_sentence` names; empty for nothing."""
    named = due.recheck or (due.now[0] if due.now else None)
    checks = [one for one in due.now if one is not named]
    if named is not None and due.next is not None and due.next.day == named.day:
        checks.append(due.next)
    checks += due.later_today
    if not checks:
        return ""
    return _("Later today: {checks}.").format(checks=_listed(checks))


def not_done_sentence(due: Due) -> str:
    """What of today was asked and is over; empty for nothing. It is told on its own day only."""
    if not due.missed_today:
        return ""
    return _("Not done today: {checks}.").format(checks=_listed(due.missed_today))


def done_today_sentence(done: PlanDone) -> str:
    """What of today is done; `done` is of this one day. Empty for nothing."""
    slots = [slot_phrase(one.slot) for one in done.by_slot if one.share.part]
    return _("Done today: {checks}.").format(checks=", ".join(slots)) if slots else ""


def _listed(checks: Iterable[DueCheck]) -> str:
    return ", ".join(
        _("{check} about {time}").format(check=check_phrase(one), time=clock_text(one.at))
        for one in checks
    )


def put_aside_text(slot: Slot) -> str:
    """What is said after "Not today"."""
    return _("Not asked again today: {check}.").format(check=slot_phrase(slot))


def eating_text(slot: Slot, at: Moment) -> str:
    """What is said after "I start eating now": when the check after that meal is due."""
    return _("Check at {time}: {check}.").format(time=clock_text(at), check=slot_phrase(slot))


def next_check_sentence(due: Due, now: Moment, day_starts_at: time = DAY_STARTS_AT) -> str:
    """The next check to come: "Next: before dinner, about 6:00 PM."; empty if none is known."""
    check = due.next
    if check is None:
        return ""
    phrase, clock = check_phrase(check), clock_text(check.at)
    today = now.day(day_starts_at)
    distance = (check.day - today).days
    if distance == 0:
        sentence = _("Next: {check}, about {time}.")
        return sentence.format(check=phrase, time=clock)
    day = relative_day_text(check.day, today)
    if 1 < distance < 7:
        day = weekday_text(check.day)
    return _("Next: {day}, {check}, about {time}.").format(day=day, check=phrase, time=clock)


def check_phrase(check: DueCheck) -> str:
    """The check inside a sentence: "fasting (before breakfast)", "a check while you are ill"."""
    if check.reason is Reason.RECHECK:
        return _("the check after your low")
    if check.reason is Reason.ILL:
        return _("a check while you are ill")
    return slot_phrase(check.slot)


def pause_sentence(pause: Pause) -> str:
    """That nothing is asked, and until when."""
    if pause.last is None:
        return _("Your plan is paused.")
    return _("Your plan is paused until {day}.").format(day=day_text(pause.last))


def pause_text(pause: Pause, today: date) -> str:
    """A pause of today or one to come, with its reason."""
    sentence = pause_sentence(pause)
    if pause.first > today:
        first = day_text(pause.first)
        sentence = _("Your plan pauses from {day} on.").format(day=first)
        if pause.last is not None:
            sentence = _("Your plan pauses from {first} to {last}.").format(
                first=first, last=day_text(pause.last)
            )
    if not pause.reason:
        return sentence
    return _("{sentence} Reason: {reason}").format(sentence=sentence, reason=pause.reason)
