"""What the domain's codes are called: times of day, states, feelings, reasons and the like.

`..._text` stands alone, on a button or in a table, with a capital; `..._phrase` stands inside a
sentence. Names of fingers and sides are in `sites`, targets in `targets`.
"""

from __future__ import annotations

from logbook.domain.answers import Asked, Said
from logbook.domain.glucose import Kind
from logbook.domain.happenings import StripFailure, What
from logbook.domain.kit.lancets import LancetChangeReason, LancetHabit
from logbook.domain.readings import Difference, Doubt, Feeling, Source
from logbook.domain.settings import HandsPricked, RotationHabit
from logbook.domain.slots import Purpose, Slot
from logbook.domain.spells import SpellKind
from logbook.domain.states import State
from logbook.domain.targets import SetBy, TargetKind, Verdict
from logbook.wording import _, mark

# --- times of day ---------------------------------------------------------------------------------

_SLOT = {
    Slot.FASTING: mark("Fasting (before breakfast)"),
    Slot.AFTER_BREAKFAST: mark("After breakfast"),
    Slot.BEFORE_LUNCH: mark("Before lunch"),
    Slot.AFTER_LUNCH: mark("After lunch"),
    Slot.BEFORE_DINNER: mark("Before dinner"),
    Slot.AFTER_DINNER: mark("After dinner"),
    Slot.BEFORE_SNACK: mark("Before a snack"),
    Slot.AFTER_SNACK: mark("After a snack"),
    Slot.BETWEEN_MEALS: mark("Between meals"),
    Slot.BEDTIME: mark("Bedtime"),
    Slot.NIGHT: mark("Night"),
    Slot.OTHER: mark("Another time"),
}

_SLOT_PHRASE = {
    Slot.FASTING: mark("fasting (before breakfast)"),
    Slot.AFTER_BREAKFAST: mark("after breakfast"),
    Slot.BEFORE_LUNCH: mark("before lunch"),
    Slot.AFTER_LUNCH: mark("after lunch"),
    Slot.BEFORE_DINNER: mark("before dinner"),
    Slot.AFTER_DINNER: mark("after dinner"),
    Slot.BEFORE_SNACK: mark("before a snack"),
    Slot.AFTER_SNACK: mark("after a snack"),
    Slot.BETWEEN_MEALS: mark("between meals"),
    Slot.BEDTIME: mark("at bedtime"),
    Slot.NIGHT: mark("at night"),
    Slot.OTHER: mark("at another time"),
}

# Two lines over a narrow column; "Fasting" never stands without "before breakfast".
_SLOT_COLUMN = {
    Slot.FASTING: (mark("Before"), mark("breakfast")),
    Slot.AFTER_BREAKFAST: (mark("After"), mark("breakfast")),
    Slot.BEFORE_LUNCH: (mark("Before"), mark("lunch")),
    Slot.AFTER_LUNCH: (mark("After"), mark("lunch")),
    Slot.BEFORE_DINNER: (mark("Before"), mark("dinner")),
    Slot.AFTER_DINNER: (mark("After"), mark("dinner")),
    Slot.BEFORE_SNACK: (mark("Before"), mark("snack")),
    Slot.AFTER_SNACK: (mark("After"), mark("snack")),
    Slot.BETWEEN_MEALS: (mark("Between"), mark("meals")),
    Slot.BEDTIME: (mark("Bedtime"), ""),
    Slot.NIGHT: (mark("Night"), ""),
    Slot.OTHER: (mark("Another"), mark("time")),
}


def slot_text(slot: Slot) -> str:
    """The time of day on a tile or in a table: "Fasting (before breakfast)"."""
    return _(_SLOT[slot])


def slot_phrase(slot: Slot) -> str:
    """The time of day inside a sentence: "after lunch", "at bedtime"."""
    return _(_SLOT_PHRASE[slot])


def slot_column(slot: Slot) -> tuple[str, str]:
    """Two short lines for the head of a narrow column; the second may be empty."""
    first, second = _SLOT_COLUMN[slot]
    return _(first), _(second)


_PURPOSE = {
    Purpose.PLANNED: mark("Planned check"),
    Purpose.RECHECK: mark("Recheck after a low"),
    Purpose.REPEAT: mark("Tested again"),
    Purpose.FELT_SOMETHING: mark("Felt something"),
    Purpose.BEFORE_DRIVING: mark("Before driving"),
    Purpose.EXTRA: mark("Extra check"),
}


def purpose_text(purpose: Purpose) -> str:
    """Why the check was made."""
    return _(_PURPOSE[purpose])


