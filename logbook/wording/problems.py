"""What went wrong, in one or two plain sentences: what happened, what is safe, what to do.

Every error of `logbook.domain.errors` has its sentences here, for the window and for the commands
alike. A reason (`why`) without sentences of its own gets those of its error.
"""

from __future__ import annotations

from logbook.domain import errors
from logbook.domain.glucose import POSSIBLE_STEPS, Unit
from logbook.wording import _, mark
from logbook.wording.numbers import steps_text

# The longest piece of a person's own text that a sentence repeats. Paths stay whole up to twice
# that: a path without its beginning or its end is no help.
LONGEST_QUOTE = 60

_GENERAL = ""

_SENTENCES: dict[type[errors.LogbookError], dict[str, str]] = {
    errors.LogbookError: {
        _GENERAL: mark("“{subject}” could not be used. Nothing was changed."),
        "sqlite_too_old": mark(
            "SQLite {subject}, which keeps the log, is too old. "
            "Nothing was changed; install version 3.38 or newer."
        ),
    },
    errors.NotANumber: {
        _GENERAL: mark(
            "“{subject}” is not a number as a meter shows it. "
            "Type what the display shows, for example {example}."
        ),
    },
    errors.DecimalsNotShown: {
        _GENERAL: mark(
            "“{subject}” has more decimals than a meter in {unit} shows. "
            "Type what the display shows, for example {example}."
        ),
    },
    errors.ImpossibleGlucose: {
        _GENERAL: mark(
            "“{subject}” lies outside what is possible: {least} to {most} {unit}. "
            "Look at the display, and at its unit, once more."
        ),
    },
    errors.BadA1C: {
        _GENERAL: mark(
            "“{subject}” is not an A1C as a laboratory prints it. "
            "Type the number alone, for example 7.2 or 55."
        ),
        "not_a_number": mark(
            "“{subject}” is not an A1C as a laboratory prints it. "
            "Type the number alone, for example 7.2 or 55."
        ),
        "decimals": mark(
            "“{subject}” has more decimals than a laboratory prints. "
            "Look at the printed number once more."
        ),
        "other_unit": mark(
            "“{subject}” looks like an A1C in the other unit. "
            "Choose % or mmol/mol, as the laboratory prints it."
        ),
        "impossible": mark(
            "“{subject}” lies outside what an A1C can be: 3.0 to 20.0 %, or 9 to 195 mmol/mol. "
            "Look at the printed number once more."
        ),
    },
    errors.BadMoment: {
        _GENERAL: mark("“{subject}” is not a day or time that exists. Nothing was changed."),
        "date_malformed": mark(
            "“{subject}” is not a day in the form used here. "
            "Write year, month and day, for example 2026-03-31."
        ),
        "date_impossible": mark(
            "There is no day “{subject}” in the calendar. Look at its month and day once more."
        ),
        "time_malformed": mark(
            "“{subject}” is not a time in the form used here. "
            "Write hours and minutes, for example 08:05."
        ),
        "time_impossible": mark(
            "There is no time “{subject}” on a clock. Look at its hours and minutes once more."
        ),
        "zone_unknown": mark(
            "The time zone “{subject}” is not known here. "
            "Write region and city, for example Europe/London."
        ),
        "zone_missing": mark(
            "The time “{subject}” comes without its time zone. Nothing was changed."
        ),
        "offset_wrong": mark(
            "The time “{subject}” does not fit its time zone. Nothing was changed."
        ),
        "period_backwards": mark(
            "The period “{subject}” ends before it begins. Give the earlier day first."
        ),
        "in_future": mark("“{subject}” has not come yet. Look at the day and the clock once more."),
    },
    errors.NoSuchLog: {
        _GENERAL: mark(
            "There is no log at {subject}. Nothing was changed; look for the file elsewhere."
        ),
        "lost": mark(
            "Your log is no longer at {subject}. Its copies or its journal are still there."
        ),
    },
    errors.AlreadyThere: {
        _GENERAL: mark(
            "Something is already at {subject}. It was left as it is; choose another name."
        ),
    },
    errors.NotALog: {
        _GENERAL: mark("{subject} is not a log. It was left as it is; choose another file."),
        "directory": mark("{subject} is a folder, not a log. Choose the file inside it."),
        "special_file": mark(
            "{subject} is not an ordinary file, so it cannot be a log. Choose another file."
        ),
        "other_database": mark(
            "{subject} belongs to another program. It was left as it is; choose another file."
        ),
        "not_a_database": mark(
            "{subject} is not a log. It was left as it is; choose another file."
        ),
        "other_log": mark(
            "{subject} is a copy of another log. Nothing was changed; choose a copy of this one."
        ),
    },
    errors.DamagedLog: {
        _GENERAL: mark(
            "The log {subject} is damaged. It was left as it is; go back to the last checked copy."
        ),
        "empty": mark(
            "The log {subject} is empty, as no log ever is. "
            "It was left as it is; go back to the last checked copy."
        ),
        "malformed": mark(
            "The log {subject} is damaged and cannot be read. "
            "It was left as it is; go back to the last checked copy."
        ),
        "truncated": mark(
            "The log {subject} has lost its end. "
            "It was left as it is; go back to the last checked copy."
        ),
        "another_copy": mark(
            "{subject} is damaged, so nothing was brought in. "
            "Your own log is as it was; choose another copy."
        ),
        "digest": mark(
            "A record in {subject} is no longer what was written. "
            "It is shown as damaged and stays outside every figure."
        ),
    },
    errors.NewerLog: {
        _GENERAL: mark(
            "A newer version of this program wrote {subject}. "
            "You can read it here; to write, install the newer version."
        ),
        "tables": mark(
            "A newer version of this program wrote {subject}, and this one cannot read it. "
            "It was left as it is; install the newer version."
        ),
        "another_copy": mark(
            "A newer version of this program wrote {subject}. "
            "Nothing was brought in; install the newer version here first."
        ),
    },
    errors.LogBusy: {
        _GENERAL: mark(
            "Another program is busy with {subject}. "
            "Nothing was changed; wait a minute, then try again."
        ),
    },
    errors.LogInUse: {
        _GENERAL: mark(
            "{subject} is open elsewhere, perhaps in another window. "
            "Nothing was changed; close it there, then try again."
        ),
    },
    errors.LogReadOnly: {
        _GENERAL: mark(
            "You are not allowed to write to {subject}. "
            "Nothing was changed; what is in the log is safe."
        ),
        "folder": mark(
            "You are not allowed to write to the folder of {subject}. "
            "Nothing was changed; what is in the log is safe."
        ),
    },
    errors.DiskFull: {
        _GENERAL: mark(
            "There is no room left on the disk for {subject}. "
            "This was not saved; make room, then save again."
        ),
    },
    errors.NotSaved: {
        _GENERAL: mark(
            "Writing to {subject} did not work, so this was not saved. "
            "What was saved before is safe; save again."
        ),
        "text": mark(
            "“{subject}” holds a character that cannot be kept, so this was not saved. "
            "Take it out, then save again."
        ),
    },
    errors.NothingToUndo: {
        _GENERAL: mark("There is nothing left to take back or to put back. The log is as it was."),
    },
    errors.NoSuchRecord: {
        _GENERAL: mark("This record is not in the log, or no longer. Nothing was changed."),
    },
    errors.CannotRead: {
        _GENERAL: mark("{subject} cannot be read. Nothing was changed; try another file."),
        "missing": mark("There is no file {subject}. Look at its name and folder once more."),
        "directory": mark("{subject} is a folder, not a file. Choose a file inside it."),
        "permission": mark(
            "You are not allowed to read {subject}. Nothing was changed; choose another file."
        ),
        "encoding": mark(
            "The letters in {subject} are stored in another way than expected. "
            "Nothing was taken in; save it as UTF-8."
        ),
        "empty": mark("There is nothing in {subject}. Nothing was changed; choose another file."),
        "malformed": mark("{subject} is not in a form that can be read. Nothing was changed."),
        "disk": mark(
            "The disk could not read all of {subject}. Nothing was changed; try another copy of it."
        ),
        "special_file": mark("{subject} is not an ordinary file. Choose another file."),
        "same_file": mark("{subject} is the log itself. Nothing was changed; choose a copy of it."),
        "not_text": mark("{subject} is not a text file. Nothing was changed; choose another file."),
        "too_large": mark("{subject} is too large to be read. Nothing was changed."),
        "locked": mark("{subject} is locked. Nothing was changed; the words on its sheet open it."),
        "locked_damaged": mark(
            "{subject} is damaged, so it cannot be opened. Nothing was changed; use another copy."
        ),
        "locked_slow": mark(
            "Opening {subject} would take this computer too long. "
            "Nothing was changed; open it on another computer."
        ),
        "not_a_journal": mark(
            "{subject} is not the journal of a log. Nothing was changed; choose another file."
        ),
    },
    errors.WrongPhrase: {
        _GENERAL: mark(
            "These words do not open {subject}. "
            "Nothing was changed; compare each word with the sheet."
        ),
        "unknown_word": mark(
            "“{subject}” is not one of the words that can stand on a sheet. "
            "Compare it with the sheet; only its letters count."
        ),
        "similar_word": mark(
            "“{subject}” cannot stand on a sheet. Compare it with the sheet; it may be “{like}”."
        ),
        "word_count": mark(
            "The sheet has {count} words, and “{subject}” has {typed}. "
            "Nothing was changed; compare it with the sheet."
        ),
    },
    errors.CannotWrite: {
        _GENERAL: mark(
            "{subject} cannot be written. "
            "What was there before is still there; choose another name or folder."
        ),
        "missing": mark("The folder of {subject} is not there. Make it, or choose another folder."),
        "directory": mark("{subject} is a folder, not a file. Choose a name for the file."),
        "permission": mark(
            "You are not allowed to write {subject}. "
            "What was there before is still there; choose another folder."
        ),
        "full": mark(
            "There is no room left for {subject}. "
            "What was there before is still there; make room, then try again."
        ),
        "read_back": mark(
            "{subject} could not be read back, so it was removed again. "
            "Nothing else was changed; try another stick."
        ),
        "with_sheet": mark(
            "The sheet {subject} would lie beside the locked copy. "
            "Nothing was made; choose another folder for it."
        ),
        "exists": mark("{subject} is already there. It was left as it is; choose another name."),
    },
    errors.LayoutWrong: {
        _GENERAL: mark(
            "The layout {subject} is not right at “{key}”. "
            "Nothing was taken in; mend that line, then try again."
        ),
    },
    errors.NothingTaken: {
        _GENERAL: mark(
            "No line of {subject} could be taken in. "
            "The log is as it was; each refused line has its reason."
        ),
    },
}

