"""Spreadsheets: .xlsx as openpyxl writes it, .ods as odfpy and LibreOffice do, and hostile ones."""

import resource
import shutil
import subprocess
import sys
import zipfile
from collections.abc import Callable
from dataclasses import replace
from datetime import date, datetime, time
from pathlib import Path

import openpyxl
import pytest

from logbook.domain.errors import CannotRead
from logbook.exchange.diary_file import read_diary
from logbook.exchange.layout_check import check_layout
from logbook.exchange.layout_files import find_layout
from logbook.exchange.refusals import Reason
from logbook.exchange.sentences import import_problem_text
from logbook.exchange.tables import open_table
from tests.exchange.sheets import Rows, write_bare_ods, write_ods, write_xlsx

Write = Callable[[Path, dict[str, Rows]], Path]
WRITERS = {"xlsx": write_xlsx, "ods": write_ods}
TABLE = find_layout("readings-mg-dl")
ROWS: Rows = [
    ["date", "time", "value", "unit", "slot", "minutes after", "site", "note"],
    [date(2026, 3, 1), time(7, 15), 128, None, "fasting", None, None, "süß\nzwei"],
    ["2026-03-01", "12:05", "141", "mg/dL", "after_lunch", 120, "right.ring", None],
    [None] * 8,
    [datetime(2026, 3, 2, 0, 0), time(7, 15, 59), 6.1, "mmol/L", None, None, None, None],
    [date(2026, 3, 2), time(8, 0), 128.5, None, None, None, None, None],
    [date(2026, 3, 2), time(9, 0), "LO", None, None, None, None, None],
    [date(2026, 3, 2), None, 101, None, None, None, None, None],
]


@pytest.fixture(params=sorted(WRITERS))
def write(request: pytest.FixtureRequest) -> Write:
    return WRITERS[request.param]


def test_dates_times_numbers_and_texts_are_read_as_the_sheet_shows_them(
    tmp_path: Path, now: datetime, write: Write
) -> None:
    found = read_diary(write(tmp_path / "a.bin", {"one": ROWS}), TABLE, "UTC", now)
    assert [(r.at.wall, r.glucose.text, r.slot.value) for r in found.readings] == [
        (datetime(2026, 3, 1, 7, 15), "128", "fasting"),
        (datetime(2026, 3, 1, 12, 5), "141", "after_lunch"),
        (datetime(2026, 3, 2, 7, 15, 59), "6.1", "other"),
        (datetime(2026, 3, 2, 9, 0), "LO", "other"),
    ]
    assert found.readings[0].note == "süß\nzwei"
    assert found.readings[1].minutes_after == 120
    assert [(line.number, line.reason) for line in found.refused] == [
        (6, Reason.DECIMALS_NOT_SHOWN),
        (8, Reason.TIME_MALFORMED),
    ]
    assert found.lines == 6


def test_a_sheet_is_chosen_by_its_name(tmp_path: Path, now: datetime, write: Write) -> None:
    path = write(tmp_path / "a.bin", {"plan": [["nothing"]], "log": ROWS})
    layout = {"sheet": "log", "header": True, "unit": "mg/dL", "columns": {}, "written": {}}
    layout["columns"] = {"date": "date", "time": "time", "value": "value"}
    layout["written"] = {"date": "%Y-%m-%d", "time": "%H:%M"}
    assert len(read_diary(path, check_layout(layout, "x"), "UTC", now).readings) == 3
    with pytest.raises(CannotRead) as caught:
        read_diary(path, check_layout({**layout, "sheet": "gone"}, "x"), "UTC", now)
    assert caught.value.facts["why"] == "sheet_missing"
    assert "gone" in import_problem_text(caught.value)


def test_libreoffice_writes_what_is_read(tmp_path: Path, now: datetime) -> None:
    office = shutil.which("soffice")
    if office is None:
        pytest.skip("LibreOffice is not on this machine")
    path = write_xlsx(tmp_path / "a.xlsx", {"one": ROWS})
    subprocess.run(
        [office, "--headless", "--convert-to", "ods", "--outdir", tmp_path / "out", path],
        check=True,
        capture_output=True,
        env={"HOME": str(tmp_path), "PATH": "/usr/bin:/bin"},
    )
    by_office = read_diary(tmp_path / "out" / "a.ods", TABLE, "UTC", now)
    assert by_office.readings == read_diary(path, TABLE, "UTC", now).readings


# --- what an .ods file may hold ------------------------------------------------------------------