# --- where a reading stands -----------------------------------------------------------------------

_STATE = {
    State.VERY_LOW: mark("Very low"),
    State.LOW: mark("Low"),
    State.BELOW_TARGET: mark("Below target, not low"),
    State.IN_TARGET: mark("In target"),
    State.ABOVE_TARGET: mark("Above target"),
    State.VERY_HIGH: mark("Very high"),
    State.NOT_JUDGED: mark("No target agreed"),
}

_VERDICT = {
    Verdict.BELOW: mark("Below target"),
    Verdict.IN_TARGET: mark("In target"),
    Verdict.ABOVE: mark("Above target"),
}

_KIND = {
    Kind.NUMBER: mark("A number"),
    Kind.READS_LOW: mark("Meter shows LO"),
    Kind.READS_HIGH: mark("Meter shows HI"),
}


def state_text(state: State) -> str:
    """Where a reading stands: "Below target, not low"."""
    return _(_STATE[state])


def verdict_text(verdict: Verdict) -> str:
    """How a value stands to its target."""
    return _(_VERDICT[verdict])


def kind_text(kind: Kind) -> str:
    """What the meter showed: a number, LO or HI."""
    return _(_KIND[kind])


# --- circumstances --------------------------------------------------------------------------------

_SOURCE = {
    Source.TYPED: mark("Written down"),
    Source.COPIED_FROM_METER: mark("Copied from the meter"),
    Source.IMPORTED: mark("Taken in from a file"),
}

_FEELING = {
    Feeling.WELL: mark("Well"),
    Feeling.SHAKY: mark("Shaky"),
    Feeling.SWEATY: mark("Sweaty"),
    Feeling.DIZZY: mark("Dizzy"),
    Feeling.CONFUSED: mark("Confused"),
    Feeling.WEAK: mark("Weak"),
    Feeling.HUNGRY: mark("Hungry"),
    Feeling.THIRSTY: mark("Thirsty"),
    Feeling.UNWELL: mark("Unwell"),
}

_DIFFERENCE = {
    Difference.ATE_MORE: mark("Ate more"),
    Difference.ATE_LESS: mark("Ate less"),
    Difference.ATE_LATE: mark("Ate late"),
    Difference.MORE_ACTIVE: mark("More active"),
    Difference.LESS_ACTIVE: mark("Less active"),
    Difference.ILL: mark("Ill"),
    Difference.STRESS: mark("Stress"),
    Difference.POOR_SLEEP: mark("Slept badly"),
    Difference.ALCOHOL: mark("Alcohol"),
    Difference.MEDICINE_LATE: mark("Medicine taken late"),
    Difference.MEDICINE_MISSED: mark("Medicine not taken"),
    Difference.OTHER: mark("Something else"),
}

_DOUBT = {
    Doubt.UNWASHED_FINGER: mark("Not believed: unwashed finger"),
    Doubt.STRIP: mark("Not believed: the strip"),
    Doubt.METER: mark("Not believed: the meter"),
    Doubt.OTHER: mark("Not believed: another reason"),
}


def source_text(source: Source) -> str:
    """How a reading came into the log."""
    return _(_SOURCE[source])


def feeling_text(feeling: Feeling) -> str:
    """What the person felt."""
    return _(_FEELING[feeling])


def difference_text(difference: Difference) -> str:
    """What was different from an ordinary day."""
    return _(_DIFFERENCE[difference])


def doubt_text(doubt: Doubt) -> str:
    """Why a number is not believed."""
    return _(_DOUBT[doubt])


# --- what happened --------------------------------------------------------------------------------

_WHAT = {
    What.FELT_LOW_TREATED: mark("Felt low and treated it"),
    What.NEEDED_HELP: mark("Someone had to help"),
    What.AMBULANCE: mark("Ambulance or emergency room"),
    What.FALL: mark("A fall"),
    What.STRIP_FAILED: mark("A strip failed"),
    What.CANNOT_EAT_OR_DRINK: mark("Vomiting, or cannot eat or drink"),
}

_STRIP_FAILURE = {
    StripFailure.SAME_DROP: mark("New strip, same drop"),
    StripFailure.PRICKED_AGAIN: mark("Pricked again"),
    StripFailure.ERROR_SHOWN: mark("The meter showed a fault"),
}

