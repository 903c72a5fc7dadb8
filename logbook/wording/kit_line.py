"""The one line of the kit on Write down, and the questions that the kit gives for a visit."""

from __future__ import annotations

from datetime import date

from logbook.domain.kit.clock_checks import ClockReason
from logbook.domain.kit.kit_data import KitData
from logbook.domain.kit.kit_line import KitLine, KitLineKind
from logbook.domain.kit.kit_questions import KitAsk, KitQuestion
from logbook.domain.kit.meters import own_meters
from logbook.domain.kit.supplies import ForLows
from logbook.domain.kit.vial_life import Life
from logbook.wording import _, mark, ngettext
from logbook.wording.dates import day_text, relative_day_text
from logbook.wording.kit import enough_until_text, look_at_fill_line, order_by_text, strips_text
from logbook.wording.kit_control import clock_check_text, due_text, stop_meter
from logbook.wording.kit_terms import for_lows_text
from logbook.wording.numbers import number_text, times_text

_QUESTION = {
    KitAsk.METER_FAILED: mark("My meter failed its control tests. How shall I check until then?"),
    KitAsk.NO_CONTROL_SOLUTION: mark(
        "I have no control solution. How can I know that my meter is right?"
    ),
    KitAsk.NO_GLUCAGON: mark("I use insulin and have no glucagon in date. Should I have some?"),
}


def kit_line_text(line: KitLine, kit: KitData, today: date) -> str:
    """What the line says, with the meter's name where there are several of one's own."""
    text = _line(line, today)
    own = own_meters(kit.meters, today)
    name = next((meter.name for meter in own if meter.id == line.meter_id), "")
    if len(own) < 2 or not name:
        return text
    return _("{meter}: {text}").format(meter=name, text=text)


def question_text(question: KitQuestion) -> str:
    """A question for the provider, as the person would ask it."""
    if question.ask in _QUESTION:
        return _(_QUESTION[question.ask])
    if question.ask is KitAsk.COMPARISON_OUTSIDE:
        return _(
            "My meter and the laboratory were too far apart {times}. Shall we compare again?"
        ).format(times=times_text(question.count))
    if question.ask is KitAsk.OUT_OF_DATE_STRIPS:
        return ngettext(
            "{n} reading came from an out-of-date strip. Can it be used?",
            "{n} readings came from out-of-date strips. Can they be used?",
            question.count,
        ).format(n=number_text(question.count))
    return _("My strips run out before the next refill. Can I have more?")


def _line(line: KitLine, today: date) -> str:
    match line.kind:
        case KitLineKind.STOP_METER:
            return stop_meter()
        case KitLineKind.STOP_STRIPS:
            return _(
                "Two control tests in a row failed. Stop using these strips. Open a new strip pot."
            )
        case KitLineKind.TEST_AGAIN:
            return _("The control test failed once. Go through the list, then test once more.")
        case KitLineKind.CONTROL_DUE:
            return due_text(() if line.reason is None else (line.reason,))
        case KitLineKind.NO_VIAL_OPEN:
            return _("No strip pot (vial) is open.")
        case KitLineKind.LANCET_BLUNT:
            return _("This lancet was used {times}. Blunt lancets hurt more.").format(
                times=times_text(line.lancet_uses or 0)
            )
        case KitLineKind.SHARPS_LOOK:
            return look_at_fill_line(0 if line.sharps is None else line.sharps.total)
        case KitLineKind.CLOCK_CHECK:
            return clock_check_text(line.clock or ClockReason.CLOCKS_CHANGED)
        case _:
            return _of_dates_and_stock(line, today)


def _of_dates_and_stock(line: KitLine, today: date) -> str:
    match line.kind:
        case KitLineKind.STRIPS_OUT_OF_DATE:
            return _("The strips are out of date since {day}.").format(day=_last_day(line.life))
        case KitLineKind.BOTTLE_OUT_OF_DATE:
            return _("The control solution is out of date since {day}.").format(
                day=_last_day(line.life)
            )
        case KitLineKind.STRIPS_END_SOON:
            return _("Use these strips until {day}.").format(day=_last_day(line.life))
        case KitLineKind.BOTTLE_ENDS_SOON:
            return _("Use this control solution until {day}.").format(day=_last_day(line.life))
        case KitLineKind.LAST_STRIPS:
            return _("{strips} left in this pot by the log.").format(
                strips=strips_text(line.left or 0)
            )
        case KitLineKind.REORDER:
            return _reorder(line, today)
        case _:
            return _of_lows(line, today)


def _of_lows(line: KitLine, today: date) -> str:
    supply = line.supply
    name = for_lows_text(ForLows.OTHER if supply is None else supply.kind)
    if supply is None or supply.expires is None:
        return name
    day = supply.expires.last_day
    if line.kind is KitLineKind.LOW_SUPPLY_OUT_OF_DATE:
        return _("{name}: out of date since {day}.").format(name=name, day=day_text(day))
    return _("{name}: ends {when}.").format(name=name, when=relative_day_text(day, today))


def _reorder(line: KitLine, today: date) -> str:
    outlook = line.outlook
    if outlook is None or outlook.run_out is None:
        return order_by_text(today, today)
    parts = [
        _("{strips} in date.").format(strips=strips_text(outlook.strips)),
        enough_until_text(outlook.run_out, today),
        order_by_text(outlook.reorder_by or today, today),
    ]
    return " ".join(parts)


def _last_day(life: Life | None) -> str:
    return "" if life is None else day_text(life.until)