CELL = (
    '<table:table-cell {more}office:value-type="float" office:value="1"><text:p>1</text:p>'
    "</table:table-cell>"
)


def _rows_of(path: Path) -> list[tuple[int, list[str]]]:
    with open_table(path, TABLE) as table:
        return [(row.number, row.fields) for row in table.rows]


def test_repeated_cells_and_rows_keep_their_places(tmp_path: Path) -> None:
    cell = CELL.format(more='table:number-columns-repeated="2" ')
    path = write_bare_ods(
        tmp_path / "a.ods",
        '<table:table-row table:number-rows-repeated="3"><table:table-cell/></table:table-row>'
        f'<table:table-row table:number-rows-repeated="2">{cell}'
        "<table:table-cell><office:annotation><text:p>secret</text:p></office:annotation>"
        '<text:p>a<text:s text:c="2"/>b</text:p></table:table-cell></table:table-row>'
        '<table:table-row table:number-rows-repeated="1048570">'
        '<table:table-cell table:number-columns-repeated="16384"/></table:table-row>',
    )
    assert _rows_of(path) == [(4, ["1", "1", "a  b"]), (5, ["1", "1", "a  b"])]


HUGE = "2000000000"


def _one_cell(text: str) -> str:
    return f"<table:table-row><table:table-cell>{text}</table:table-cell></table:table-row>"


_WIDE = CELL.format(more=f'table:number-columns-repeated="{HUGE}" ')
_PLAIN = CELL.format(more="")
HOSTILE_ODS = {
    "a cell repeated without end": f"<table:table-row>{_WIDE}</table:table-row>",
    "a row repeated without end": (
        f'<table:table-row table:number-rows-repeated="{HUGE}">{_PLAIN}</table:table-row>'
    ),
    "a count that is none": '<table:table-row table:number-rows-repeated="many"/>',
    "text that does not end": _one_cell(f"<text:p>{'9' * 30_000_000}</text:p>"),
    "spaces without end": _one_cell(f'<text:p><text:s text:c="{HUGE}"/>x</text:p>'),
    "a date that is none": (
        '<table:table-row><table:table-cell office:value-type="date" office:date-value="soon"/>'
        "</table:table-row>"
    ),
    "a tag that does not end": "<table:table-row>",
}


def _reads_in_bounds(path: Path, limit_megabytes: int = 600) -> str:
    """What reading the file says in a process of its own that may not grow; no more than words."""
    work = (
        "import resource, sys\n"
        "from datetime import UTC, datetime\n"
        "from pathlib import Path\n"
        "from logbook.domain.errors import CannotRead\n"
        "from logbook.exchange.diary_file import read_diary\n"
        "from logbook.exchange.layout_files import find_layout\n"
        f"most = {limit_megabytes} * 2**20\n"
        "resource.setrlimit(resource.RLIMIT_AS, (most, most))\n"
        "try:\n"
        "    found = read_diary(Path(sys.argv[1]), find_layout('four-column-diary'), 'UTC',\n"
        "                       datetime(2026, 3, 31, tzinfo=UTC))\n"
        "    print('read', len(found.readings))\n"
        "except CannotRead as error:\n"
        "    print(error.facts['why'])\n"
        # The peak of this program alone: ru_maxrss begins with that of the one that started it.
        "peak = [line for line in open('/proc/self/status') if line.startswith('VmHWM')][0]\n"
        "print(int(peak.split()[1]) // 1024)\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", work, path],
        cwd=Path(__file__).parents[2],
        capture_output=True,
        text=True,
        check=False,
        timeout=60,
    )
    assert done.stderr == ""
    said, megabytes = done.stdout.split("\n")[:2]
    assert int(megabytes) < 300
    return said


@pytest.mark.parametrize("name", HOSTILE_ODS)
def test_a_hostile_ods_file_needs_little_memory_and_gets_words(tmp_path: Path, name: str) -> None:
    said = _reads_in_bounds(write_bare_ods(tmp_path / "a.ods", HOSTILE_ODS[name]))
    assert said in {"read 0", "spreadsheet_damaged", "too_many_readings", "too_many_refused"}


def test_xml_that_declares_entities_is_refused(tmp_path: Path) -> None:
    laughs = (
        '<!DOCTYPE a [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;">'
        '<!ENTITY c "&b;&b;&b;&b;&b;&b;&b;&b;">]>'
    )
    path = write_bare_ods(tmp_path / "a.ods", "<table:table-row/>", laughs)
    assert _reads_in_bounds(path) == "spreadsheet_damaged"


