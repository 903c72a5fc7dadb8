"""What waits for an answer on Write down: a later check after a low, a call, an illness, the kit.

One button beside the list of pages names the gravest of them; it leads to a step that tells each in
full, with the buttons that settle it. What is due and when is decided by the domain.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import timedelta
from enum import StrEnum
from uuid import UUID

from logbook.domain.answers import Asked, Said
from logbook.domain.call_reasons import Urgency
from logbook.domain.calls import Call, calls
from logbook.domain.low_course import LowCourse
from logbook.domain.moments import Moment
from logbook.domain.next_steps import OwnPlan
from logbook.domain.sick_day import SickDay, sick_day
from logbook.domain.spells import Spell
from logbook.domain.ticks import About
from logbook.ui.desk import Desk
from logbook.ui.entry.saving import answer_of, recent_period
from logbook.wording import _, cautions
from logbook.wording.calls import call_line, urgency_text
from logbook.wording.dates import clock_text, weekday_day_text
from logbook.wording.low_course import watch_text
from logbook.wording.next_steps import own_plan_text
from logbook.wording.terms import asked_text, said_text

# What calls look back over: 14 days, and the days before them that their rules need.
_DAYS_OF_CALLS = 35


class Answered(StrEnum):
    """What the person pressed."""

    CHECKED = "checked"
    NOT_CHECKED = "not_checked"
    FELT = "felt"
    NOT_FELT = "not_felt"
    NOT_SURE = "not_sure"
    CALLED = "called"
    NOT_NOW = "not_now"
    STILL_ILL = "still_ill"
    WELL_AGAIN = "well_again"
    DO_IT = "do_it"
    KIT_LATER = "kit_later"
    COPIES_LATER = "copies_later"
    TRAVELLING = "travelling"
    LIVES_HERE = "lives_here"
    JOURNEY_OVER = "journey_over"
    CLOCK_IS_RIGHT = "clock_is_right"


@dataclass(frozen=True, slots=True)
class Notice:
    """One thing that waits.

    `short` stands on the button, `text` and `details` on the step, the details below the buttons
    where they are many (`asks_first`). `about` is the record that answers are given about,
    `choices` are what can be pressed, with their words. `place` is the page, and the part of
    it, where a thing is done.
    """

    short: str
    text: str
    details: tuple[str, ...]
    about: UUID
    choices: tuple[tuple[Answered, str], ...]
    asks_first: bool = False
    place: str = ""


def read_notices(desk: Desk, course: LowCourse | None, now: Moment) -> tuple[Notice, ...]:
    """All that waits now, the gravest first."""
    later: list[Notice] = []
    found = [] if course is None else list(_watch(course, now))
    for call in open_calls(desk, now):
        is_pressing = call.urgency is not Urgency.THIS_WEEK
        (found if is_pressing else later).append(call_notice(desk, call))
    ill = _illness(desk, now)
    felt = () if course is None else _felt(course, now)
    return (*found, *([] if ill is None else [ill]), *later, *felt)


def open_calls(desk: Desk, now: Moment) -> tuple[Call, ...]:
    """The calls that nobody answered yet."""
    book, settings = desk.book, desk.book.settings
    days = recent_period(now, settings, _DAYS_OF_CALLS)
    return calls(
        book.series(days),
        book.happenings(days),
        book.answers(),
        settings,
        book.ticks(),
        book.spells(),
        book.targets(),
        now,
        medicines_changed=[medicine.holds_from for medicine in book.medicines()],
    )


def call_notice(desk: Desk, call: Call) -> Notice:
    """A call as a notice, with whom to call."""
    settings = desk.book.settings
    providers = [one for one in desk.book.contacts() if one.role in ("provider", "after_hours")]
    numbers = [
        _("{name}: {phone}").format(name=one.name, phone=one.phone)
        for one in providers
        if one.phone
    ]
    return Notice(
        short=urgency_text(call.urgency),
        text=call_line(call, settings.unit, desk.today(), settings.day_starts_at),
        details=tuple(numbers),
        about=UUID(call.about),
        choices=((Answered.CALLED, _("I called")), (Answered.NOT_NOW, _("Not now"))),
    )


def sick_day_texts(desk: Desk, ill: SickDay) -> tuple[str, ...]:
    """What holds on a day of illness, the person's own text first."""
    today = desk.today()
    own = own_plan_text(OwnPlan.SICK_DAY, desk.book.settings)
    texts = [own] if own else []
    often = _("Check every {n} hours while you are awake.").format(n=ill.every_hours)
    texts += [often, cautions.sick_day_sips(), cautions.sick_day_call(), cautions.sick_day_dry()]
    if desk.book.ticks().may_hold(About.SGLT2_INHIBITOR, today):
        texts.append(cautions.ketoacidosis())
    return tuple(texts)


