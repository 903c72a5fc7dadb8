"""The appendix's list of lows, one by one with what followed, and every reason to have called."""

from __future__ import annotations

from collections.abc import Iterator

from logbook.domain.low_episodes import LowEpisode, LowEpisodes
from logbook.domain.lows import Level, WarningSigns
from logbook.report.contents import Contents
from logbook.report.document import joined_parts
from logbook.report.flow import Flow
from logbook.report.grid_words import day_in
from logbook.report.tables import LINES_OF_A_TABLE, is_one_table, write_table
from logbook.wording import _, ngettext
from logbook.wording.calls import listed_call_text
from logbook.wording.dates import clock_on_day_text, duration_text
from logbook.wording.numbers import glucose_text, lows_text, number_text
from logbook.wording.terms import feeling_text, slot_text

# Ten years of lows would fill pages that nobody reads.
MOST_LOWS = 60


def write_lows(flow: Flow, contents: Contents) -> None:
    """Lows, latest first, then the reasons to call."""
    _write_episodes(flow, contents)
    _write_calls(flow, contents)


def _write_episodes(flow: Flow, contents: Contents) -> None:
    lows = contents.review.episodes
    if not lows.episodes:
        return
    flow.heading(_("Lows, one by one"), bookmark=True, lines_below=LINES_OF_A_TABLE + 3)
    for sentence in _sentences(lows):
        flow.paragraph(sentence)
    shown = lows.episodes[-MOST_LOWS:]
    if len(shown) < len(lows.episodes):
        flow.paragraph(
            _("The latest {n} of {all} are listed.").format(
                n=number_text(len(shown)), all=lows_text(len(lows.episodes))
            )
        )
    rows = [_row(contents, episode) for episode in reversed(shown)]
    heads = (_("When"), _("Lowest"), _("Time of day"), _("Checked again"), _("Over"), _("Noted"))
    columns = [
        (head, [row[number] for row in rows])
        for number, head in enumerate(heads)
        if any(row[number] for row in rows)
    ]
    flow.gap(4)
    if is_one_table(flow, columns):
        write_table(flow, columns, left_aligned=len(columns))
        return
    for row in rows:
        *first, again, over, noted = row
        named = (
            _("{name}: {value}").format(name=name, value=value) if value else ""
            for name, value in ((heads[3], again), (heads[4], over))
        )
        flow.entry(joined_parts((*first, *named, noted)))


def _row(contents: Contents, episode: LowEpisode) -> tuple[str, ...]:
    """When, lowest value, time of day, minutes to the next check and until over, what was noted."""
    low = episode.low
    clock = clock_on_day_text(low.at, contents.data.settings.day_starts_at)
    when = _("{day}, {time}").format(day=day_in(contents.period, low.day), time=clock)
    lowest = _("felt") if low.value is None else glucose_text(low.value)
    again = over = ""
    if low.is_measured:
        again = _minutes(low.rechecked_after_minutes)
        over = _minutes(low.back_above_69_after_minutes)
    slot = "" if low.slot is None else slot_text(low.slot)
    return (when, lowest, slot, again, over, ", ".join(_notes(episode)))


def _minutes(minutes: int | None) -> str:
    return _("not seen") if minutes is None else _("{n} min").format(n=number_text(minutes))


def _notes(episode: LowEpisode) -> Iterator[str]:
    low = episode.low
    if low.help is not None:
        yield _("helped")
    elif low.level is not Level.LOW:
        yield _("very low")
    if low.warning_signs is WarningSigns.NO:
        yield _("no warning")
    yield from (feeling_text(feeling).lower() for feeling in episode.feelings)


def _sentences(lows: LowEpisodes) -> Iterator[str]:
    of = lows.rechecked + lows.without_recheck
    if not of:
        return
    yield _("Checked again within 2 hours: {n} of {all}.").format(
        n=number_text(lows.rechecked), all=lows_text(of)
    )
    if lows.median_minutes_to_recheck is not None:
        yield _("Middle time until the next check: {time}.").format(
            time=duration_text(round(lows.median_minutes_to_recheck))
        )
    if lows.median_minutes_until_back is not None:
        yield ngettext(
            "Seen to be over: {n} low, after {time}.",
            "Seen to be over: {n} lows, in the middle after {time}.",
            lows.seen_back,
        ).format(
            n=number_text(lows.seen_back),
            time=duration_text(round(lows.median_minutes_until_back)),
        )


def _write_calls(flow: Flow, contents: Contents) -> None:
    calls = contents.review.calls
    if not calls:
        return
    flow.heading(_("To call about"))
    settings = contents.data.settings
    for listed in reversed(calls):
        text = listed_call_text(listed, settings.unit, settings.day_starts_at)
        flow.entry(f"{text}.")
