"""What is guessed of a file: its encoding, its columns, how dates are written, and the unit."""

from dataclasses import replace
from datetime import date, datetime, time
from pathlib import Path

import pytest

from logbook.domain.errors import CannotRead
from logbook.domain.glucose import Unit
from logbook.domain.slots import Slot
from logbook.exchange.diary_file import FileRead, read_diary
from logbook.exchange.draft import Beside, Draft, Lack
from logbook.exchange.first_look import ROWS_LOOKED_AT, look_at
from logbook.exchange.fitting import layouts_that_fit
from logbook.exchange.layout_files import find_layout, keep_layout, kept_layouts
from logbook.exchange.refusals import Reason
from logbook.exchange.unit_guess import UnitDoubt
from tests.exchange.sheets import write_ods, write_xlsx


def _draft(tmp_path: Path, content: bytes, name: str = "a.csv") -> Draft:
    path = tmp_path / name
    path.write_bytes(content)
    return Draft.of(look_at(path))


def _read(draft: Draft, now: datetime) -> FileRead:
    return read_diary(draft.look.path, draft.layout("x"), "UTC", now)


DIALECTS = {
    "commas": "Date,Time,Glucose (mg/dL),When,Notes\n2026-03-17,7:15,128,fasting,\n"
    '2026-03-17,9:30,151,after breakfast,"a, b"\n',
    "semicolons and decimal commas": "Datum;Uhrzeit;Blutzucker mmol/l;Mahlzeit;Bemerkung\n"
    "17.03.2026;07:15;7,1;nüchtern;\n17.03.2026;09:30;8,4;nach dem Frühstück;\n",
    "tabs": "date\ttime\tbg\n17-03-2026\t7:15 AM\t128\n17-03-2026\t9:30 AM\t151\n",
    "pipes": "day|clock|mg/dl\n03/17/2026|07:15|128\n03/17/2026|09:30|151\n",
    "moment": "Timestamp,Reading\n2026-03-17T07:15:00,128\n2026-03-17T09:30:00,151\n",
    "title above": "My diary\nwritten by me\n\nDate,Time,Glucose\n17 Mar 2026,7:15,128\n"
    "17 Mar 2026,9:30,151\n",
    "quotes": "'date','time','mg/dL'\n'2026-03-17','07:15','128'\n'2026-03-17','09:30','151'\n",
    "no headings": "03-17-2026\t7:15\t58\t128\n03-17-2026\t9:30\t59\t151\n",
}
# Two columns of whole numbers without a heading: nothing says which is the glucose.
UNSAID = {"no headings"}


@pytest.mark.parametrize("name", sorted(set(DIALECTS) - UNSAID))
@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "cp1252"])
def test_dialects_and_encodings_are_told_from_the_file(
    tmp_path: Path, now: datetime, name: str, encoding: str
) -> None:
    draft = _draft(tmp_path, DIALECTS[name].encode(encoding))
    assert draft.lacks() == ()
    found = _read(draft, now)
    assert found.refused == ()
    values = ["7.1", "8.4"] if "semicolons" in name else ["128", "151"]
    assert [one.glucose.text for one in found.readings] == values
    assert [one.at.wall for one in found.readings] == [
        datetime(2026, 3, 17, 7, 15),
        datetime(2026, 3, 17, 9, 30),
    ]
    if name in ("commas", "semicolons and decimal commas"):
        assert [one.slot for one in found.readings] == [Slot.FASTING, Slot.AFTER_BREAKFAST]


def test_a_column_is_named_by_the_person_and_the_other_gives_way(
    tmp_path: Path, now: datetime
) -> None:
    draft = _draft(tmp_path, DIALECTS["no headings"].encode())
    draft = draft.with_column(2, "value")
    assert draft.columns.count("value") == 1
    draft = draft.with_column(3, "value")
    assert (draft.columns[2], draft.columns[3]) == ("", "value")
    assert [one.glucose.text for one in _read(draft, now).readings] == ["128", "151"]


@pytest.mark.parametrize("write", [write_xlsx, write_ods])
def test_a_spreadsheet_is_told_as_well(tmp_path: Path, now: datetime, write: object) -> None:
    rows = [["Log of 2026"], ["Date", "Time", "Sugar mmol/L", "Remarks"]]
    rows += [[date(2026, 3, 1), time(7, 15), 7.1, "x"], [date(2026, 3, 2), time(7, 5), 6.0, None]]  # type: ignore[list-item]
    path = write(tmp_path / "a.sheet", {"empty": [], "one": rows})  # type: ignore[operator]
    draft = Draft.of(look_at(path, sheet="one"))
    assert draft.look.sheets == ("empty", "one")
    assert draft.columns == ("date", "time", "value", "note")
    assert draft.lacks() == ()
    assert [one.glucose.text for one in _read(draft, now).readings] == ["7.1", "6.0"]