def illness_now(desk: Desk, now: Moment) -> SickDay | None:
    """The illness that goes on, or None."""
    book, settings = desk.book, desk.book.settings
    days = recent_period(now, settings, 2)
    return sick_day(
        book.spells(),
        book.answers(),
        book.series(days),
        now,
        settings=settings,
        plans=book.plans(),
    )


def _watch(course: LowCourse, now: Moment) -> tuple[Notice, ...]:
    text = watch_text(course, now)
    if not text or course.stage.is_open:
        return ()
    short = text
    if course.watch_due_at is not None and not course.is_watch_due(now.instant):
        at = clock_text(Moment.at(course.watch_due_at, now.zone))
        short = _("Check once more at {time}").format(time=at)
    choices: tuple[tuple[Answered, str], ...] = (
        (Answered.NOT_CHECKED, _("I will not check again")),
    )
    if course.is_watch_due(now.instant):
        choices = ((Answered.CHECKED, _("I checked")), *choices)
    return (Notice(short, text, (cautions.watch(),), UUID(course.about), choices),)


def _felt(course: LowCourse, now: Moment) -> tuple[Notice, ...]:
    """The one question about a low that is over, where it was not answered at once."""
    if not course.asks_felt_coming:
        return ()
    text = asked_text(Asked.FELT_LOW_COMING)
    low_at = clock_text(Moment.at(course.low_at, now.zone))
    details = (_("You had a low at {time}.").format(time=low_at),)
    choices = tuple(
        (answered, said_text(said))
        for answered, said in (
            (Answered.FELT, Said.YES),
            (Answered.NOT_FELT, Said.NO),
            (Answered.NOT_SURE, Said.NOT_SURE),
        )
    )
    return (Notice(text, text, details, UUID(course.about), choices),)


def _illness(desk: Desk, now: Moment) -> Notice | None:
    ill = illness_now(desk, now)
    if ill is None:
        return None
    first, today = ill.spell.first, desk.today()
    since = _("today") if first == today else weekday_day_text(first)
    next_check = clock_text(ill.next_check_at)
    is_due = ill.next_check_at.instant <= now.instant
    due = (
        _("An extra check is due now.")
        if is_due
        else _("Next extra check about {time}.").format(time=next_check)
    )
    since_and_due = _("Ill since {day}. {due}").format(day=since, due=due)
    text, details = since_and_due, sick_day_texts(desk, ill)
    short = _("Ill: check now") if is_due else _("Ill: check about {time}").format(time=next_check)
    choices: tuple[tuple[Answered, str], ...] = ((Answered.WELL_AGAIN, _("I am well again")),)
    if ill.asks_still_ill:
        short = text = _("Are you still ill?")
        details = (since_and_due, *details)
        choices = (
            (Answered.STILL_ILL, _("Yes, still ill")),
            (Answered.WELL_AGAIN, _("No, I am well again")),
        )
    return Notice(short, text, details, ill.spell.id, choices, asks_first=True)


def settle_notice(desk: Desk, notice: Notice, answered: Answered) -> bool:
    """Keep what the person pressed; whether it could be kept."""
    now = desk.now()
    if answered is Answered.DO_IT:
        desk.go_to(notice.place)
        return False
    if answered is Answered.COPIES_LATER:
        desk.prefer(copies_not_asked_on=desk.today().isoformat())
        return True
    asked, said = {
        Answered.CHECKED: (Asked.WATCH_CHECK, Said.YES),
        Answered.NOT_CHECKED: (Asked.WATCH_CHECK, Said.NO),
        Answered.FELT: (Asked.FELT_LOW_COMING, Said.YES),
        Answered.NOT_FELT: (Asked.FELT_LOW_COMING, Said.NO),
        Answered.NOT_SURE: (Asked.FELT_LOW_COMING, Said.NOT_SURE),
        Answered.CALLED: (Asked.CALLED, Said.YES),
        Answered.NOT_NOW: (Asked.CALLED, Said.LATER),
        Answered.STILL_ILL: (Asked.STILL_ILL, Said.YES),
        Answered.WELL_AGAIN: (Asked.STILL_ILL, Said.NO),
        Answered.KIT_LATER: (Asked.KIT_LINE, Said.LATER),
    }[answered]
    answer = answer_of(notice.about, asked, said, now)
    if answered is not Answered.WELL_AGAIN:
        return desk.write(desk.book.add, answer) is not None
    spell = next((one for one in desk.book.spells() if one.id == notice.about), None)
    if spell is None or desk.write(desk.book.replace, _ended(spell, desk)) is None:
        return False
    # Ill for a part of one day only: the answer tells what the days of the spell can't.
    return spell.first < desk.today() or desk.write(desk.book.add, answer) is not None


def _ended(spell: Spell, desk: Desk) -> Spell:
    """Well again today: yesterday was the last day ill, but never before the first."""
    return replace(spell, last=max(spell.first, desk.today() - timedelta(days=1)))
