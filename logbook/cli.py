"""The commands: arguments, the clock, failures in words, and the exit status.

What each command does is in `logbook.commands`. Nothing slow is imported before the arguments are
understood, and nothing of the window unless the window opens.

Exit status: 0 done; 1 could not, or nothing could be taken in, or `check` found a problem; 2 the
arguments were not understood.
"""

from __future__ import annotations

import errno
import os
import sys
from argparse import Namespace
from collections.abc import Iterable, Sequence
from contextlib import suppress
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from logbook.this_computer import language_tag, zone_name

_NO_ROOM = (errno.ENOSPC, errno.EDQUOT, errno.EFBIG)

if TYPE_CHECKING:
    from logbook.domain.moments import Moment
    from logbook.report.options import Paper


def main(arguments: Sequence[str] | None = None) -> int:
    """Do what the arguments say, those of the process unless others are given."""
    os.umask(0o077)  # a diary is private: nobody else may read what is written here
    for stream in (sys.stdout, sys.stderr):
        with suppress(AttributeError, ValueError):  # closed, or not a file
            stream.reconfigure(errors="replace")  # type: ignore[union-attr]
    try:
        status = _run(list(sys.argv[1:] if arguments is None else arguments))
        _flush()
    except BrokenPipeError:
        # Whoever read the output has gone, as `| head` does. Nothing more can be said there.
        _let_go_of_output()
        return 1
    except KeyboardInterrupt:
        from logbook.wording import _

        _complain(_("Stopped. What was saved before is safe."))
        return 1
    except Exception as error:  # noqa: BLE001  (no traceback may reach a person)
        _complain(_no_room_for_output(error) or _unexpected(error))
        try:
            _flush()
        except (OSError, ValueError):
            # What can't be written now can't be written on leaving either.
            _let_go_of_output()
        return 1
    return status


def _run(arguments: list[str]) -> int:
    from logbook.wording import set_language

    set_language(language_tag())
    from logbook.commands.arguments import NotUnderstoodError, understood
    from logbook.domain.errors import LogbookError

    try:
        wanted = understood(arguments)
        return _COMMANDS[wanted.command](wanted)
    except NotUnderstoodError as stop:
        return stop.status
    except LogbookError as error:
        from logbook.exchange.sentences import import_problem_text

        _flush()
        _complain(import_problem_text(error))
        return 1


# --- the commands ---------------------------------------------------------------------------------


def _window(wanted: Namespace) -> int:
    from logbook.app import run

    return run(_log(wanted), asks_whose=wanted.log is None)


def _import(wanted: Namespace) -> int:
    from logbook.commands.import_file import ImportWish, import_file
    from logbook.commands.import_page import import_lines
    from logbook.domain.errors import NothingTaken
    from logbook.places import layouts_folder

    wish = ImportWish(
        file=wanted.file,
        log=_log(wanted),
        layout=wanted.layout,
        finds_columns=wanted.find_columns,
        layouts_kept_in=layouts_folder(),
        refused_out=wanted.refused,
        is_dry_run=wanted.dry_run,
    )
    outcome = import_file(wish, _now, zone_name())
    _say(import_lines(outcome))
    if outcome.has_taken_nothing:
        raise NothingTaken(wish.file)
    return 0


def _summary(wanted: Namespace) -> int:
    from logbook.book import Book
    from logbook.commands.reading_log import figures_of_log

    with Book.open(_log(wanted), _now, read_only=True) as book:
        figures = figures_of_log(book, wanted.first, wanted.last, _here())
    if wanted.json:
        import json

        from logbook.domain.summary_form import summary_form

        _say([json.dumps(summary_form(figures.summary, figures.review), indent=1, allow_nan=False)])
    else:
        from logbook.commands.summary_page import summary_lines

        _say(summary_lines(figures))
    return 0


def _report(wanted: Namespace) -> int:
    from logbook.book import Book
    from logbook.commands.plain_line import one_line
    from logbook.commands.reading_log import check_out, period_of
    from logbook.report.options import Paper, Print, ReportOptions
    from logbook.report.visit import write_visit_report
    from logbook.wording import _

    now = _here()
    log = _log(wanted)
    check_out(wanted.out, log)
    with Book.open(log, _now, read_only=True) as book:
        period = period_of(book, wanted.first, wanted.last, now.wall.date())
        data = book.visit_data(period, now)
    options = ReportOptions(
        paper=Paper(wanted.paper) if wanted.paper else _paper(),
        print=Print(wanted.print),
        grid_days=None if wanted.grid == "all" else int(wanted.grid),
        appendix=wanted.appendix,
    )
    write_visit_report(data, wanted.out, options)
    _say([_("The report is in {file}.").format(file=one_line(wanted.out))])
    return 0


def _export(wanted: Namespace) -> int:
    from logbook.commands.export_file import export_log

    _say(export_log(_log(wanted), wanted.format, wanted.out, _here(), _now))
    return 0


def _check(wanted: Namespace) -> int:
    from logbook.book import check_log
    from logbook.commands.check_page import check_lines, problem_found

    health, now = check_log(_log(wanted)), _here()
    _say(check_lines(health, now))
    if health.is_sound:
        return 0
    _flush()
    _complain(problem_found(health, now))
    return 1


