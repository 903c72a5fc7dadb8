"""Copies in words: when one was made, what it holds, where copies go, what going back does."""

from __future__ import annotations

from datetime import time, timedelta

from logbook.domain.copies import (
    CopyPlace,
    OfferedCopy,
    OlderCopies,
    ProvedCopy,
    Restored,
    SecondFolder,
    TriedRebuild,
)
from logbook.domain.errors import DamagedLog, LogbookError, NoSuchLog, NotALog
from logbook.domain.health import FindingKind, Health
from logbook.domain.moments import Moment
from logbook.wording import _, mark, ngettext
from logbook.wording.dates import (
    clock_text,
    day_text,
    moment_text,
    short_day_text,
    weekday_day_text,
)
from logbook.wording.numbers import number_text
from logbook.wording.problems import problem_text, quotable


def copy_moment_text(copy: OfferedCopy, now: Moment) -> str:
    """When it was made: "Today, 12:04 PM", "Tuesday, March 3, 9:10 PM"."""
    at = Moment.at(copy.made_at, now.zone)
    day, today = at.wall.date(), now.wall.date()
    if day == today:
        return _("Today, {time}").format(time=clock_text(at))
    if day == today - timedelta(days=1):
        return _("Yesterday, {time}").format(time=clock_text(at))
    return _("{day}, {time}").format(
        day=weekday_day_text(day, with_year=day.year != today.year), time=clock_text(at)
    )


def copy_state_text(proved: ProvedCopy, now: Moment) -> str:
    """What it holds, in a few words below its moment."""
    parts = [held_text(proved.readings, proved.newest, now)]
    if proved.copy.is_as_now:
        parts.append(_("the same as your log now"))
    if proved.copy.place is CopyPlace.SET_ASIDE:
        parts.append(_("set aside when you went back"))
    elif proved.copy.place is CopyPlace.ELSEWHERE:
        parts.append(_("on the stick or in the other folder"))
    return "; ".join(parts)


def held_text(readings: int, newest: Moment | None, now: Moment) -> str:
    """How many readings, and when the newest was taken."""
    count = ngettext("{n} reading", "{n} readings", readings).format(n=number_text(readings))
    if newest is None:
        return count
    return _("{readings}, the newest {moment}").format(
        readings=count, moment=moment_text(newest, now, time.min)
    )


def difference_text(proved: ProvedCopy, readings_now: int) -> str:
    """How the copy differs from the log as it is, counted in readings."""
    fewer = readings_now - proved.readings
    has = ngettext("It has {n} reading.", "It has {n} readings.", proved.readings).format(
        n=number_text(proved.readings)
    )
    if fewer > 0:
        more = ngettext(
            "That is {n} fewer than your log has now.",
            "That is {n} fewer than your log has now.",
            fewer,
        ).format(n=number_text(fewer))
    elif fewer < 0:
        more = ngettext(
            "That is {n} more than your log has now.",
            "That is {n} more than your log has now.",
            -fewer,
        ).format(n=number_text(-fewer))
    else:
        more = _("Your log has as many now.")
    return f"{has} {more}"


def is_kept_text() -> str:
    """What becomes of the log as it is."""
    return _("What you have now is set aside and kept. Undo brings it back with one press.")


def go_back_title(copy: OfferedCopy, now: Moment) -> str:
    """The question before going back."""
    at = moment_text(Moment.at(copy.made_at, now.zone), now, time.min)
    if copy.place is CopyPlace.SET_ASIDE:
        return _("Go back to the log that was set aside {moment}?").format(moment=at)
    return _("Go back to the copy made {moment}?").format(moment=at)


def gone_back_text(copy: OfferedCopy, now: Moment) -> str:
    """The message after going back."""
    at = moment_text(Moment.at(copy.made_at, now.zone), now, time.min)
    return _("Your log is the copy made {moment} now. What was there is kept.").format(moment=at)


def rebuilt_text(tried: TriedRebuild, now: Moment) -> list[str]:
    """What a log made from the journal would hold."""
    held = held_text(tried.readings, tried.newest, now)
    told = [_("A log made from the journal has {readings}.").format(readings=held)]
    if tried.rebuilt.left_out:
        told.append(
            ngettext(
                "{n} line of the journal is damaged or does not fit, and was left out.",
                "{n} lines of the journal are damaged or do not fit, and were left out.",
                tried.rebuilt.left_out,
            ).format(n=number_text(tried.rebuilt.left_out))
        )
    else:
        told.append(_("Every line of the journal was read and is good."))
    return told