# --- dates ---------------------------------------------------------------------------------------


def test_days_that_can_be_read_two_ways_are_asked(tmp_path: Path, now: datetime) -> None:
    lines = "date,time,mg/dl\n03/04/2025,7:15,128\n05/06/2025,7:15,131\n01/02/2025,7:15,120\n"
    draft = _draft(tmp_path, lines.encode())
    assert draft.lacks() == (Lack.DAY_ORDER,)
    for is_day_first, months in ((True, [4, 6, 2]), (False, [3, 5, 1])):
        said = replace(draft, is_day_first=is_day_first)
        assert said.lacks() == ()
        assert [one.at.wall.month for one in _read(said, now).readings] == months


def test_days_in_order_tell_which_number_is_the_month(tmp_path: Path) -> None:
    """From March 8 to April 4, without a day after the 12th: in order in one reading alone."""
    days = [f"03/{day:02d}" for day in range(8, 13)] + [f"04/{day:02d}" for day in range(1, 5)]
    lines = "".join(f"{day}/2026,7:15,128\n" for day in days)
    draft = _draft(tmp_path, f"date,time,mg/dl\n{lines}".encode())
    written = draft.written("date")
    assert written is not None
    assert (written.pattern, written.is_order_open) == ("%m/%d/%Y", False)


# --- the unit ------------------------------------------------------------------------------------


def _values(heading: str, values: list[str]) -> bytes:
    lines = "".join(f"2026-03-{n:02d},07:15,{value}\n" for n, value in enumerate(values, 1))
    return f"date,time,{heading}\n{lines}".encode()


@pytest.mark.parametrize(
    ("heading", "values", "unit", "doubt"),
    [
        ("glucose", ["128", "90", "151"], Unit.MG_DL, None),
        ("glucose", ["7.1", "6.0", "10.4"], Unit.MMOL_L, None),
        ("glucose", ["12", "20", "30"], None, UnitDoubt.NOT_SAID),
        ("glucose mg/dL", ["12", "20", "30"], Unit.MG_DL, None),
        ("glucose mmol/L", ["128", "90", "151"], None, UnitDoubt.CONTRADICTED),
        ("glucose mg/dL", ["7.1", "6.0", "10.4"], None, UnitDoubt.CONTRADICTED),
        ("glucose", ["7.1", "128", "6.0", "131"], None, UnitDoubt.MIXED),
        ("glucose mg/dL", ["7.1", "128", "6.0", "131"], None, UnitDoubt.MIXED),
    ],
)
def test_the_unit_is_certain_or_asked(
    tmp_path: Path, heading: str, values: list[str], unit: Unit | None, doubt: UnitDoubt | None
) -> None:
    draft = _draft(tmp_path, _values(heading, values))
    assert (draft.unit_in_force, draft.unit_doubt) == (unit, doubt)
    assert (Lack.UNIT in draft.lacks()) == (unit is None)


def test_a_unit_in_each_line_is_taken_line_by_line(tmp_path: Path, now: datetime) -> None:
    lines = "date,time,value,unit\n2026-03-01,7:15,128,mg/dL\n2026-03-02,7:15,7.1,mmol\n"
    draft = _draft(tmp_path, lines.encode())
    assert draft.lacks() == ()
    assert [one.glucose.unit for one in _read(draft, now).readings] == list(Unit)


def test_one_unit_in_every_line_that_the_numbers_deny_is_asked(tmp_path: Path) -> None:
    lines = "date,time,value,unit\n" + "".join(
        f"2026-03-0{n},7:15,{value},mmol/L\n" for n, value in enumerate([128, 90, 151], 1)
    )
    assert _draft(tmp_path, lines.encode()).unit_doubt is UnitDoubt.CONTRADICTED


# --- other lines ---------------------------------------------------------------------------------

EVENTS = """time,type,value,comment
2026-03-01 07:15,Glucose,128,
2026-03-01 07:20,Insulin dose,9,in the belly
2026-03-01 12:05,Glucose,141,before soup
2026-03-01 12:10,Meal,45,
2026-03-01 15:00,Exercise,30,
2026-03-01 18:00,Control solution,104,
2026-03-01 18:05,Glucose,LO,
"""


