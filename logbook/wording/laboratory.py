"""Laboratory A1C beside the log, in words for the person and for the provider's paper."""

from __future__ import annotations

from logbook.domain.a1c_comparison import A1CBesideLog, A1CVerdict, NotCompared
from logbook.domain.laboratory import A1CUnit, LabA1C
from logbook.wording import _, mark
from logbook.wording.dates import day_text
from logbook.wording.numbers import (
    figure_text,
    number_text,
    percent_text,
    readings_text,
    steps_text,
)

_UNIT = {
    A1CUnit.PERCENT: mark("percent (NGSP)"),
    A1CUnit.MMOL_MOL: mark("mmol/mol (IFCC)"),
}

_NOT_COMPARED = {
    NotCompared.TOO_FEW_READINGS: mark(
        "The two are not compared: 10 readings at each of 3 times of day are needed."
    ),
    NotCompared.OUTSIDE_METER_RANGE: mark(
        "The two are not compared: some readings were outside the meter's range."
    ),
    NotCompared.SOMETHING_CAN_FOOL: mark(
        "The two are not compared: something noted in My plan can change one of them."
    ),
}

_FOR_THE_PERSON = {
    A1CVerdict.LOG_IS_LOWER: mark(
        "Your readings are lower than this A1C suggests. It is worth asking your provider about."
    ),
    A1CVerdict.LOG_IS_HIGHER: mark(
        "Your readings are higher than this A1C suggests. It is worth asking your provider about."
    ),
}

_FOR_THE_PROVIDER = {
    A1CVerdict.LOG_IS_LOWER: mark(
        "Log mean below the average that goes with this A1C, by 29 mg/dL (1.6 mmol/L) or more."
    ),
    A1CVerdict.LOG_IS_HIGHER: mark(
        "Log mean above the average that goes with this A1C, by 29 mg/dL (1.6 mmol/L) or more."
    ),
}


def a1c_unit_text(unit: A1CUnit) -> str:
    """The unit with the system it belongs to, for a choice."""
    return _(_UNIT[unit])


def a1c_steps_text(steps: int, unit: A1CUnit) -> str:
    """A value as a laboratory prints it: "7.2%", "55 mmol/mol"."""
    if unit is A1CUnit.PERCENT:
        return percent_text(steps / unit.steps_per_one, 1)
    return f"{number_text(steps)} {unit.value}"


def a1c_text(a1c: LabA1C) -> str:
    """As printed, with the other unit beside it: "7.2% (55 mmol/mol)"."""
    return _("{printed} ({other})").format(
        printed=a1c_steps_text(a1c.steps, a1c.unit),
        other=a1c_steps_text(a1c.steps_in(a1c.unit.other), a1c.unit.other),
    )


def a1c_with_day_text(a1c: LabA1C) -> str:
    """The value and the day of the blood sample."""
    return _("Laboratory A1C of {day}: {value}").format(
        day=day_text(a1c.drawn_on), value=a1c_text(a1c)
    )


def not_compared_text(reason: NotCompared) -> str:
    """Why the two numbers only stand side by side."""
    return _(_NOT_COMPARED[reason])


def both_numbers(beside: A1CBesideLog) -> list[str]:
    """The A1C, the average that goes with it, and the log's mean, each with where it comes from."""
    unit = beside.log.unit
    lines = [
        a1c_with_day_text(beside.a1c) + ".",
        _("In studies an average of {average} went with such an A1C.").format(
            average=steps_text(beside.adag_steps, unit)
        ),
    ]
    if not beside.log.count:
        lines.append(_("The log has no readings in the 90 days before it."))
    elif beside.log.is_complete:
        lines.append(
            _("Mean of the log in the 90 days before it: {mean} ({readings}).").format(
                mean=figure_text(beside.log.mean, unit), readings=readings_text(beside.log.count)
            )
        )
    else:
        lines.append(
            _("Middle value of the log in the 90 days before it: {median} ({readings}).").format(
                median=figure_text(beside.log.median, unit),
                readings=readings_text(beside.log.count),
            )
        )
    return lines


def what_it_means(beside: A1CBesideLog, *, for_provider: bool = False) -> list[str]:
    """What is said about the two numbers; nothing at all when the gap is an ordinary one."""
    words = _FOR_THE_PROVIDER if for_provider else _FOR_THE_PERSON
    if beside.verdict in words:
        return [_(words[beside.verdict])]
    return [not_compared_text(reason) for reason in beside.reasons]


def limits_of_both() -> list[str]:
    """What neither number can say; stands wherever they stand together."""
    return [
        _("People with the same A1C can have quite different averages."),
        _("An A1C counts nights and hours after meals, which fingersticks mostly miss."),
    ]