# --- a log that can't be opened -------------------------------------------------------------------

_NO_LOG = mark("The file where your log should be is no log: {file}.")
_NOT_A_LOG = {
    "directory": mark("A folder lies where your log should be: {file}."),
    "special_file": mark("Something that is not a file lies where your log should be: {file}."),
    "other_database": mark("A file of another program lies where your log should be: {file}."),
}


def cannot_open_text(error: LogbookError) -> str:
    """What is the matter with a log at the start, in one or two sentences."""
    why, file = str(error.facts.get("why", "")), quotable(error.subject)
    match error:
        case NoSuchLog():
            return problem_text(error)
        case NotALog():
            text = _(_NOT_A_LOG.get(why, _NO_LOG))
        case DamagedLog() if why == "empty":
            text = _("The file of your log is empty, as no log ever is: {file}.")
        case DamagedLog() if why == "truncated":
            text = _("The file of your log has lost its end: {file}.")
        case _:
            text = _("The file of your log is damaged: {file}.")
    return "{} {}".format(text.format(file=file), _("It was left as it is."))


def rescued_text(restored: Restored) -> str:
    """What is said once the log is open again."""
    if not restored.set_aside:
        return _("Your log is here again. Look whether the newest readings are there.")
    return _("Your log is here again. What was there before is kept as {file}.").format(
        file=quotable(second_folder_name(restored.set_aside))
    )


# --- the second folder ----------------------------------------------------------------------------


def second_folder_name(folder: str) -> str:
    """How a folder is called where there is room for its name only."""
    return folder.rstrip("/\\").replace("\\", "/").rpartition("/")[2] or folder


def last_copy_there_text(known: SecondFolder, now: Moment) -> str:
    """When the last copy was made there."""
    if known.last_copy_there is None:
        return _("There is no copy there yet.")
    at = Moment.at(known.last_copy_there, now.zone)
    return _("The last copy there was made {moment}.").format(moment=moment_text(at, now, time.min))


def copies_state_text(known: SecondFolder | None, now: Moment) -> str:
    """How it stands, for the list of subjects."""
    if known is None:
        return _("on this computer only")
    if known.last_copy_there is None:
        return _("none on the stick yet")
    day = Moment.at(known.last_copy_there, now.zone).wall.date()
    return _("on the stick: {day}").format(day=short_day_text(day, with_year=True))


def overdue_text(known: SecondFolder, now: Moment) -> str:
    """One sentence that asks for a copy elsewhere."""
    name = second_folder_name(known.folder)
    if known.last_copy_there is None:
        return _("There is no copy of your log on “{name}” yet.").format(name=name)
    days = (now.wall.date() - Moment.at(known.last_copy_there, now.zone).wall.date()).days
    return ngettext(
        "The last copy of your log on “{name}” is {n} day old.",
        "The last copy of your log on “{name}” is {n} days old.",
        days,
    ).format(name=name, n=number_text(days))


# --- damage that was found ------------------------------------------------------------------------


def damage_title() -> str:
    """That something is not as it was written, for the list of what waits."""
    return _("Something in your log is damaged.")


def damage_details(health: Health) -> list[str]:
    """What was found at the check after the start, and what can be done."""
    records = sum(one.count for one in health.findings if one.kind is FindingKind.ROW)
    told = []
    if records:
        told.append(
            ngettext(
                "{n} record is no longer what was written.",
                "{n} records are no longer what was written.",
                records,
            ).format(n=number_text(records))
        )
        told.append(_("It is never shown as a number, and it is outside every figure."))
    told.append(_("You can go back to a good copy, or make the log again from its journal."))
    return told


# --- words that are erased ------------------------------------------------------------------------


def older_copies_text(older: OlderCopies) -> list[str]:
    """Which copies still hold the words, and until when."""
    told = []
    if older.count:
        told.append(
            ngettext(
                "{n} older copy beside the log still has them.",
                "{n} older copies beside the log still have them.",
                older.count,
            ).format(n=number_text(older.count))
        )
        told.append(
            _("Some of these copies stay for good.")
            if older.last_day is None
            else _("The last of these goes about {day}.").format(day=day_text(older.last_day))
        )
    told.append(_("Copies on a stick and logs that were set aside keep them."))
    return told