def test_insulin_and_meals_become_notes_and_control_tests_stay_out(
    tmp_path: Path, now: datetime
) -> None:
    draft = _draft(tmp_path, EVENTS.encode())
    assert draft.columns == ("moment", "kind", "value", "note")
    assert draft.meaning("kind", "Insulin dose") is Beside.NOTE
    assert draft.meaning("kind", "Control solution") is Beside.LEFT_OUT
    found = _read(draft, now)
    assert [(one.glucose.text, one.note) for one in found.readings] == [
        ("128", "insulin dose 9 in the belly (07:20)"),
        ("141", "before soup; meal 45 (12:10)"),
        ("LO", ""),
    ]
    assert (found.noted, found.skipped) == (2, {"exercise": 1, "control test": 1})
    assert found.lines == 7


def test_the_person_says_otherwise_of_a_word(tmp_path: Path, now: datetime) -> None:
    draft = _draft(tmp_path, EVENTS.encode()).with_meaning("Meal", Beside.LEFT_OUT)
    assert _read(draft, now).skipped == {"exercise": 1, "control test": 1, "meal": 1}
    lines = "date,time,mg/dl,when\n2026-03-01,7:15,128,early\n2026-03-02,7:15,128,fasting\n"
    draft = _draft(tmp_path, lines.encode())
    assert not draft.is_known("slot", "early")
    draft = draft.with_meaning("early", Slot.NIGHT)
    assert [one.slot for one in _read(draft, now).readings] == [Slot.NIGHT, Slot.FASTING]


# --- keeping -------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", sorted(set(DIALECTS) - UNSAID))
def test_a_layout_that_is_kept_reads_the_same(tmp_path: Path, now: datetime, name: str) -> None:
    draft = _draft(tmp_path, DIALECTS[name].encode())
    path = keep_layout(tmp_path / "kept", 'Grandma’s "old" diary!', draft.table("x"))
    assert path.name == "grandma-s-old-diary.toml"
    assert list(kept_layouts(tmp_path / "kept")) == ["grandma-s-old-diary"]
    layout = find_layout("grandma-s-old-diary", tmp_path / "kept")
    assert layout.name == 'Grandma’s "old" diary!'
    assert read_diary(draft.look.path, layout, "UTC", now) == _read(draft, now)


def test_kept_words_may_hold_anything(tmp_path: Path, now: datetime) -> None:
    odd = 'x"y\\z = [a]\x07'.replace("\x07", "")
    lines = f'date;time;mg/dl;when\n2026-03-01;7:15;128;"{odd.replace(chr(34), chr(34) * 2)}"\n'
    lines += "2026-03-02;7:15;128;fasting\n" * 3
    draft = _draft(tmp_path, lines.encode()).with_meaning(odd, Slot.NIGHT)
    layout = find_layout(str(keep_layout(tmp_path / "kept", "odd", draft.table("odd"))))
    found = read_diary(draft.look.path, layout, "UTC", now)
    assert found.readings[0].slot is Slot.NIGHT


# --- lines that must not be lost, or taken for readings ------------------------------------------


@pytest.mark.parametrize(
    "first", ["?,07:15,120", "yesterday,7:15 AM,120", ",,120", '"1 "March",7:15,120']
)
def test_a_line_above_the_first_day_is_told_and_not_passed_over(
    tmp_path: Path, now: datetime, first: str
) -> None:
    lines = f"My diary\nDate,Time,mg/dL\n{first}\n2026-03-02,07:15,121\n2026-03-03,07:15,122\n"
    draft = _draft(tmp_path, lines.encode())
    assert draft.look.headings == ("Date", "Time", "mg/dL")
    found = _read(draft, now)
    assert (found.lines, len(found.readings)) == (3, 2)
    assert [one.number for one in found.refused] == [3]


@pytest.mark.parametrize(
    "word", ["after meal", "pre-meal", "2 h after food", "Post exercise", "before insulin"]
)
def test_a_check_beside_a_meal_is_a_check_of_a_time_to_be_told(
    tmp_path: Path, now: datetime, word: str
) -> None:
    lines = f"date,time,mg/dl,when\n2026-03-01,7:15,128,fasting\n2026-03-01,9:15,151,{word}\n"
    draft = _draft(tmp_path, lines.encode())
    assert not draft.is_known("slot", word)
    assert [one.glucose.text for one in _read(draft, now).readings] == ["128", "151"]


