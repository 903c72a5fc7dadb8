"""What may be written after the program's name, and what it means."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import NoReturn

from logbook.domain.errors import BadMoment
from logbook.domain.moments import parse_day
from logbook.places import APPLICATION
from logbook.wording import _


class NotUnderstoodError(Exception):
    """The arguments were not understood, or only asked for help, which has been given."""

    def __init__(self, status: int) -> None:
        super().__init__(status)
        self.status = status


def understood(arguments: Sequence[str]) -> argparse.Namespace:
    """The arguments by name; `command` is None for the window.

    Raises `NotUnderstoodError` once the reason stands on standard error (status 2), or the help on
    standard output (status 0).
    """
    parser = _parser()
    wanted = parser.parse_args(list(arguments))
    if getattr(wanted, "locked", None) is not None and wanted.to is None:
        parser.error(_("--locked needs --to, the folder for the copy"))
    first, last = getattr(wanted, "first", None), getattr(wanted, "last", None)
    if first is not None and last is not None and last < first:
        parser.error(_("{first} comes after {last}").format(first=first, last=last))
    return wanted


class _Parser(argparse.ArgumentParser):
    """An argument parser that raises instead of leaving, and speaks in whole sentences."""

    def exit(self, status: int = 0, message: str | None = None) -> NoReturn:
        if message:
            self._print_message(message)
        raise NotUnderstoodError(status)

    def error(self, message: str) -> NoReturn:
        if "invalid choice" in message:
            message = _("there is no such command")
        said = _("This was not understood: {why}.").format(why=message.strip().rstrip("."))
        hint = _("Write “{program} --help” to see what is.").format(program=self.prog)
        import sys

        print(said, hint, file=sys.stderr)  # noqa: T201  (what a command says)
        raise NotUnderstoodError(2)


def _parser() -> argparse.ArgumentParser:
    parser = _Parser(
        prog=APPLICATION,
        description=_(
            "Keeps years of fingerstick glucose readings. Without a command, the window."
        ),
        epilog=_("It gives no dose, no diagnosis and no change of treatment."),
        allow_abbrev=False,
    )
    _add_log(parser, None)
    commands = parser.add_subparsers(dest="command", metavar=_("COMMAND"), parser_class=_Parser)

    def command(name: str, about: str) -> argparse.ArgumentParser:
        return commands.add_parser(name, help=about, description=about, allow_abbrev=False)

    made = command("import", _("take in the readings of a file"))
    made.add_argument("file", metavar="FILE", type=Path, help=_("the file to read"))
    made.add_argument(
        "--layout", metavar="LAYOUT.toml", default="", help=_("how it is written: a file or a name")
    )
    made.add_argument(
        "--find-columns",
        action="store_true",
        help=_("find out from the file what each column is; stop where that is not certain"),
    )
    made.add_argument(
        "--refused", metavar="OUT.csv", type=Path, help=_("write the refused lines to this file")
    )
    made.add_argument(
        "--dry-run", action="store_true", help=_("say what would happen, and change nothing")
    )
    _add_log(made, argparse.SUPPRESS)

    made = command("summary", _("the figures of the report"))
    _add_period(made)
    made.add_argument("--json", action="store_true", help=_("as JSON, for other programs"))
    _add_log(made, argparse.SUPPRESS)

    made = command("report", _("the visit report, as a PDF"))
    made.add_argument(
        "--out", metavar="FILE.pdf", type=Path, required=True, help=_("where to write it")
    )
    _add_period(made)
    made.add_argument("--paper", type=_one_of("letter", "a4"), metavar="letter|a4")
    made.add_argument(
        "--print",
        type=_one_of("standard", "large"),
        default="standard",
        metavar="standard|large",
        help=_("size of the letters"),
    )
    made.add_argument(
        "--grid",
        type=_one_of("14", "28", "all"),
        default="28",
        metavar="14|28|all",
        help=_("how many of the last days to print day by day"),
    )
    made.add_argument("--appendix", action="store_true", help=_("add the pages on method and kit"))
    _add_log(made, argparse.SUPPRESS)

    made = command("export", _("all that is in the log, or your plan, for other programs"))
    made.add_argument(
        "--format",
        type=_one_of("csv", "fhir", "calendar"),
        required=True,
        metavar="csv|fhir|calendar",
        help=_("tables of everything, a file for a clinic, or your plan for a phone"),
    )
    made.add_argument(
        "--out", metavar="FILE", type=Path, required=True, help=_("where to write it")
    )
    _add_log(made, argparse.SUPPRESS)

    made = command("check", _("read the whole log and its copies, and say what is sound"))
    _add_log(made, argparse.SUPPRESS)

    made = command("backup", _("make a copy of the log, read it back and check it"))
    made.add_argument(
        "--to", metavar="DIR", type=Path, help=_("the folder for it (else beside the log)")
    )
    made.add_argument(
        "--locked",
        metavar="SHEET.pdf",
        type=Path,
        help=_("lock the copy with words; the sheet with them goes into this file"),
    )
    _add_log(made, argparse.SUPPRESS)

    made = command("merge", _("bring in another copy of the same log"))
    made.add_argument(
        "file", metavar="FILE", type=Path, help=_("the other copy; it stays as it is")
    )
    made.add_argument(
        "--dry-run", action="store_true", help=_("say what would happen, and change nothing")
    )
    _add_log(made, argparse.SUPPRESS)

    made = command("restore", _("go back to a copy; what was there is kept"))
    made.add_argument("file", metavar="FILE", type=Path, help=_("the copy to go back to"))
    made.add_argument(
        "--even-damaged", action="store_true", help=_("go back to a file that has damage, too")
    )
    _add_log(made, argparse.SUPPRESS)

    made = command("rebuild", _("make a log again from its plain-text journal alone"))
    made.add_argument("journal", metavar="JOURNAL", type=Path, help=_("the journal to read"))
    made.add_argument("--to", metavar="FILE", type=Path, required=True, help=_("the log to make"))

    made = command("demo", _("make an invented log and its report, to look around in"))
    made.add_argument(
        "--folder", metavar="DIR", type=Path, help=_("where to make it (else a fresh folder)")
    )

    command("self-test", _("try everything on a throw-away log, and say what works"))
    return parser


def _add_log(parser: argparse.ArgumentParser, default: str | None) -> None:
    parser.add_argument(
        "--log", metavar="FILE", type=Path, default=default, help=_("the log (else your own)")
    )


def _add_period(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--from", dest="first", metavar="DAY", type=_day, help=_("first day"))
    parser.add_argument("--to", dest="last", metavar="DAY", type=_day, help=_("last day"))


def _day(text: str) -> date:
    try:
        return parse_day(text)
    except BadMoment as error:
        message = _("write a day that exists, such as 2026-03-31")
        raise argparse.ArgumentTypeError(message) from error


def _one_of(*known: str) -> type[str]:
    def chosen(text: str) -> str:
        if text not in known:
            raise argparse.ArgumentTypeError(
                _("write one of {known}").format(known=", ".join(known))
            )
        return text

    return chosen  # type: ignore[return-value]
