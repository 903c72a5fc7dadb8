"""What the command `import` prints: the counts, and each refused line with its reason."""

from __future__ import annotations

from collections.abc import Iterator

from logbook.commands.import_file import ImportOutcome
from logbook.commands.plain_line import one_line, short_line
from logbook.domain.import_doubts import ImportDoubts
from logbook.exchange.refusals import RefusedLine, reason_words
from logbook.wording import _, ngettext
from logbook.wording.import_doubts import (
    beyond_meters_line,
    first_named_text,
    shared_minute_line,
)
from logbook.wording.importing import column_text, more_pages_text, named_column, sheet_text
from logbook.wording.numbers import number_text, readings_text


def import_lines(outcome: ImportOutcome) -> Iterator[str]:
    """The page, line by line."""
    wish = outcome.wish
    yield _("{file}, read as “{layout}”").format(
        file=one_line(wish.file), layout=short_line(outcome.layout_name)
    )
    for place, heading, column in outcome.columns:
        yield f"  {column_text(column)}: {short_line(named_column(place, heading))}"
    if outcome.sheets and (told := sheet_text(outcome.sheets[0], len(outcome.sheets))):
        yield one_line(told)
    yield _row(_("Lines read"), outcome.lines)
    yield _row(_("Would be added") if wish.is_dry_run else _("Added"), outcome.added)
    yield _row(_("Already there"), outcome.already_there)
    if outcome.noted:
        yield _row(_("Noted at a reading"), outcome.noted)
    yield _row(_("Skipped"), sum(outcome.skipped.values()))
    for word, count in sorted(outcome.skipped.items(), key=lambda item: (-item[1], item[0])):
        yield _row("  " + short_line(word), count)
    yield _row(_("Refused"), len(outcome.refused))
    for refused in outcome.refused:
        yield "  " + _refused_line(refused)
    yield from _doubt_lines(outcome.doubts)
    if outcome.has_more_pages:
        yield more_pages_text()
    yield from _last_words(outcome)


def _last_words(outcome: ImportOutcome) -> Iterator[str]:
    wish = outcome.wish
    if wish.refused_out is not None:
        yield _("The refused lines are in {file}.").format(file=one_line(wish.refused_out))
    if outcome.has_taken_nothing:
        return
    if wish.is_dry_run:
        yield _("Nothing was changed.")
    elif outcome.has_made_log:
        yield _("A new log was made: {file}").format(file=one_line(wish.log))
    elif outcome.added:
        yield ngettext(
            "{readings} is now in {file}.", "{readings} are now in {file}.", outcome.added
        ).format(readings=readings_text(outcome.added), file=one_line(wish.log))
    else:
        yield _("Everything was in {file} already.").format(file=one_line(wish.log))


def _doubt_lines(doubts: ImportDoubts) -> Iterator[str]:
    """Nothing at all where nothing is doubtful; else how many, and each of them."""
    if doubts.shared_minutes:
        yield _row(_("Same time as another"), doubts.sharing)
    for shared in doubts.shared_minutes:
        yield "  " + shared_minute_line(shared)
    if not doubts.names_all_sharing:
        yield "  " + first_named_text()
    if doubts.beyond_meters:
        yield _row(_("Outside your meters"), doubts.beyond)
    for beyond in doubts.beyond_meters:
        yield "  " + beyond_meters_line(beyond)
    if not doubts.names_all_beyond:
        yield "  " + first_named_text()


def _refused_line(refused: RefusedLine) -> str:
    return _("Line {number}: {reason}: {text}").format(
        number=refused.number, reason=reason_words(refused.reason), text=short_line(refused.text)
    )


def _row(name: str, count: int) -> str:
    return f"{name:<24} {number_text(count):>9}"