def test_glucose_tablets_are_no_reading(tmp_path: Path, now: datetime) -> None:
    lines = "date,time,type,value\n2026-03-01,7:15,Glucose,58\n2026-03-01,7:20,Glucose tablets,12\n"
    found = _read(_draft(tmp_path, lines.encode()).with_column(3, "value"), now)
    assert [one.glucose.text for one in found.readings] == ["58"]
    assert found.noted == 1


def test_a_kind_that_comes_late_in_the_file_is_no_reading(tmp_path: Path, now: datetime) -> None:
    """The words are told from the first rows alone; what is not known there is refused."""
    early = "".join(
        f"2025-{1 + n // 28 % 12:02d}-{1 + n % 28:02d},{n // 336:02d}:15,Glucose,{90 + n % 99}\n"
        for n in range(ROWS_LOOKED_AT)
    )
    lines = f"date,time,type,mg/dl\n{early}2026-01-02,12:00,Carbs,45\n2026-01-02,12:01,Glucose,99\n"
    draft = _draft(tmp_path, lines.encode())
    assert draft.words("kind") == ["glucose"]
    found = _read(draft, now)
    assert len(found.readings) == ROWS_LOOKED_AT + 1
    assert [one.reason for one in found.refused] == [Reason.CODE_UNKNOWN]


def test_a_number_may_bring_its_unit(tmp_path: Path, now: datetime) -> None:
    lines = "date,time,glucose\n2026-03-01,7:15,128 mg/dL\n2026-03-02,7:15,6.7mmol\n"
    draft = _draft(tmp_path, lines.encode())
    assert draft.columns == ("date", "time", "value")
    assert draft.lacks() == ()
    found = _read(draft, now)
    assert [(one.glucose.text, one.glucose.unit) for one in found.readings] == [
        ("128", Unit.MG_DL),
        ("6.7", Unit.MMOL_L),
    ]


def test_times_written_two_ways_leave_most_lines_readable(tmp_path: Path, now: datetime) -> None:
    lines = "date,time,mg/dl\n" + "".join(
        f"2026-03-{day:02d},07:15{':30' if day % 3 == 0 else ''},128\n" for day in range(1, 10)
    )
    found = _read(_draft(tmp_path, lines.encode()), now)
    assert (len(found.readings), len(found.refused)) == (6, 3)


def test_days_that_mix_both_orders_are_not_guessed(tmp_path: Path) -> None:
    days = ["03/14/2026", "03/15/2026", "16/03/2026", "17/03/2026", "18/03/2026"]
    lines = "date,time,mg/dl\n" + "".join(f"{day},07:15,128\n" for day in days)
    assert Lack.DATE in _draft(tmp_path, lines.encode()).lacks()


def test_months_in_full_are_read(tmp_path: Path, now: datetime) -> None:
    days = ["April 30, 2026", "May 1, 2026", "May 2, 2026"]
    lines = "date;time;mg/dl\n" + "".join(f"{day};07:15;128\n" for day in days)
    found = _read(_draft(tmp_path, lines.encode()), now.replace(year=2027))
    assert [one.at.wall.date() for one in found.readings] == [
        date(2026, 4, 30),
        date(2026, 5, 1),
        date(2026, 5, 2),
    ]


@pytest.mark.parametrize(
    ("content", "why"),
    [
        (b"Date,Time,mg/dL\n", "no_data"),
        (b"<html><table><tr><td>2026-03-01</td></tr></table></html>", "not_text"),
        (b'\xef\xbb\xbf<?xml version="1.0"?><Bundle/>', "not_text"),
    ],
)
def test_a_file_without_a_table_of_readings_is_told(
    tmp_path: Path, content: bytes, why: str
) -> None:
    with pytest.raises(CannotRead) as caught:
        _draft(tmp_path, content)
    assert caught.value.facts["why"] == why


# --- shipped layouts -----------------------------------------------------------------------------


@pytest.mark.parametrize(
    "lines",
    [
        "Date,Time,Type,Value\n2026-03-01,07:15,Glucose,120\n2026-03-01,07:20,Carbs,45\n",
        "Date,Time,Value\n2026-03-01,07:15,12\n2026-03-01,12:15,14\n",
        "Date,Time,Value\n2026-03-01,07:15,7.1\n",
    ],
    ids=["a heading it does not know", "numbers of either unit", "numbers of the other unit"],
)
def test_no_shipped_layout_is_taken_where_it_would_guess(tmp_path: Path, lines: str) -> None:
    path = tmp_path / "a.csv"
    path.write_text(lines)
    assert layouts_that_fit(path) == []
