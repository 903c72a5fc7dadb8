"""What can go wrong, as a few named errors that carry facts, never sentences.

`logbook.wording.problems` turns each of them into one or two plain sentences, for the window and
for the commands alike. The store translates every database error into one of these, once.
"""

from __future__ import annotations


class LogbookError(Exception):
    """Something the person should be told about. `subject` names the file or value concerned."""

    def __init__(self, subject: object = "", **facts: object) -> None:
        super().__init__(str(subject))
        self.subject = str(subject)
        self.facts = facts


# --- the number -----------------------------------------------------------------------------------


class NotANumber(LogbookError):
    """The text is not a glucose value as a meter shows it."""


class DecimalsNotShown(LogbookError):
    """A value in mg/dL was written with decimals, which no such meter shows."""


class ImpossibleGlucose(LogbookError):
    """The value lies outside what is possible at all: 10 to 1,000 mg/dL, 0.6 to 55.0 mmol/L."""


class BadA1C(LogbookError):
    """The text is no laboratory A1C in the unit told.

    Fact `why`: not_a_number, decimals, other_unit, impossible
    """


class BadMoment(LogbookError):
    """A date or time that does not exist. Fact `why`: date_impossible, time_impossible, ..."""


# --- the log --------------------------------------------------------------------------------------


class NoSuchLog(LogbookError):
    """There is no file at this path."""


class AlreadyThere(LogbookError):
    """A log was to be made where something already is; nothing was overwritten."""


class NotALog(LogbookError):
    """The path holds something else.

    Fact `why`: directory, special_file, other_database, not_a_database.
    """


class DamagedLog(LogbookError):
    """The log, or a record in it, is not what was written.

    Fact `why`: empty, malformed, digest, ...
    """


class NewerLog(LogbookError):
    """A newer version of the program wrote this log; it may be read but not written."""


class LogBusy(LogbookError):
    """Another program held the log for longer than was waited."""


class LogInUse(LogbookError):
    """The log is open for writing elsewhere, as a rule in the window."""


class LogReadOnly(LogbookError):
    """The log or its folder can't be written by this person."""


class DiskFull(LogbookError):
    """There is no room left; what was to be saved is not saved."""


class NotSaved(LogbookError):
    """Writing failed for another reason of the disk or the system; nothing of it is saved."""


class NothingToUndo(LogbookError):
    """There is no action left to take back, or to put back."""


class NoSuchRecord(LogbookError):
    """The record that was to be changed is not in the log."""


# --- files in and out -----------------------------------------------------------------------------


class CannotRead(LogbookError):
    """A file that was to be read can't be.

    Fact `why`: missing, directory, permission, encoding, ...
    """


class WrongPhrase(LogbookError):
    """The words typed do not open a locked file.

    Fact `why`: empty, unknown_word (with `number` and `like`), word_count (with `typed`, `count`)
    """


class CannotWrite(LogbookError):
    """A file that was to be written can't be; what was there before is still there."""


class LayoutWrong(LogbookError):
    """The description of a file's columns is not right. Facts `why`, `key`."""


class NothingTaken(LogbookError):
    """A file was read but no line of it could be taken in."""
