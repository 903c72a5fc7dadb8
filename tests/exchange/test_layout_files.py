"""A layout that is not right is told with its key, before a line is read."""

import re
import textwrap
from pathlib import Path

import pytest

from logbook.domain.errors import CannotRead, LayoutWrong
from logbook.domain.glucose import Unit
from logbook.domain.sites import Hand, Place, Site
from logbook.domain.slots import Slot
from logbook.exchange.layout import COLUMNS
from logbook.exchange.layout_check import ENCODINGS, KEYS
from logbook.exchange.layout_files import find_layout, read_layout, shipped_layouts
from logbook.exchange.refusals import Reason
from logbook.exchange.sentences import import_problem_text

RIGHT = """
delimiter = "tab"
unit = "mg/dL"
header = false
[columns]
date = 1
time = 2
slot = 3
value = 4
[written]
date = "%Y-%m-%d"
time = "%H:%M"
[slots]
58 = "fasting"
[skip.slot]
33 = "something else"
"""


def _written(tmp_path: Path, text: str) -> Path:
    path = tmp_path / "mine.toml"
    path.write_text(text, encoding="utf-8")
    return path


def test_a_right_layout_is_read_whole(tmp_path: Path) -> None:
    layout = read_layout(
        _written(
            tmp_path,
            RIGHT.replace("header = false", 'header = false\nzone = "Europe/Berlin"')
            + '[meter_shows]\nlow = ["0Lo", "<20"]\n[units]\nmg = "mg/dL"\n'
            + '[sites]\n"ring R" = "right.ring"\n',
        )
    )
    assert layout.delimiter == "\t"
    assert layout.unit is Unit.MG_DL
    assert layout.zone == "Europe/Berlin"
    assert layout.columns == {"date": 1, "time": 2, "slot": 3, "value": 4}
    assert layout.slots == {"58": Slot.FASTING}
    assert layout.skip == {"slot": {"33": "something else"}}
    assert layout.low_texts == {"0lo", "<20"}
    assert layout.high_texts == {"hi"}
    assert layout.units["mg"] is Unit.MG_DL
    assert layout.sites == {"ring r": Site(Hand.RIGHT, Place.RING)}


WRONG = [
    # what is put in place of what, the key that is complained of, why
    ("[columns]", "[columns", "", "not_toml"),
    ('unit = "mg/dL"', 'unit = "mg/dL"\ncolour = "red"', "colour", "unknown_key"),
    ('unit = "mg/dL"', 'unit = "grains"', "unit", "unknown_value"),
    ('unit = "mg/dL"', "", "unit", "missing_key"),
    ('unit = "mg/dL"', "unit = 5", "unit", "wrong_type"),
    ('delimiter = "tab"', 'delimiter = "::"', "delimiter", "unknown_value"),
    ('delimiter = "tab"', "", "delimiter", "missing_key"),
    ("header = false", 'header = "no"', "header", "wrong_type"),
    ("header = false", 'encoding = "ebcdic"', "encoding", "unknown_value"),
    ("header = false", 'quote = "guillemets"', "quote", "unknown_value"),
    ("header = false", 'zone = "Atlantis/Capital"', "zone", "unknown_value"),
    ("header = false", "lines_before = -1", "lines_before", "number_outside"),
    ("header = false", "lines_before = true", "lines_before", "wrong_type"),
    ("header = false", "column_count = 3", "columns.value", "number_outside"),
    ("header = false", 'optional = ["note"]', "optional", "column_missing"),
    ("header = false", 'optional = ["value"]', "optional", "unknown_value"),
    ("value = 4", "", "columns.value", "missing_key"),
    ("value = 4", "value = 0", "columns.value", "number_outside"),
    ("value = 4", "value = 2", "columns.value", "column_twice"),
    ("value = 4", "value = 4.5", "columns.value", "wrong_type"),
    ("value = 4", 'value = " "', "columns.value", "unknown_value"),
    ("value = 4", 'value = "glucose"', "columns.value", "heading_without_header"),
    ("value = 4", "value = 4\nweight = 5", "columns.weight", "unknown_key"),
    ("value = 4", "value = 4\nmoment = 5", "columns.date", "moment_and_date"),
    ("time = 2", "", "columns.time", "missing_key"),
    ('time = "%H:%M"', "", "written.time", "missing_key"),
    ('time = "%H:%M"', 'time = "%H.%Q"', "written.time", "pattern_wrong"),
    ('time = "%H:%M"', 'time = "%H"', "written.time", "pattern_wrong"),
    ('time = "%H:%M"', 'time = "%Y %H:%M"', "written.time", "pattern_wrong"),
    ('time = "%H:%M"', 'time = "%H:%M"\nmoment = "%H"', "written.moment", "column_missing"),
    ('time = "%H:%M"', 'time = "%H:%M"\nnight = "%H"', "written.night", "unknown_key"),
    ('time = "%H:%M"', "time = 5", "written.time", "wrong_type"),
    ('date = "%Y-%m-%d"', 'date = "%Y-%m"', "written.date", "pattern_wrong"),
    ('58 = "fasting"', '58 = "elevenses"', "slots.58", "unknown_value"),
    ('58 = "fasting"', "58 = 5", "slots.58", "wrong_type"),
    ('33 = "something else"', '58 = "something else"', "skip.slot.58", "text_twice"),
    ('33 = "something else"', "33 = 5", "skip.slot.33", "wrong_type"),
    ("[skip.slot]", "[skip.kind]", "skip.kind", "column_missing"),
    ("[skip.slot]", "[skip.note]", "skip.note", "unknown_key"),
    ("[skip.slot]\n33", "[skip]\nslot", "skip.slot", "wrong_type"),
    ("[slots]", '[sites]\na = "b"\n[slots]', "sites.a", "unknown_value"),
    ("[slots]", '[units]\na = "b"\n[slots]', "units.a", "unknown_value"),
    ("[slots]", '[meter_shows]\nfull = ["x"]\n[slots]', "meter_shows.full", "unknown_key"),
    ("[slots]", '[meter_shows]\nlow = "x"\n[slots]', "meter_shows.low", "wrong_type"),
    ("[slots]", '[meter_shows]\nlow = ["20"]\n[slots]', "meter_shows.low", "unknown_value"),
    ("[slots]", '[meter_shows]\nlow = ["HI"]\n[slots]', "meter_shows", "text_twice"),
]


