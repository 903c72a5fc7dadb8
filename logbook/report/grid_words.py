"""The words around the grid: what changed, the names and figures at its foot, what signs mean."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, time
from typing import TYPE_CHECKING

from logbook.domain.glucose import Unit
from logbook.domain.moments import Period
from logbook.domain.readings import Earlier, Reading
from logbook.domain.slots import Slot
from logbook.domain.spells import Spell
from logbook.domain.summary import SlotSummary
from logbook.domain.targets import Target
from logbook.domain.turning_points import TurningPoint
from logbook.report.cells import Sign
from logbook.wording import _, mark
from logbook.wording.dates import clock_on_day_text, short_day_text
from logbook.wording.numbers import NOTHING, figure_text, glucose_text, number_text
from logbook.wording.targets import target_text, who_set_text
from logbook.wording.terms import slot_phrase, spell_text, target_kind_text

if TYPE_CHECKING:
    from logbook.report.grid_content import GridContent

_SIGNS = {
    Sign.LOW: mark("L: low, below 70 mg/dL (3.9 mmol/L). LL: very low, below 54 (3.0)."),
    Sign.WRITTEN_LATER: mark("Clock: written down on a later day."),
    Sign.CORRECTED: mark(
        "Pencil: corrected later. The earlier value is told below or in the notes."
    ),
    Sign.CROSSED_OUT: mark("Line through a number: crossed out, in no figure."),
    Sign.NOT_BELIEVED: mark("In brackets: not believed, in no figure."),
    Sign.OTHER_METER: mark("*: from another meter, such as a clinic’s, in no figure."),
    Sign.OTHER_UNIT: mark("A reading in the other unit has its unit beside it."),
    Sign.IN_QUESTION: mark(
        "Diamond: strips past their date, or control tests that failed after it; it may be wrong."
    ),
    Sign.DAMAGED: mark("Damaged: no longer what was written, in no figure."),
}


def day_in(period: Period, day: date) -> str:
    """A day of the period, with its year only where that is not the year of the last day."""
    return short_day_text(day, with_year=day.year != period.last.year)


def sign_notes(signs: Iterable[Sign]) -> list[str]:
    """One sentence or two for each sign that occurs."""
    found = set(signs)
    return [_(text) for sign, text in _SIGNS.items() if sign in found]


def earlier_text(earlier: Earlier, day_starts_at: time) -> str:
    """What a reading said before it was corrected, and why it was."""
    text = _("earlier {value}, {day} {time}, {slot}").format(
        value=glucose_text(earlier.glucose),
        day=short_day_text(earlier.at.day(day_starts_at)),
        time=clock_on_day_text(earlier.at, day_starts_at),
        slot=slot_phrase(earlier.slot),
    )
    return f"{text} ({earlier.reason})" if earlier.reason else text


def corrections_text(readings: Iterable[Reading], day_starts_at: time) -> str:
    """What corrected readings said before, in one line of text; empty when none was corrected."""
    told = [
        _("{day} {value}: {earlier}").format(
            day=short_day_text(reading.at.day(day_starts_at)),
            value=glucose_text(reading.glucose, with_unit=False),
            earlier=", ".join(earlier_text(earlier, day_starts_at) for earlier in reading.earlier),
        )
        for reading in readings
        if reading.earlier and not reading.is_damaged
    ]
    return _("Corrected: {list}.").format(list="; ".join(told)) if told else ""


def change_text(point: TurningPoint, unit: Unit) -> str:
    """What was different from a day on, in a few words; a medicine exactly as written."""
    about = point.about
    if isinstance(about, Target):
        return _("{kind} target {limits}. {who}").format(
            kind=target_kind_text(about.kind),
            limits=target_text(about, unit),
            who=who_set_text(about),
        )
    if isinstance(about, Spell):
        name = spell_text(about.kind)
        if point.is_end:
            return _("{spell} over").format(spell=name)
        return joined_words(_("{spell} begins").format(spell=name), about.note)
    if point.is_end:
        return _("stopped: {medicine}").format(medicine=about.text)
    return _("new: {medicine}").format(medicine=about.text)


def joined_words(name: str, note: str) -> str:
    """A name and what was noted about it."""
    return _("{name}, {note}").format(name=name, note=note) if note else name


def foot_names() -> list[str]:
    """The names of the rows at the grid's foot."""
    return [_("Middle value"), _("Lowest–highest"), _("Checks"), _("Lows")]


def foot_rows(content: GridContent) -> list[tuple[str, dict[Slot, str]]]:
    """Each row at the foot: its name, and a text for each slot."""
    names = foot_names()
    columns = {summary.slot: _foot_column(summary) for summary in content.summary.slots}
    return [
        (name, {slot: texts[number] for slot, texts in columns.items()})
        for number, name in enumerate(names)
    ]


def _foot_column(summary: SlotSummary) -> tuple[str, ...]:
    return (
        middle_value_text(summary),
        lowest_highest_text(summary, summary.figures.unit),
        number_text(summary.count),
        number_text(summary.low),
    )


def middle_value_text(summary: SlotSummary, *, with_unit: bool = False) -> str:
    """The middle value; LO or HI where it lies among those, a dash where between."""
    figures = summary.figures
    if figures.median is not None:
        return figure_text(figures.median, figures.unit, with_unit=with_unit)
    if 2 * figures.reads_low > figures.count:
        return "LO"
    if 2 * figures.reads_high > figures.count:
        return "HI"
    return NOTHING


def lowest_highest_text(summary: SlotSummary, unit: Unit) -> str:
    """Lowest and highest, LO and HI as words: "62–214"."""
    figures = summary.figures
    lowest = "LO" if figures.reads_low else figure_text(figures.least, unit, with_unit=False)
    highest = "HI" if figures.reads_high else figure_text(figures.greatest, unit, with_unit=False)
    if summary.count == 1:
        return highest if figures.reads_high else lowest
    return f"{lowest}–{highest}"
