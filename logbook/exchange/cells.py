"""What stands in the cells of a spreadsheet, as the text and the moments the line reader knows."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime, time, timedelta

from logbook.exchange.lines import LONGEST_KEPT_TEXT, LONGEST_LINE, Row, has_control_characters
from logbook.exchange.refusals import Reason

CellMoment = datetime | date | time
_HALF_A_SECOND = timedelta(microseconds=500_000)
_ZERO_DAY = datetime(1900, 1, 1)  # noqa: DTZ001  (a wall time)


def row_of_cells(number: int, cells: Sequence[object]) -> Row | None:
    """The row of a spreadsheet with this number; None for an empty one."""
    moments: dict[int, CellMoment] = {}
    fields = []
    for place, cell in enumerate(cells):
        moment = cell_moment(cell)
        if moment is not None:
            moments[place] = moment
        fields.append(cell_text(cell if moment is None else moment))
    if not any(map(str.strip, fields)):
        return None
    text = "\t".join(fields)
    if len(text) > LONGEST_LINE:
        return Row(number, text[: LONGEST_KEPT_TEXT + 1], [], Reason.LINE_TOO_LONG)
    if has_control_characters(text):
        return Row(number, text, [], Reason.CONTROL_CHARACTERS)
    return Row(number, text, fields, moments=moments)


def cell_moment(cell: object) -> CellMoment | None:
    """The moment that a cell is, to the second; None for a text or a number.

    Spreadsheets keep a time as a part of a day, which is off by a few microseconds.
    """
    if isinstance(cell, datetime):
        return _to_the_second(cell)
    if isinstance(cell, timedelta):
        is_of_a_day = timedelta(0) <= cell < timedelta(days=1)
        return _to_the_second(_ZERO_DAY + cell).time() if is_of_a_day else None
    if isinstance(cell, time):
        return _to_the_second(datetime.combine(_ZERO_DAY, cell)).time()
    return cell if isinstance(cell, date) else None


def _to_the_second(at: datetime) -> datetime:
    if at.microsecond == 0 and at.tzinfo is None:  # as nearly all are, of many thousands
        return at
    return (at.replace(tzinfo=None) + _HALF_A_SECOND).replace(microsecond=0)


def cell_text(cell: object) -> str:
    """What a cell says, without the noise of binary fractions; of moments those to the second."""
    match cell:
        case str():
            return cell
        case None:
            return ""
        case datetime():
            return cell.isoformat(" ", "seconds" if cell.second else "minutes")
        case time():
            return cell.isoformat("seconds" if cell.second else "minutes")
        case date():
            return cell.isoformat()
        case float():
            # 7.1 is kept as 7.0999999999999996; fifteen digits are what a spreadsheet shows.
            return f"{cell:.15g}"
        case _:
            return str(cell)
