"""The file of refused lines: whole or not at all, private, and harmless in a spreadsheet."""

import csv
import stat
from pathlib import Path

import pytest

from logbook.domain.errors import CannotWrite
from logbook.exchange.refusals import Reason, RefusedLine
from logbook.exchange.refused_lines import refused_lines_file
from logbook.exchange.safe_cells import formula_safe

REFUSED = (
    RefusedLine(3, Reason.GLUCOSE_ZERO, "03-01-2026\t7:15\t58\t0"),
    RefusedLine(4, Reason.CODE_UNKNOWN, '=cmd|"/c calc"!A1'),
    RefusedLine(5, Reason.QUOTES_WRONG, 'a "b", c'),
)


def test_number_reason_and_line_come_back(tmp_path: Path) -> None:
    out = tmp_path / "refused.csv"
    with refused_lines_file(out, REFUSED):
        assert not out.exists()
    assert stat.S_IMODE(out.stat().st_mode) == 0o600
    with out.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    assert [row["number"] for row in rows] == ["3", "4", "5"]
    assert [row["reason"] for row in rows] == ["glucose-zero", "code-unknown", "quotes-wrong"]
    assert [row["line"] for row in rows] == [
        "03-01-2026\t7:15\t58\t0",
        '\'=cmd|"/c calc"!A1',
        'a "b", c',
    ]
    assert list(tmp_path.iterdir()) == [out]


@pytest.mark.parametrize("sign", ["=", "+", "-", "@", "\t", "\r", "  ="])
def test_no_cell_is_taken_for_a_formula(sign: str) -> None:
    assert formula_safe(f"{sign}1+1").startswith("'")
    assert formula_safe("1+1") == "1+1"


def test_nothing_is_left_when_the_import_fails(tmp_path: Path) -> None:
    out = tmp_path / "refused.csv"
    out.write_text("before", encoding="utf-8")
    with pytest.raises(RuntimeError), refused_lines_file(out, REFUSED):
        raise RuntimeError
    assert out.read_text(encoding="utf-8") == "before"
    assert list(tmp_path.iterdir()) == [out]


def test_what_can_not_be_written_is_told_before_anything_is_taken_in(tmp_path: Path) -> None:
    for out, why in ((tmp_path, "directory"), (tmp_path / "no" / "refused.csv", "missing")):
        has_begun = False
        with pytest.raises(CannotWrite) as caught, refused_lines_file(out, REFUSED):
            has_begun = True
        assert not has_begun
        assert caught.value.facts["why"] == why


def test_without_a_path_nothing_is_written(tmp_path: Path) -> None:
    with refused_lines_file(None, REFUSED):
        pass
    assert list(tmp_path.iterdir()) == []