def test_a_file_that_unpacks_to_far_too_much_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "bomb.xlsx"
    write_xlsx(path, {"one": ROWS})
    with zipfile.ZipFile(path, "a", zipfile.ZIP_DEFLATED) as file:
        file.writestr("xl/more.xml", b" " * (151 * 2**20))
    assert path.stat().st_size < 1_000_000
    assert _reads_in_bounds(path) == "spreadsheet_too_large"


def test_a_file_that_lies_about_its_size_is_refused(tmp_path: Path) -> None:
    """The zip's directory says 100 bytes; what is packed is far more."""
    path = write_bare_ods(tmp_path / "a.ods", HOSTILE_ODS["text that does not end"])
    with zipfile.ZipFile(path) as file:
        size = file.getinfo("content.xml").file_size
    content = path.read_bytes()
    lying = content.replace(size.to_bytes(4, "little"), (100).to_bytes(4, "little"))
    assert lying != content
    path.write_bytes(lying)
    assert _reads_in_bounds(path) == "spreadsheet_damaged"


def test_two_cells_at_the_far_ends_of_a_sheet_are_two_rows(tmp_path: Path, now: datetime) -> None:
    import openpyxl

    book = openpyxl.Workbook()
    sheet = book.worksheets[0]
    sheet["A1"] = "x"
    sheet["XFD1048576"] = "y"
    book.save(tmp_path / "a.xlsx")
    assert _reads_in_bounds(tmp_path / "a.xlsx") == "read 0"


def test_the_limit_of_these_tests_bites() -> None:
    """The control: a process under the same limit that does ask for much is stopped."""
    code = (
        "import resource\n"
        "resource.setrlimit(resource.RLIMIT_AS, (600 * 2**20, 600 * 2**20))\n"
        "bytearray(700 * 2**20)\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert "MemoryError" in done.stderr
    assert resource.RLIM_INFINITY != 600 * 2**20


@pytest.mark.parametrize(
    ("content", "why"),
    [
        (b"\xd0\xcf\x11\xe0" + bytes(600), "not_text"),  # .xls, and a workbook with a password
        (b"PK\x03\x04" + bytes(100), "spreadsheet_damaged"),
    ],
)
def test_other_files_are_told(tmp_path: Path, content: bytes, why: str, now: datetime) -> None:
    path = tmp_path / "a.xlsx"
    path.write_bytes(content)
    with pytest.raises(CannotRead) as caught:
        read_diary(path, TABLE, "UTC", now)
    assert caught.value.facts["why"] == why
    assert "a.xlsx" in import_problem_text(caught.value)


# --- sheets that are hidden, and others ----------------------------------------------------------


def _hidden_first(folder: Path) -> Path:
    book = openpyxl.Workbook()
    hidden = book.worksheets[0]
    hidden.title = "old"
    hidden.sheet_state = "hidden"
    for sheet, year in ((hidden, 2020), (book.create_sheet("new"), 2026)):
        sheet.append(["date", "time", "value"])
        sheet.append([date(year, 1, 2), time(7, 15), 128])
    path = folder / "a.xlsx"
    book.save(path)
    return path


def test_a_hidden_sheet_is_read_only_by_its_name(tmp_path: Path, now: datetime) -> None:
    """Hidden as openpyxl writes it, and as LibreOffice keeps it in its own kind of file."""
    path = _hidden_first(tmp_path)
    paths = [path]
    if shutil.which("soffice") is not None:
        subprocess.run(
            ["soffice", f"-env:UserInstallation={(tmp_path / 'profile').as_uri()}", "--headless",
             "--convert-to", "ods", "--outdir", str(tmp_path), str(path)],
            check=True, capture_output=True, timeout=120,
        )  # fmt: skip
        paths.append(path.with_suffix(".ods"))
    for one in paths:
        found = read_diary(one, TABLE, "UTC", now)
        assert [reading.at.wall.year for reading in found.readings] == [2026]
        assert found.sheets == ("new",)
        named = read_diary(one, replace(TABLE, sheet="old"), "UTC", now)
        assert [reading.at.wall.year for reading in named.readings] == [2020]


def test_the_sheet_that_was_read_stands_before_the_others(
    tmp_path: Path, now: datetime, write: Write
) -> None:
    path = write(tmp_path / "a.bin", {"one": ROWS, "two": ROWS})
    assert read_diary(path, TABLE, "UTC", now).sheets == ("one", "two")
    assert read_diary(path, replace(TABLE, sheet="two"), "UTC", now).sheets == ("two", "one")