_WITHOUT_SUBJECT: dict[type[errors.LogbookError], str] = {
    errors.WrongPhrase: mark("The words are missing. Type the words from the sheet."),
    errors.NotANumber: mark("There is no number yet. Type what the meter shows."),
    errors.BadMoment: mark("The day or time is missing. Nothing was changed."),
    errors.LogbookError: mark("This did not work. Nothing was changed."),
}


def problem_text(error: errors.LogbookError) -> str:
    """One or two sentences about `error`, with its subject named where a person knows it."""
    kind = next(kind for kind in type(error).__mro__ if kind in _SENTENCES)
    subject = quotable(error.subject)
    if not subject and kind in _WITHOUT_SUBJECT:
        return _(_WITHOUT_SUBJECT[kind])
    sentences = _SENTENCES[kind]
    why = str(error.facts.get("why", _GENERAL))
    if why == "unknown_word" and error.facts.get("like"):
        why = "similar_word"
    chosen = sentences.get(why, sentences[_GENERAL])
    unit = error.facts.get("unit")
    unit = unit if isinstance(unit, Unit) else Unit.MG_DL
    least, most = POSSIBLE_STEPS[unit]
    return _(chosen).format(
        subject=subject or _("the file"),
        key=quotable(str(error.facts.get("key", ""))) or "?",
        unit=unit.value,
        example=steps_text(128 if unit is Unit.MG_DL else 71, unit, with_unit=False),
        like=error.facts.get("like", ""),
        count=error.facts.get("count", 0),
        typed=error.facts.get("typed", 0),
        least=steps_text(least, unit, with_unit=False),
        most=steps_text(most, unit, with_unit=False),
    )


def unexpected_text(folder: str) -> str:
    """What is said when the program itself is at fault; `folder` holds its notes."""
    return _(
        "The program met something it did not expect. "
        "What you saved is safe; notes about it are in {folder}."
    ).format(folder=folder)


def quotable(text: str) -> str:
    """One line of a person's text or path, shortened in the middle when it is very long."""
    line = " ".join("".join(c if c.isprintable() else " " for c in text).split())
    longest = LONGEST_QUOTE * (2 if "/" in line or "\\" in line else 1)
    if len(line) <= longest:
        return line
    half = (longest - 1) // 2
    return f"{line[:half]}…{line[-half:]}"