@pytest.mark.parametrize(("right", "wrong", "key", "why"), WRONG)
def test_every_wrong_key_and_value_is_told_in_words(
    tmp_path: Path, right: str, wrong: str, key: str, why: str
) -> None:
    assert RIGHT.count(right) == 1
    with pytest.raises(LayoutWrong) as caught:
        read_layout(_written(tmp_path, RIGHT.replace(right, wrong)))
    assert (caught.value.facts["key"], caught.value.facts["why"]) == (key, why)
    sentence = import_problem_text(caught.value)
    assert "mine.toml" in sentence
    assert key in sentence
    assert "{" not in sentence
    assert "invalid" not in sentence.lower()
    assert 1 <= sentence.count(". ") + 1 <= 2, sentence
    for part in sentence.split(". "):
        # A list of what may stand there is as long as it is.
        assert len(part.partition("Known are")[0].partition("What may stand")[0].split()) <= 20


def test_a_layout_that_is_no_text_or_not_there_is_told(tmp_path: Path) -> None:
    binary = tmp_path / "binary.toml"
    binary.write_bytes(b"\xff\xfe\x00")
    with pytest.raises(LayoutWrong):
        read_layout(binary)
    deep = tmp_path / "deep.toml"
    deep.write_text("a = " + "[" * 100_000, encoding="utf-8")
    with pytest.raises(LayoutWrong):
        read_layout(deep)
    with pytest.raises(CannotRead) as caught:
        read_layout(tmp_path / "nowhere.toml")
    assert caught.value.facts["why"] == "missing"
    with pytest.raises(CannotRead) as caught:
        read_layout(tmp_path)
    assert caught.value.facts["why"] == "directory"


def test_shipped_layouts_are_found_by_name_and_are_right() -> None:
    assert shipped_layouts() == ["four-column-diary", "readings-mg-dl", "readings-mmol-l"]
    for name in shipped_layouts():
        assert find_layout(name).name
    with pytest.raises(LayoutWrong) as caught:
        find_layout("five-column-diary")
    sentence = import_problem_text(caught.value)
    assert "five-column-diary" in sentence
    assert "four-column-diary" in sentence


def test_a_file_in_this_folder_comes_before_a_shipped_name(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "four-column-diary").write_text(RIGHT, encoding="utf-8")
    assert find_layout("four-column-diary").slots == {"58": Slot.FASTING}


# --- the handbook --------------------------------------------------------------------------------

HANDBOOK = Path(__file__).parents[2] / "docs" / "handbook"


def test_the_layout_in_the_handbook_is_right(tmp_path: Path) -> None:
    page = (HANDBOOK / "layouts.md").read_text(encoding="utf-8")
    block = page.partition("## A whole layout\n")[2].partition("## The keys")[0]
    layout = read_layout(_written(tmp_path, textwrap.dedent(block)))
    assert layout.name == "My old spreadsheet"
    assert layout.optional == {"note"}


def test_the_handbook_names_every_key_column_slot_and_reason() -> None:
    layouts = (HANDBOOK / "layouts.md").read_text(encoding="utf-8")
    for name in (*KEYS, *COLUMNS, *ENCODINGS, *(slot.value for slot in Slot), *shipped_layouts()):
        assert re.search(rf"[`\[.]?\b{re.escape(name)}\b", layouts), name
    commands = (HANDBOOK / "commands.md").read_text(encoding="utf-8")
    for reason in Reason:
        assert f"`{reason.value}`" in commands
