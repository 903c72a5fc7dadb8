"""The one next step after a reading, in sentences: where the number stands, and what to do now."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from logbook.domain.next_steps import OwnPlan, Step, StepCode
from logbook.domain.readings import Reading
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Slot
from logbook.domain.states import State
from logbook.domain.targets import Target
from logbook.wording import _, cautions, mark
from logbook.wording.cautions import CautionFacts
from logbook.wording.emergency import emergency_word
from logbook.wording.numbers import glucose_text
from logbook.wording.targets import target_text


@dataclass(frozen=True, slots=True)
class StepText:
    """Where the number stands, the one thing to do, and the cautions below it.

    `where` is empty where the state's own word says it all, `to_do` where the page of a low does.
    """

    where: str
    to_do: str
    cautions: tuple[str, ...]


def step_text(
    step: Step,
    reading: Reading,
    state: State,
    target: Target | None,
    facts: CautionFacts | None = None,
) -> StepText:
    """The words of a step. `facts` are whom to call and when the recheck is."""
    facts = facts or CautionFacts()
    return StepText(
        where=where_text(reading, state, target, is_little=_is_little(step)),
        to_do=_TO_DO[step.code](reading, facts),
        cautions=tuple(cautions.caution_text(code, facts) for code in step.cautions),
    )


# Of a range, and of a target with one limit only.
_WHERE = {
    State.BELOW_TARGET: (
        mark("Not low, but below your target of {limits}."),
        mark("Not low, but below your target ({limits})."),
    ),
    State.IN_TARGET: (mark("In your target of {limits}."), mark("In your target ({limits}).")),
    State.ABOVE_TARGET: (
        mark("Above your target of {limits}."),
        mark("Above your target ({limits})."),
    ),
}
_BELOW_AT_BEDTIME = (
    mark("Not low, but below your bedtime target of {limits}."),
    mark("Not low, but below your bedtime target ({limits})."),
)
_A_LITTLE_ABOVE = (
    mark("A little above your target of {limits}."),
    mark("A little above your target ({limits})."),
)


def where_text(
    reading: Reading, state: State, target: Target | None, *, is_little: bool = False
) -> str:
    """What a number is held against: "A little above your target of 80 to 130 mg/dL."."""
    unit = reading.glucose.unit
    if state is State.NOT_JUDGED:
        return _("No target is agreed for this time of day.")
    limits = None if target is None else target.limits_in(unit)
    words = _WHERE.get(state)
    if limits is None or words is None:
        return ""
    if state is State.BELOW_TARGET and reading.slot is Slot.BEDTIME:
        words = _BELOW_AT_BEDTIME
    if state is State.ABOVE_TARGET and is_little:
        words = _A_LITTLE_ABOVE
    of_range, of_one = words
    is_range = limits.lower is not None and limits.upper is not None
    return _(of_range if is_range else of_one).format(limits=target_text(target, unit))


def own_plan_text(plan: OwnPlan, settings: LogSettings) -> str:
    """The person's own written plan, in their words."""
    written = {
        OwnPlan.LOW: settings.low_plan,
        OwnPlan.HIGH: settings.high_plan,
        OwnPlan.SICK_DAY: settings.sick_day_plan,
    }[plan]
    return _("Your plan: {plan}").format(plan=written) if written else ""


def _is_little(step: Step) -> bool:
    return step.code is StepCode.NOTHING_LITTLE_ABOVE


def _emergency(facts: CautionFacts) -> str:
    return facts.emergency or emergency_word("")


_TO_DO: dict[StepCode, Callable[[Reading, CautionFacts], str]] = {
    StepCode.TREAT_VERY_LOW: lambda _reading, _facts: "",
    StepCode.TREAT_LOW: lambda _reading, _facts: "",
    StepCode.KEPT_LOW: lambda _reading, _facts: _(
        "This low is kept. Tell your provider about lows."
    ),
    StepCode.KEPT: lambda _reading, _facts: _("This reading is kept. Nothing to do now."),
    StepCode.AFTER_LOW: lambda _reading, _facts: cautions.recovered(),
    StepCode.UNWELL_NOT_LOW: lambda _reading, _facts: cautions.unwell_not_low(),
    StepCode.FOLLOW_BEDTIME_PLAN: lambda _reading, _facts: _("Follow your bedtime plan."),
    StepCode.FOLLOW_PLAN: lambda _reading, _facts: _(
        "Follow the plan you agreed with your provider."
    ),
    StepCode.NOTHING_NOW: lambda _reading, _facts: _("Nothing to do now."),
    StepCode.NOTHING_LITTLE_ABOVE: lambda _reading, _facts: _("Nothing to do now."),
    StepCode.NOTHING_ABOVE: lambda _reading, _facts: _("Nothing to do now."),
    StepCode.NOTHING_NOT_JUDGED: lambda _reading, _facts: _("Nothing to do now."),
    StepCode.TEST_AGAIN: lambda reading, _facts: cautions.surprising_high(
        glucose_text(reading.glucose)
    ),
    StepCode.TEST_AGAIN_NEW_STRIP: lambda _reading, _facts: cautions.meter_shows_hi(),
    StepCode.TEST_AGAIN_IF_SURPRISED: lambda _reading, _facts: cautions.again_if_surprised(),
    StepCode.HIGH_AGAIN: lambda _reading, _facts: _(
        "It is high again. Follow your own plan, or ask your provider."
    ),
    StepCode.CALL_NOW: lambda _reading, facts: cautions.meter_shows_hi_again(_emergency(facts)),
}
