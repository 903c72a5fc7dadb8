"""Sentences of bringing in a file: its columns in plain words, what is asked, what will happen.

Columns, lacks and doubts are told by their codes; what they mean is in `logbook.exchange`.
"""

from __future__ import annotations

from logbook.domain.glucose import Unit
from logbook.wording import _, mark, ngettext
from logbook.wording.numbers import number_text, readings_text, unit_text

_COLUMNS = {
    "date": mark("The day"),
    "time": mark("The time"),
    "moment": mark("Day and time together"),
    "value": mark("The number"),
    "unit": mark("The unit"),
    "slot": mark("What it was for"),
    "minutes_after": mark("Minutes after the meal"),
    "site": mark("The finger"),
    "note": mark("A note"),
    "kind": mark("What kind of line it is"),
}
_QUESTIONS = {
    "date": mark("Which column holds the day?"),
    "time": mark("Which column holds the time?"),
    "moment": mark("Which column holds day and time together?"),
    "value": mark("Which column holds the number the meter showed?"),
    "unit": mark("Which column holds the unit?"),
    "slot": mark("Which column says what it was for?"),
    "minutes_after": mark("Which column holds the minutes after the meal?"),
    "site": mark("Which column holds the finger?"),
    "note": mark("Which column holds a note?"),
    "kind": mark("Which column says what kind of line it is?"),
}
_LACKS = {
    "date": mark("Say which column holds the day."),
    "time": mark("Say which column holds the time: numbers without one can’t be brought in."),
    "value": mark("Say which column holds the number."),
    "unit": mark("Say in which unit the numbers are."),
    "date_unreadable": mark(
        "The days are written in a way that is not known here: "
        "in the file, write them as 2026-03-31."
    ),
    "time_unreadable": mark(
        "The times are written in a way that is not known here: in the file, write them as 19:15."
    ),
    "day_order": mark("Say which comes first in the days, the day or the month."),
    "too_many_words": mark("That column holds too many different words. Choose another one."),
}
_DOUBTS = {
    "not_said": mark("The file does not say it, and the numbers would fit both."),
    "mixed": mark("Some numbers fit one unit, some the other. Those of the other are left out."),
}


def column_text(column: str) -> str:
    """What a column holds."""
    return _(_COLUMNS[column])


def column_question(column: str) -> str:
    """The question for a column."""
    return _(_QUESTIONS[column])


def lack_text(lack: str) -> str:
    """What is still to be said."""
    return _(_LACKS[lack])


def unit_doubt_text(doubt: str, said: Unit | None) -> str:
    """Why the unit is asked."""
    if doubt == "contradicted" and said is not None:
        return _("The file says {said}, but the numbers can only be {other}.").format(
            said=unit_text(said), other=unit_text(said.other)
        )
    return _(_DOUBTS.get(doubt, _DOUBTS["not_said"]))


def named_column(place: int, heading: str) -> str:
    """A column by its heading, or by its number where it has none."""
    if not heading:
        return _("Column {number}").format(number=number_text(place + 1))
    return _("“{heading}”").format(heading=heading)


def sheet_text(sheet: str, count: int) -> str:
    """Which sheet is read, where there are others; empty where there is no other."""
    if count < 2:
        return ""
    return ngettext(
        "Only the sheet “{sheet}” is read. There is one more.",
        "Only the sheet “{sheet}” is read. There are {n} more.",
        count - 1,
    ).format(sheet=sheet, n=number_text(count - 1))


def more_pages_text() -> str:
    """What to do about a file that is one page of several."""
    return _("This file is one page of several. Bring in the others too.")


def example_text(cells: list[str]) -> str:
    """What stands in a column, for example."""
    shown = ", ".join(cells)
    return _("such as {cells}").format(cells=shown) if shown else _("empty")


def will_be_added_text(count: int) -> str:
    """The first line of the preview."""
    if not count:
        return _("Nothing new is in this file.")
    return ngettext("{readings} will be added.", "{readings} will be added.", count).format(
        readings=readings_text(count)
    )


def already_there_text(count: int) -> str:
    """How many are in the log; empty for none."""
    if not count:
        return ""
    return ngettext("{n} is in the log already.", "{n} are in the log already.", count).format(
        n=number_text(count)
    )


def noted_text(count: int) -> str:
    """How many lines become part of a note; empty for none."""
    if not count:
        return ""
    return ngettext(
        "{n} other line goes into the note of a reading.",
        "{n} other lines go into the notes of readings.",
        count,
    ).format(n=number_text(count))


def left_out_text(word: str, count: int) -> str:
    """How many lines of one kind are left out."""
    return ngettext(
        "{n} line is left out: {word}.", "{n} lines are left out: {word}.", count
    ).format(n=number_text(count), word=word)


def refused_text(count: int) -> str:
    """How many lines can't be read; empty for none."""
    if not count:
        return ""
    return ngettext("{n} line can’t be read.", "{n} lines can’t be read.", count).format(
        n=number_text(count)
    )


def bring_in_text(count: int) -> str:
    """The main action of the preview; empty when there is nothing to bring in."""
    if not count:
        return ""
    return _("Bring in {n}").format(n=number_text(count))


def brought_in_text(count: int) -> str:
    """After it."""
    return ngettext(
        "{readings} is in the log now. Undo takes it out.",
        "{readings} are in the log now. Undo takes them out.",
        count,
    ).format(readings=readings_text(count))


def strips_question(count: int) -> str:
    """Whether readings of the file used strips of the vial in use."""
    return ngettext(
        "Did {readings} of this file use a strip of the vial in use?",
        "Did {readings} of this file use strips of the vial in use?",
        count,
    ).format(readings=readings_text(count))


def words_text(known: int, unknown: int) -> str:
    """How many words of a file have a meaning here."""
    if unknown:
        return ngettext("{n} word is not known", "{n} words are not known", unknown).format(
            n=number_text(unknown)
        )
    return ngettext("{n} word, known", "{n} words, all known", known).format(n=number_text(known))