_SPELL = {
    SpellKind.ILL: mark("Ill"),
    SpellKind.STEROID: mark("Steroid course"),
    SpellKind.HOSPITAL: mark("In hospital"),
    SpellKind.TRAVEL: mark("Travelling"),
    SpellKind.FASTING_MONTH: mark("Fasting month"),
    SpellKind.NEW_MEDICINE: mark("New medicine or dose"),
    SpellKind.DIALYSIS: mark("Dialysis"),
    SpellKind.OTHER: mark("Other"),
}

_ASKED = {
    Asked.FELT_LOW_COMING: mark("Did you feel the low coming?"),
    Asked.RECHECK_DUE: mark("Time for the recheck"),
    Asked.CALLED: mark("Did you call?"),
    Asked.WATCH_CHECK: mark("Time for another check after the low"),
    Asked.STILL_ILL: mark("Are you still ill?"),
    Asked.KIT_LINE: mark("A line about the kit"),
}

_SAID = {
    Said.YES: mark("Yes"),
    Said.NO: mark("No"),
    Said.NOT_SURE: mark("Not sure"),
    Said.LATER: mark("Not now"),
    Said.NOT_ANSWERED: mark("Not answered"),
}


def what_text(what: What) -> str:
    """What happened without a number."""
    return _(_WHAT[what])


def strip_failure_text(failure: StripFailure) -> str:
    """What was done after a strip failed."""
    return _(_STRIP_FAILURE[failure])


def spell_text(kind: SpellKind) -> str:
    """What kind of stretch of days it was."""
    return _(_SPELL[kind])


def asked_text(asked: Asked) -> str:
    """What the program asked."""
    return _(_ASKED[asked])


def said_text(said: Said) -> str:
    """What was answered."""
    return _(_SAID[said])


# --- fingers and lancet ---------------------------------------------------------------------------

_ROTATION = {
    RotationHabit.LONGEST_REST: mark("The finger that rested longest"),
    RotationHabit.ONE_FINGER_A_DAY: mark("One finger a day"),
    RotationHabit.ONE_HAND_A_WEEK: mark("One hand a week"),
}

_HANDS = {
    HandsPricked.OTHER_HAND: mark("Only the hand that does not hold the device"),
    HandsPricked.BOTH: mark("Both hands"),
}

_LANCET_HABIT = {
    LancetHabit.NEW_EACH_TIME: mark("A new lancet for every check"),
    LancetHabit.REUSE: mark("The same lancet several times"),
}

_LANCET_REASON = {
    LancetChangeReason.USUAL: mark("As usual"),
    LancetChangeReason.DULL: mark("It was blunt"),
    LancetChangeReason.PAINFUL: mark("It hurt"),
    LancetChangeReason.DROPPED: mark("It was dropped"),
    LancetChangeReason.ILL: mark("After an illness"),
}


_ROTATION_IN_SHORT = {
    RotationHabit.LONGEST_REST: mark("longest rested"),
    RotationHabit.ONE_FINGER_A_DAY: mark("one finger a day"),
    RotationHabit.ONE_HAND_A_WEEK: mark("one hand a week"),
}


def rotation_habit_in_short(habit: RotationHabit) -> str:
    """The same in a word or two, below a name."""
    return _(_ROTATION_IN_SHORT[habit])


def rotation_habit_text(habit: RotationHabit) -> str:
    """How the fingers share the work."""
    return _(_ROTATION[habit])


def hands_pricked_text(hands: HandsPricked) -> str:
    """Which hands are pricked."""
    return _(_HANDS[hands])


def lancet_habit_text(habit: LancetHabit) -> str:
    """How often the lancet is changed."""
    return _(_LANCET_HABIT[habit])


def lancet_reason_text(reason: LancetChangeReason) -> str:
    """Why a new lancet was put in."""
    return _(_LANCET_REASON[reason])


# --- targets --------------------------------------------------------------------------------------

_TARGET_KIND = {
    TargetKind.FASTING: mark("Fasting (before breakfast)"),
    TargetKind.BEFORE_MEALS: mark("Before meals"),
    TargetKind.AFTER_MEALS: mark("After meals"),
    TargetKind.BEDTIME: mark("Bedtime"),
    TargetKind.NIGHT: mark("Night"),
}

_SET_BY = {
    SetBy.PROVIDER: mark("Set by the provider"),
    SetBy.SELF: mark("Own choice"),
    SetBy.PUBLISHED: mark("Published starting point"),
}


def target_kind_text(kind: TargetKind) -> str:
    """The times for which a target is agreed."""
    return _(_TARGET_KIND[kind])


def set_by_text(set_by: SetBy) -> str:
    """Whose numbers a target's are."""
    return _(_SET_BY[set_by])
