"""The refill list as a PDF, read back with pypdf."""

from __future__ import annotations

from datetime import UTC, date, datetime
from io import BytesIO

import pytest
from pypdf import PdfReader

from logbook.domain.kit.refill import RefillLine, RefillList
from logbook.domain.kit.supplies import SupplyKind
from logbook.domain.moments import Moment
from logbook.report.options import Paper, ReportOptions
from logbook.report.refill_paper import refill_paper
from logbook.wording.manner import Manner, manner, set_manner

MADE = Moment.at(datetime(2026, 3, 31, 15, tzinfo=UTC), "America/Chicago")


@pytest.fixture(autouse=True)
def american():  # type: ignore[no-untyped-def]  # noqa: ANN201
    before = manner()
    set_manner(Manner("en_US"))
    yield
    set_manner(before)


def printed(*lines: tuple[RefillLine, str], paper: Paper = Paper.LETTER) -> PdfReader:
    content = refill_paper(RefillList("A. Invented", lines, MADE), ReportOptions(paper=paper))
    return PdfReader(BytesIO(content))


def words(reader: PdfReader) -> str:
    return " ".join(" ".join(page.extract_text() for page in reader.pages).split())


def test_each_line_has_its_type_its_number_and_its_day() -> None:
    reader = printed(
        (
            RefillLine(
                SupplyKind.STRIPS,
                "invented strips, type 9",
                52,
                date(2026, 3, 31),
                needed_by=date(2026, 4, 9),
            ),
            "bedside",
        ),
        (RefillLine(SupplyKind.LANCETS, "33 gauge", 80, date(2026, 3, 9)), ""),
        (RefillLine(SupplyKind.BATTERIES, "", None, needed_by=date(2026, 3, 31)), ""),
    )
    text = words(reader)
    for wanted in (
        "A. Invented",
        "Only what fits your meter.",
        "Test strips for bedside invented strips, type 9, 52 there, order by April 9, 2026",
        "Lancets 33 gauge, 80 there on March 9, 2026",
        "Batteries Its exact type is not written down, order now",
        "page 1 of 1",
    ):
        assert wanted in text, text
    assert reader.metadata is not None
    assert reader.metadata.title == "A. Invented: Refill list"


@pytest.mark.parametrize("paper", list(Paper))
def test_a_long_list_goes_on_on_the_next_page(paper: Paper) -> None:
    many = [
        (RefillLine(SupplyKind.OTHER, f"invented thing number {number}", number), "")
        for number in range(40)
    ]
    reader = printed(*many, paper=paper)
    assert len(reader.pages) > 1
    assert all(
        f"invented thing number {number}, {number} there" in words(reader) for number in range(40)
    )
    width, height = paper.size
    box = reader.pages[0].mediabox
    assert (float(box.width), float(box.height)) == pytest.approx((width, height), abs=0.01)


def test_an_empty_list_still_says_what_it_is() -> None:
    assert "Refill list" in words(printed())
