"""What the command `check` prints: what was read, what is sound, and what is not."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import time

from logbook.domain.health import CopyState, Finding, FindingKind, Health
from logbook.domain.moments import Moment
from logbook.wording import _, mark, ngettext
from logbook.wording.dates import moment_text
from logbook.wording.numbers import number_text

_FOUND = {
    FindingKind.STRUCTURE: mark("The file of the log is damaged ({n})."),
    FindingKind.REFERENCE: mark("Records refer to others that are not there: {n} in {where}."),
    FindingKind.ROW: mark("Records are no longer what was written: {n} in {where}."),
    FindingKind.LOG_DIGEST: mark("A record is missing, or one was added from outside."),
    FindingKind.CHANGE: mark("Noted changes are no longer what was written: {n}."),
    FindingKind.SEQUENCE: mark("Noted changes are missing: {n}."),
    FindingKind.JOURNAL_MISSING: mark("The plain-text journal {where} is not there."),
    FindingKind.JOURNAL_BEHIND: mark(
        "The plain-text journal lacks changes ({n}). "
        "They are added when the log is next written to."
    ),
    FindingKind.JOURNAL_UNKNOWN: mark(
        "The plain-text journal holds changes that the log does not: {n}."
    ),
    FindingKind.JOURNAL_LINE: mark(
        "Lines of the plain-text journal are no longer what was written: {n}."
    ),
    FindingKind.COPY: mark("The copy {where} is damaged."),
}


def check_lines(health: Health, now: Moment) -> Iterator[str]:
    """The page, line by line."""
    yield _row(_("Records read"), number_text(health.records))
    yield _row(_("Changes read"), number_text(health.changes))
    good = [copy for copy in health.copies if copy.is_good]
    yield _row(_("Checked copies"), number_text(len(good)))
    if good:
        yield _row(_("Newest copy"), _made_at(good[0], now))
    else:
        yield _("There is no checked copy yet. One is made when the log is closed after a change.")
    for finding in health.findings:
        yield _found(finding)
    if health.is_sound:
        yield _("Everything that was read is sound.")


def problem_found(health: Health, now: Moment) -> str:
    """One or two sentences for a log that is not sound."""
    found = ngettext(
        "The check found {n} problem; it is named above.",
        "The check found {n} problems; they are named above.",
        len(health.findings),
    ).format(n=number_text(len(health.findings)))
    good = next((copy for copy in health.copies if copy.is_good), None)
    if good is None:
        advice = _("Nothing was changed; keep all files of the log as they are.")
    else:
        advice = _("Nothing was changed; the newest checked copy was made {when}.").format(
            when=_made_at(good, now)
        )
    return f"{found} {advice}"


def _found(finding: Finding) -> str:
    return _(_FOUND[finding.kind]).format(n=number_text(finding.count), where=finding.subject)


def _made_at(copy: CopyState, now: Moment) -> str:
    # Copies are named by the calendar's day.
    return moment_text(Moment.at(copy.made_at, now.zone), now, time.min)


def _row(name: str, value: str) -> str:
    return f"{name:<24} {value}"