def _backup(wanted: Namespace) -> int:
    from logbook.book import Book
    from logbook.commands.copies_page import backup_lines

    with Book.open(_log(wanted), _now) as book:
        if wanted.locked is None:
            _say(backup_lines(book.make_copy(wanted.to)))
        else:
            from logbook.commands.locking import make_locked_copy
            from logbook.commands.sharing_page import locked_lines

            copy = make_locked_copy(book, wanted.to, wanted.locked, _here(), _paper())
            _say(locked_lines(copy, wanted.locked))
    return 0


def _merge(wanted: Namespace) -> int:
    from logbook.book import Book
    from logbook.commands.locking import opened
    from logbook.commands.sharing_page import disagreement_line, merge_lines

    with Book.open(_log(wanted), _now) as book, opened(wanted.file) as other:
        brought = book.look_at_copy(other) if wanted.dry_run else book.bring_in(other)[1]
        _say(merge_lines(brought, is_dry_run=wanted.dry_run))
        if to_choose := len(book.disagreements()):
            _say([disagreement_line(to_choose)])
    return 0


def _restore(wanted: Namespace) -> int:
    from logbook.book import restore_log
    from logbook.commands.copies_page import restore_lines
    from logbook.commands.locking import opened

    log = _log(wanted)
    with opened(wanted.file) as copy:
        done = restore_log(log, copy, _now(), even_damaged=wanted.even_damaged)
    _say(restore_lines(log, done))
    return 0


def _rebuild(wanted: Namespace) -> int:
    from logbook.book import rebuild_log
    from logbook.commands.copies_page import left_out_text, rebuild_lines

    made = rebuild_log(wanted.journal, wanted.to)
    _say(rebuild_lines(wanted.to, made))
    if not made.left_out:
        return 0
    _flush()
    _complain(left_out_text(made))
    return 1


def _demo(wanted: Namespace) -> int:
    from logbook.app import missing_text, run
    from logbook.commands.demo_log import make_demo
    from logbook.commands.plain_line import one_line
    from logbook.screen_check import find_missing
    from logbook.wording import _

    made = make_demo(wanted.folder, _here(), _now, _paper())
    _say(
        [
            _("An invented log to look around in: {file}").format(file=one_line(made.log)),
            _("Its visit report: {file}").format(file=one_line(made.report)),
        ]
    )
    if (missing := find_missing()) is not None:
        _say([missing_text(missing)])
        return 0
    _flush()
    return run(made.log)


def _self_test(_wanted: Namespace) -> int:
    from logbook.app import page_types
    from logbook.self_test import result_lines, run

    results = run(page_types)
    *steps, verdict = result_lines(results)
    _say(steps)
    if all(result.is_ok for result in results):
        _say([verdict])
        return 0
    _flush()
    _complain(verdict)
    return 1


_COMMANDS = {
    None: _window,
    "import": _import,
    "summary": _summary,
    "report": _report,
    "export": _export,
    "check": _check,
    "backup": _backup,
    "merge": _merge,
    "restore": _restore,
    "rebuild": _rebuild,
    "demo": _demo,
    "self-test": _self_test,
}


# --- this computer --------------------------------------------------------------------------------


def _now() -> datetime:
    return datetime.now(UTC)


def _here() -> Moment:
    """Now, on the clock of this computer."""
    from logbook.domain.moments import Moment

    return Moment.at(_now(), zone_name())


def _paper() -> Paper:
    from logbook.report.usual_paper import usual_paper

    return usual_paper(os.environ.get("LC_ALL") or os.environ.get("LC_PAPER") or language_tag())


def _log(wanted: Namespace) -> Path:
    from logbook.places import own_log

    log: Path | None = wanted.log
    return own_log() if log is None else log


# --- what is said ---------------------------------------------------------------------------------


def _say(lines: Iterable[str]) -> None:
    for line in lines:
        print(line)


def _complain(sentence: str) -> None:
    with suppress(OSError, ValueError):
        print(sentence, file=sys.stderr)


def _flush() -> None:
    if sys.stdout is not None:
        sys.stdout.flush()


def _let_go_of_output() -> None:
    """Point standard output at nothing, so that leaving does not fail once more."""
    with suppress(OSError, ValueError, AttributeError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def _no_room_for_output(error: Exception) -> str:
    """What is said when a file on a full disk takes what a command says; empty for all else."""
    from logbook.wording import _

    if not isinstance(error, OSError) or error.errno not in _NO_ROOM:
        return ""
    return _("There is no room left for what this command tells. Make room, then try again.")


def _unexpected(error: Exception) -> str:
    """Keep what happened for whoever mends the program, and say where."""
    import traceback

    from logbook.places import private_folder, state_folder
    from logbook.wording.problems import unexpected_text

    folder = state_folder()
    with suppress(OSError):
        notes = private_folder(folder) / "unexpected.txt"
        with notes.open("a", encoding="utf-8") as file:
            file.write(f"{_now().isoformat()}\n{''.join(traceback.format_exception(error))}\n")
    return unexpected_text(str(folder))
