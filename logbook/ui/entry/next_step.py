"""What is said about a reading that was just saved: where it stands, and the one next step."""

from __future__ import annotations

from dataclasses import dataclass

from logbook.domain.glucose import Kind
from logbook.domain.moments import Moment
from logbook.domain.readings import Reading
from logbook.domain.settings import LogSettings
from logbook.domain.states import State
from logbook.domain.targets import Target
from logbook.domain.usual_times import UsualTimes
from logbook.wording import _, cautions
from logbook.wording.dates import clock_text
from logbook.wording.numbers import glucose_text
from logbook.wording.targets import target_text
from logbook.wording.terms import slot_phrase, state_text


@dataclass(frozen=True, slots=True)
class NextStep:
    """The state in words, what it is held against, and what to do now.

    `tests_again` asks for a button that begins the same check once more.
    """

    state: str
    against: str
    to_do: str
    tests_again: bool = False


def next_step(
    reading: Reading, state: State, target: Target | None, emergency: str, *, is_second: bool
) -> NextStep:
    """The words for a saved reading. The latest low has a page of its own.

    `emergency` is what to call in an emergency, as a word that fits into a sentence; `is_second`
    whether it was tested again because the first number was surprisingly high.
    """
    unit = reading.glucose.unit
    limits = target_text(target, unit)
    match state:
        case State.IN_TARGET:
            return NextStep(
                state_text(state),
                _("Your target is {limits}.").format(limits=limits),
                _("Nothing to do now."),
            )
        case State.ABOVE_TARGET:
            return NextStep(
                state_text(state),
                _("Your target is {limits}.").format(limits=limits),
                _("Nothing to do now."),
            )
        case State.BELOW_TARGET:
            return NextStep(
                state_text(state),
                _("Your target is {limits}.").format(limits=limits),
                _("Follow the plan you agreed with your provider."),
            )
        case State.VERY_HIGH:
            return _very_high(reading, emergency, is_second=is_second)
        case State.LOW | State.VERY_LOW:
            return NextStep(
                state_text(state), "", _("This low is kept. Tell your provider about lows.")
            )
        case State.NOT_JUDGED:
            return NextStep(
                "",
                _("No target is agreed for this time of day."),
                _("Nothing to do now."),
            )


def _very_high(reading: Reading, emergency: str, *, is_second: bool) -> NextStep:
    words = state_text(State.VERY_HIGH)
    if reading.glucose.kind is Kind.READS_HIGH:
        if is_second:
            return NextStep(words, "", cautions.meter_shows_hi_again(emergency))
        again = _("Wash and dry your hands, then test again with a new strip.")
        return NextStep(words, "", again, tests_again=True)
    if is_second:
        advice = f"{cautions.no_extra_medicine()} {cautions.drink_water()}"
        return NextStep(words, "", advice)
    return NextStep(
        words, "", cautions.surprising_high(glucose_text(reading.glucose)), tests_again=True
    )


def recovery_texts(settings: LogSettings) -> list[str]:
    """What to do after a low that is over."""
    texts = [cautions.recovered()]
    # "Not sure" counts as yes: such medicines can cause long lows.
    if settings.can_have_lows is not False:
        texts.append(_("Check once more after 1 hour, and before you sleep."))
    return texts


def next_check_text(usual: UsualTimes, now: Moment) -> str:
    """The next check by the person's own habit; empty where nothing is usual."""
    found = usual.next_after(now)
    if found is None:
        return ""
    check, is_tomorrow = found
    when = slot_phrase(check.slot)
    if is_tomorrow:
        return _("You usually check next: tomorrow, {when}, about {time}.").format(
            when=when, time=clock_text(check.at)
        )
    return _("You usually check next: {when}, about {time}.").format(
        when=when, time=clock_text(check.at)
    )
