"""What stands in the cells of a spreadsheet, as the text and the moments the line reader knows."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime, time, timedelta

from logbook.exchange.lines import LONGEST_KEPT_TEXT, LONGEST_LINE, Row, has_control_characters
from logbook.exchange.refusals import Reason

CellMoment = datetime | date | time
_ZERO_DAY = datetime(1900, 1, 1)  # noqa: DTZ001  (a wall time)


def row_of_cells(number: int, cells: Sequence[object]) -> Row | None:
    """The row of a spreadsheet with this number; None for an empty one."""
    fields = [cell_text(cell) for cell in cells]
    if not any(map(str.strip, fields)):
        return None
    text = "\t".join(fields)
    if len(text) > LONGEST_LINE:
        return Row(number, text[: LONGEST_KEPT_TEXT + 1], [], Reason.LINE_TOO_LONG)
    if has_control_characters(text):
        return Row(number, text, [], Reason.CONTROL_CHARACTERS)
    moments = {
        place: moment
        for place, cell in enumerate(cells)
        if (moment := cell_moment(cell)) is not None
    }
    return Row(number, text, fields, moments=moments)


def cell_moment(cell: object) -> CellMoment | None:
    """The moment that a cell is; None for a text or a number."""
    if isinstance(cell, datetime):
        # Spreadsheets keep a time as a part of a day, which is off by a few microseconds.
        return (cell.replace(tzinfo=None) + timedelta(microseconds=500_000)).replace(microsecond=0)
    if isinstance(cell, timedelta):
        is_of_a_day = timedelta(0) <= cell < timedelta(days=1)
        rounded = _ZERO_DAY + cell + timedelta(microseconds=500_000)
        return rounded.time().replace(microsecond=0) if is_of_a_day else None
    if isinstance(cell, time):
        rounded = datetime.combine(_ZERO_DAY, cell) + timedelta(microseconds=500_000)
        return rounded.time().replace(microsecond=0, tzinfo=None)
    return cell if isinstance(cell, date) else None


def cell_text(cell: object) -> str:
    """What a cell says, without the noise of binary fractions."""
    if cell is None:
        return ""
    if isinstance(cell, str):
        return cell
    moment = cell_moment(cell)
    if isinstance(moment, datetime):
        return moment.isoformat(" ", "seconds" if moment.second else "minutes")
    if isinstance(moment, time):
        return moment.isoformat("seconds" if moment.second else "minutes")
    if isinstance(moment, date):
        return moment.isoformat()
    if isinstance(cell, float):
        # 7.1 is kept as 7.0999999999999996; fifteen digits are what a spreadsheet shows.
        return f"{cell:.15g}"
    return str(cell)
