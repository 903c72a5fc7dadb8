"""The appendix's list of lows, one by one with what followed, and every reason to have called."""

from __future__ import annotations

from logbook.domain.low_episodes import LowEpisode
from logbook.report.contents import Contents
from logbook.report.document import joined_parts
from logbook.report.flow import Flow
from logbook.report.grid_words import day_in
from logbook.report.tables import LINES_OF_A_TABLE, is_one_table, write_table
from logbook.wording import _
from logbook.wording.calls import listed_call_text
from logbook.wording.dates import clock_on_day_text
from logbook.wording.lows import (
    followed_sentences,
    lowest_text,
    minutes_until_text,
    noted_text,
)
from logbook.wording.numbers import lows_text, number_text
from logbook.wording.terms import slot_text

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
    for sentence in followed_sentences(lows):
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
    again = over = ""
    if low.is_measured:
        again = minutes_until_text(low.rechecked_after_minutes)
        over = minutes_until_text(low.back_above_69_after_minutes)
    slot = "" if low.slot is None else slot_text(low.slot)
    return (when, lowest_text(low), slot, again, over, noted_text(episode))


def _write_calls(flow: Flow, contents: Contents) -> None:
    calls = contents.review.calls
    if not calls:
        return
    flow.heading(_("To call about"))
    settings = contents.data.settings
    for listed in reversed(calls):
        text = listed_call_text(listed, settings.unit, settings.day_starts_at)
        flow.entry(f"{text}.")
