"""What went wrong with a layout, or a file read by one, in one or two plain sentences.

The general sentences of every error are in `logbook.wording.problems`; here are those that only a
file from elsewhere needs.
"""

from __future__ import annotations

from logbook.domain.errors import CannotRead, LayoutWrong, LogbookError
from logbook.wording import _, mark
from logbook.wording.importing import lack_text
from logbook.wording.numbers import number_text
from logbook.wording.problems import problem_text, quotable

_OF_LAYOUT = {
    "no_such_layout": mark(
        "There is no layout called “{subject}”. "
        "Known are {known}; a path to a TOML file will do too."
    ),
    "not_toml": mark(
        "The layout {subject} is not written as a TOML file has to be. Nothing was taken in."
    ),
    "unknown_key": mark(
        "The layout {subject} says “{key}”, which is not known there. Known are {known}."
    ),
    "wrong_type": mark(
        "The layout {subject} is not right at “{key}”: {wanted} has to stand there. "
        "Nothing was taken in."
    ),
    "unknown_value": mark(
        "The layout {subject} says “{value}” at “{key}”, which can't stand there. "
        "Nothing was taken in."
    ),
    "unknown_value_known": mark(
        "The layout {subject} says “{value}” at “{key}”. What may stand there is {known}."
    ),
    "missing_key": mark(
        "The layout {subject} does not say “{key}”, which is needed. Nothing was taken in."
    ),
    "number_outside": mark(
        "The layout {subject} says {value} at “{key}”, which is outside what is possible. "
        "Nothing was taken in."
    ),
    "pattern_wrong": mark(
        "The layout {subject} says “{value}” at “{key}”, which is no way to write that. "
        "Write it like {example}."
    ),
    "column_missing": mark(
        "The layout {subject} says “{key}” but has no such column. Nothing was taken in."
    ),
    "column_twice": mark(
        "The layout {subject} uses column {value} twice, the second time at “{key}”. "
        "Nothing was taken in."
    ),
    "moment_and_date": mark(
        "The layout {subject} has “columns.moment” and “{key}” too. Leave one of them out."
    ),
    "heading_without_header": mark(
        "The layout {subject} names the heading “{value}” at “{key}”. Add the line: header = true."
    ),
    "text_twice": mark(
        "The layout {subject} gives “{value}” two meanings, at “{key}”. Nothing was taken in."
    ),
    "heading_missing": mark(
        "The file has no heading “{value}”, which the layout names. "
        "Nothing was taken in; choose another layout."
    ),
    "heading_twice": mark(
        "The file has the heading “{value}” more than once. "
        "Nothing was taken in; name the column by its number."
    ),
    "none_fits": mark(
        "Say how {subject} is written: add --find-columns, or --layout and a name. "
        "Known are {known}."
    ),
    "not_certain": mark(
        "One thing about {subject} is not certain, and a layout can tell it. {lack}"
    ),
}

_OF_FILE = {
    "special_file": mark("{subject} is not an ordinary file. Nothing was taken in."),
    "no_data": mark(
        "There is no day and no number in {subject}. Nothing was taken in; choose another file."
    ),
    "not_text": mark(
        "{subject} is no text and no .xlsx or .ods spreadsheet. "
        "Save it as CSV in the program it comes from, then try again."
    ),
    "spreadsheet_damaged": mark(
        "{subject} is a damaged spreadsheet. "
        "Save it as CSV in the program it comes from, then try again."
    ),
    "spreadsheet_too_large": mark(
        "{subject} unpacks to far more than any diary. Nothing was taken in."
    ),
    "sheet_missing": mark(
        "{subject} has no sheet called “{sheet}”. Nothing was taken in; choose another layout."
    ),
    "encoding": mark(
        "The letters in {subject} are not stored as {encoding}. "
        "Nothing was taken in; name the right encoding in the layout."
    ),
    "too_many_readings": mark(
        "{subject} holds more than {most} readings, more than a life of checks. "
        "Nothing was taken in."
    ),
    "too_many_refused": mark(
        "More than {most} lines of {subject} do not fit the layout. "
        "Nothing was taken in; choose another layout."
    ),
}

_OF_EXCHANGE = {
    "archive": mark(
        "{subject} is cut off, damaged or locked. Nothing was taken in; have the file made again."
    ),
    "not_json": mark(
        "{subject} is cut off or not written as JSON, at line {line}. "
        "Nothing was taken in; have the file made again."
    ),
    "not_fhir": mark(
        "{subject} is JSON, but not a FHIR file. Nothing was taken in; choose another file."
    ),
    "no_observations": mark(
        "{subject} is a FHIR file without observations. Nothing was taken in; choose another file."
    ),
    "too_large": mark(
        "{subject} is larger than a log of many years. "
        "Nothing was taken in; have it made in smaller parts."
    ),
}

_WANTED = {
    "str": mark("a text in quotation marks"),
    "bool": mark("true or false"),
    "int": mark("a whole number"),
    "dict": mark("a table"),
    "list": mark("a list of texts"),
}

_EXAMPLES = {"date": "%Y-%m-%d", "time": "%H:%M", "moment": "%Y-%m-%d %H:%M"}


def import_problem_text(error: LogbookError) -> str:
    """One or two sentences about an import that could not be, with the key and why."""
    why = str(error.facts.get("why", ""))
    sentence = None
    if isinstance(error, LayoutWrong):
        is_listed = why == "unknown_value" and "known" in error.facts
        sentence = _OF_LAYOUT.get("unknown_value_known" if is_listed else why)
    elif isinstance(error, CannotRead):
        sentence = _OF_FILE.get(why) or _OF_EXCHANGE.get(why)
    if sentence is None:
        return problem_text(error)
    known = error.facts.get("known", ())
    most = error.facts.get("most", 0)
    key = str(error.facts.get("key", ""))
    return _(sentence).format(
        subject=quotable(error.subject),
        key=quotable(key),
        value=quotable(str(error.facts.get("value", ""))),
        known=", ".join(map(str, known)) if isinstance(known, list) else "",
        lack=lack_text(str(error.facts["lack"])) if "lack" in error.facts else "",
        wanted=_(_WANTED.get(str(error.facts.get("wanted")), "")),
        example=_EXAMPLES.get(key.rpartition(".")[2], ""),
        sheet=quotable(str(error.facts.get("sheet", ""))),
        encoding=str(error.facts.get("encoding", "")).upper(),
        most=number_text(most) if isinstance(most, int) else "",
        line=error.facts.get("line", ""),
    )
