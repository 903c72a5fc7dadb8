"""The appendix *Method and kit*: how figures are made and how far they reach, the kit, notes.

Page 1 has words and counts alone; whoever wants spread, intervals, each low and each control test
finds them here. Its parts are in `appendix_figures`, `appendix_lows`, `appendix_beside` and
`appendix_kit`.
"""

from __future__ import annotations

from datetime import time

from logbook.domain.happenings import Happening
from logbook.domain.medicine_notes import MedicineNote
from logbook.domain.readings import Reading
from logbook.report.appendix_beside import write_beside
from logbook.report.appendix_figures import write_figures
from logbook.report.appendix_keeping import write_keeping
from logbook.report.appendix_kit import write_kit
from logbook.report.appendix_lows import write_lows
from logbook.report.contents import Contents
from logbook.report.document import Document
from logbook.report.flow import Flow
from logbook.report.grid_words import earlier_text
from logbook.report.text import Span
from logbook.wording import _, mark
from logbook.wording.dates import clock_on_day_text, clock_text, short_day_text
from logbook.wording.medicine_notes import not_as_planned_text
from logbook.wording.numbers import glucose_text
from logbook.wording.terms import doubt_text, slot_phrase, what_text

_DEFINITIONS = (
    mark(
        "Figures by time of day take one value for each occasion: the first that is believed. "
        "Rechecks count in totals and lows."
    ),
    mark(
        "Crossed-out, not believed and damaged readings are in no figure. "
        "Nor are those of another meter, nor control tests."
    ),
    mark(
        "The middle value is the median. Half of the readings lie in the middle half. "
        "Its ends are the quartiles, linear between neighbours (Hyndman and Fan, type 7)."
    ),
    mark("SD is the standard deviation with n − 1; CV is SD in percent of the mean."),
    mark("LO comes before every number, HI after. With either of them there is no mean, SD or CV."),
    mark(
        "A reading is held against the target of its own day. "
        "The interval is the 95 % interval of a share by Wilson’s method."
    ),
    mark(
        "Low means below 70 mg/dL (3.9 mmol/L), very low below 54 mg/dL (3.0 mmol/L). "
        "Low readings up to 2 hours apart are one low."
    ),
    mark(
        "A meal pair begins with a check up to 30 minutes before the first bite. "
        "The other is {minutes} to 150 minutes after it, with no low between."
    ),
    mark(
        "What repeats over weeks or on some days is tested. "
        "At most 1 report in 20 shows one by chance."
    ),
    mark("A day is the person’s own: it begins at {time}."),
    mark(
        "All readings are fingerstick readings from a home meter. "
        "Their shares are of readings, not of time."
    ),
)


def write_appendix(document: Document, contents: Contents) -> None:
    """The appendix, from a new page on."""
    flow = Flow(document)
    flow.heading(_("Method and kit"), is_title=True, bookmark=True)
    write_figures(flow, contents)
    write_lows(flow, contents)
    write_beside(flow, contents)
    write_kit(flow, contents)
    write_keeping(flow, contents)
    _write_definitions(flow, contents)
    _write_notes(flow, contents)


def _write_definitions(flow: Flow, contents: Contents) -> None:
    settings = contents.data.settings
    flow.heading(_("What the figures mean"))
    starts = clock_text(settings.day_starts_at)
    for text in _DEFINITIONS:
        flow.paragraph(_(text).format(time=starts, minutes=settings.after_meal_from_minutes))


# --- notes and corrections ------------------------------------------------------------------------

_Told = Reading | Happening | MedicineNote


def _write_notes(flow: Flow, contents: Contents) -> None:
    data = contents.data
    told: list[_Told] = [
        *data.noted,
        *(happening for happening in data.happenings if happening.note),
        *(note for note in data.medicine_notes if note.counts),
    ]
    if not told:
        return
    flow.heading(_("Notes, corrections and what was crossed out"), bookmark=True)
    for what in sorted(told, key=lambda what: what.at.instant):
        starts_at = data.settings.day_starts_at
        day = short_day_text(what.at.day(starts_at), with_year=True)
        clock = clock_on_day_text(what.at, starts_at)
        head, note = _head_and_note(what, starts_at)
        rich = [Span(f"{day}, {clock}, {head}", bold=True)]
        if note:
            rich.append(Span(f" · {note}"))
        flow.paragraph(rich)


def _head_and_note(what: _Told, day_starts_at: time) -> tuple[str, str]:
    if isinstance(what, Happening):
        return what_text(what.what), what.note
    if isinstance(what, MedicineNote):
        # In the person's own words; nothing is reckoned with it.
        return not_as_planned_text(what.kind), what.text
    value = _("damaged") if what.is_damaged else glucose_text(what.glucose)
    return f"{slot_phrase(what.slot)}: {value}", _note_of(what, day_starts_at)


def _note_of(reading: Reading, day_starts_at: time) -> str:
    parts = [earlier_text(earlier, day_starts_at) for earlier in reading.earlier]
    if reading.crossed_out is not None:
        reason = reading.crossed_out.reason
        parts.append(
            _("crossed out: {reason}").format(reason=reason) if reason else _("crossed out")
        )
    if reading.doubt is not None:
        parts.append(doubt_text(reading.doubt))
    if reading.is_foreign:
        parts.append(_("another meter"))
    if reading.note:
        parts.append(reading.note)
    return ". ".join(parts)
