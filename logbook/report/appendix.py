"""The appendix *Method and kit*: how figures are made and how far they reach, fingers, notes.

Page 1 has words and counts alone; whoever wants spread and intervals finds them here.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from datetime import timedelta

from logbook.domain.happenings import Happening
from logbook.domain.punctures import RECENT_DAYS, Puncture
from logbook.domain.readings import Reading
from logbook.domain.rest import Sharing, evenness, sharing_of
from logbook.domain.rotation import sites_in_use
from logbook.domain.sites import Site
from logbook.report.contents import Contents
from logbook.report.document import BLACK, Document, Page, joined_parts, unbroken
from logbook.report.flow import Flow
from logbook.report.grid_words import earlier_text, lowest_highest_text
from logbook.report.options import LEADING
from logbook.report.text import Block, Span, baseline_below_top
from logbook.wording import _, mark
from logbook.wording.dates import clock_text, short_day_text
from logbook.wording.numbers import (
    NOTHING,
    days_text,
    figure_text,
    glucose_text,
    number_text,
    percent_text,
    readings_text,
    unit_text,
)
from logbook.wording.sites import site_text
from logbook.wording.terms import (
    doubt_text,
    lancet_habit_text,
    lancet_reason_text,
    slot_phrase,
    slot_text,
    what_text,
)

_DEFINITIONS = (
    mark(
        "Figures by time of day take one value for each occasion: the first that is believed. "
        "Rechecks count in totals and lows."
    ),
    mark(
        "Crossed-out, not believed and damaged readings are in no figure. "
        "Nor are those of another meter."
    ),
    mark(
        "The middle value is the median. Half of the readings lie in the middle half. "
        "Its ends are the quartiles, linear between neighbours (Hyndman and Fan, type 7)."
    ),
    mark("LO comes before every number, HI after. With either of them there is no mean, SD or CV."),
    mark(
        "A reading is held against the target of its own day. "
        "The interval is the 95 % interval of a share by Wilson’s method."
    ),
    mark(
        "Low means below 70 mg/dL (3.9 mmol/L), very low below 54 (3.0). "
        "Low readings up to 2 hours apart are one low."
    ),
    mark("A day is the person’s own: it begins at {time}."),
    mark(
        "All readings are fingerstick readings from a home meter. "
        "Their shares are of readings, not of time."
    ),
)

_FINGER_SHARE = {
    Sharing.EVEN: mark("even"),
    Sharing.FAIRLY_EVEN: mark("fairly even"),
    Sharing.UNEVEN: mark("uneven"),
    Sharing.TOO_FEW: mark("too few to say"),
}


def write_appendix(document: Document, contents: Contents) -> None:
    """The appendix, from a new page on."""
    flow = Flow(document)
    flow.heading(_("Method and kit"), is_title=True, bookmark=True)
    _write_figures(flow, contents)
    _write_definitions(flow, contents)
    _write_kit(flow, contents)
    _write_notes(flow, contents)


# --- figures --------------------------------------------------------------------------------------


def _write_figures(flow: Flow, contents: Contents) -> None:
    summary, unit = contents.summary, contents.unit
    figures = summary.figures
    if not figures.count:
        return
    flow.heading(_("All readings"))
    if figures.is_complete:
        flow.paragraph(
            _("{readings}: mean {mean}, SD {sd}, CV {cv}.").format(
                readings=readings_text(figures.count),
                mean=figure_text(figures.mean, unit),
                sd=figure_text(figures.sd, unit),
                cv=percent_text(figures.cv_percent),
            )
        )
    else:
        flow.paragraph(
            _("{readings}, {low} LO and {high} HI among them: no mean, SD or CV.").format(
                readings=readings_text(figures.count),
                low=number_text(figures.reads_low),
                high=number_text(figures.reads_high),
            )
        )
    flow.paragraph(
        _("Middle value {median}, middle half {q1} to {q3}.").format(
            median=figure_text(figures.median, unit),
            q1=figure_text(figures.q1, unit, with_unit=False),
            q3=figure_text(figures.q3, unit),
        )
    )
    flow.heading(_("By time of day, in {unit}").format(unit=unit_text(unit)))
    is_large = flow.document.print.table_size >= 16
    spread = (
        (_("Time of day"), [slot_text(slot.slot) for slot in summary.slots]),
        (_("Checks"), [number_text(slot.count) for slot in summary.slots]),
        (_("Mean"), _if_complete(contents, "mean")),
        (_("SD"), _if_complete(contents, "sd")),
        (_("Middle half"), [_middle_half(contents, n) for n in range(len(summary.slots))]),
        (_("Range"), [lowest_highest_text(slot, unit) for slot in summary.slots]),
        (_("In target, interval"), [_interval(contents, n) for n in range(len(summary.slots))]),
    )
    if is_large:
        flow.block(_table(flow, spread[:1] + spread[1:4]))
        flow.gap(8)
        flow.block(_table(flow, spread[:1] + spread[4:5] + spread[6:]))
    else:
        flow.block(_table(flow, spread))


def _if_complete(contents: Contents, name: str) -> list[str]:
    texts = []
    for slot in contents.summary.slots:
        value = getattr(slot.figures, name) if slot.figures.is_complete else None
        texts.append(figure_text(value, contents.unit, with_unit=False))
    return texts


def _middle_half(contents: Contents, number: int) -> str:
    figures = contents.summary.slots[number].figures
    if figures.q1 is None or figures.q3 is None or figures.count < 2:
        return NOTHING
    low = figure_text(figures.q1, contents.unit, with_unit=False)
    return f"{low}–{figure_text(figures.q3, contents.unit, with_unit=False)}"


def _interval(contents: Contents, number: int) -> str:
    share = contents.summary.slots[number].in_target_share
    if share.interval_percent is None:
        return NOTHING
    low, high = share.interval_percent
    return _("{share}, {low} to {high}").format(
        share=percent_text(share.percent), low=percent_text(low), high=percent_text(high)
    )


def _table(flow: Flow, columns: Sequence[tuple[str, list[str]]]) -> Block:
    """A small table: the first column left aligned, each as wide as it needs to be."""
    faces, size = flow.document.faces, flow.document.print.table_size
    widths = [
        max(faces.width(head, size, bold=True), *(faces.width(t, size) for t in texts))
        for head, texts in columns
    ]
    gap = max(4.0, min(18.0, (flow.width - sum(widths)) / max(1, len(columns) - 1)))
    leading = size * LEADING
    rows = len(columns[0][1])

    def draw(page: Page, x: float, top: float) -> None:
        for line in range(rows + 1):
            baseline = top - line * leading - baseline_below_top(size)
            at = x
            for number, ((head, texts), width) in enumerate(zip(columns, widths, strict=True)):
                text = texts[line - 1] if line else head
                if number:
                    page.text_right(at + width, baseline, text, size, bold=not line)
                else:
                    page.text(at, baseline, text, size, bold=not line)
                at += width + gap
        page.rule(x, top - leading, x + flow.width, line=1.0, grey=BLACK)

    return Block((rows + 1) * leading + 2, draw)


def _write_definitions(flow: Flow, contents: Contents) -> None:
    flow.heading(_("What the figures mean"))
    starts = clock_text(contents.data.settings.day_starts_at)
    for text in _DEFINITIONS:
        flow.paragraph(_(text).format(time=starts))


# --- fingers and lancets --------------------------------------------------------------------------


def _write_kit(flow: Flow, contents: Contents) -> None:
    data = contents.data
    settings = data.settings
    if data.sites and settings.tracks_fingers:
        sites = sites_in_use(settings)
        since = data.period.last - timedelta(days=RECENT_DAYS - 1)
        punctures = [
            Puncture(Site.from_code(code), data.made_at) for day, code in data.sites if day >= since
        ]
        measured = evenness(punctures, sites)
        flow.heading(_("Fingers, last {days}").format(days=days_text(RECENT_DAYS)))
        flow.paragraph(
            _("How evenly the sites share the work (Pielou’s J): {figure}, {words}.").format(
                figure=NOTHING if measured is None else number_text(measured, 2),
                words=_(_FINGER_SHARE[sharing_of(measured)]),
            )
        )
        uses = Counter(puncture.site for puncture in punctures)
        told = (
            _("{site}: {n}").format(site=site_text(site), n=number_text(uses[site]))
            for site in sorted(uses, key=lambda site: site.code)
        )
        flow.paragraph(joined_parts(map(unbroken, told)))
    flow.heading(_("Lancets"))
    flow.paragraph(lancet_habit_text(settings.lancet_habit))
    if data.lancet_changes:
        latest = max(data.lancet_changes, key=lambda change: change.at.instant)
        flow.paragraph(
            _("Changes noted in this period: {n}, the latest {day} ({reason}).").format(
                n=number_text(len(data.lancet_changes)),
                day=short_day_text(latest.at.wall.date(), with_year=True),
                reason=lancet_reason_text(latest.reason),
            )
        )


# --- notes and corrections ------------------------------------------------------------------------


def _write_notes(flow: Flow, contents: Contents) -> None:
    noted = contents.data.noted
    happened = [happening for happening in contents.data.happenings if happening.note]
    if not noted and not happened:
        return
    flow.heading(_("Notes, corrections and what was crossed out"), bookmark=True)
    told: list[Reading | Happening] = [*noted, *happened]
    for what in sorted(told, key=lambda what: what.at.instant):
        day, clock = short_day_text(what.at.wall.date(), with_year=True), clock_text(what.at)
        if isinstance(what, Happening):
            head, note = what_text(what.what), what.note
        else:
            value = _("damaged") if what.is_damaged else glucose_text(what.glucose)
            head, note = f"{slot_phrase(what.slot)}: {value}", _note_of(what)
        flow.paragraph((Span(f"{day}, {clock}, {head}", bold=True), Span(f" · {note}")))


def _note_of(reading: Reading) -> str:
    parts = [earlier_text(earlier) for earlier in reading.earlier]
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
