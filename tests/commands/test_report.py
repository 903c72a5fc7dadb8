"""The command `report`: paper, print, and files that can't be written."""

import stat
from pathlib import Path

import pytest

from tests.commands.command_runs import (
    assert_plain,
    content_of,
    run,
)


@pytest.mark.parametrize("paper", ["letter", "a4"])
@pytest.mark.parametrize("size", ["standard", "large"])
def test_the_report_is_a_private_pdf_of_the_paper_asked_for(
    paper: str, size: str, full_log: Path, tmp_path: Path
) -> None:
    out = tmp_path / "visit.pdf"
    arguments = ("--paper", paper, "--print", size, "--log", full_log)
    done = run("report", "--out", out, *arguments)
    assert (done.status, done.err) == (0, "")
    assert str(out) in done.out
    assert stat.S_IMODE(out.stat().st_mode) == 0o600
    from pypdf import PdfReader

    page = PdfReader(out).pages[0]
    short_side = min(float(page.mediabox.width), float(page.mediabox.height))
    assert round(short_side) == (612 if paper == "letter" else 595)  # ISO 216, ANSI/ASME Y14.1


def test_every_day_and_the_appendix_are_printed_when_asked_for(
    full_log: Path, tmp_path: Path
) -> None:
    from pypdf import PdfReader

    def text(*wanted: str) -> str:
        out = tmp_path / "visit.pdf"
        assert run("report", "--out", out, *wanted, "--log", full_log).status == 0
        return "\n".join(page.extract_text() for page in PdfReader(out).pages)

    usual = text()
    headings = {
        next(line for line in text(*wanted).splitlines() if line.startswith("Every day, "))
        for wanted in (("--grid", "14"), ("--grid", "28"), ("--grid", "all"))
    }
    assert len(headings) == 3
    assert any(heading in usual for heading in headings)
    assert "Method and kit" in text("--appendix")
    assert "Method and kit" not in usual


@pytest.mark.parametrize(("place", "width"), [("en_US.UTF-8", 612), ("de_DE.UTF-8", 595)])
def test_the_paper_is_that_of_the_country(
    place: str, width: int, full_log: Path, tmp_path: Path
) -> None:
    from pypdf import PdfReader

    out = tmp_path / "visit.pdf"
    assert run("report", "--out", out, "--log", full_log, LC_ALL=place).status == 0
    assert round(float(PdfReader(out).pages[0].mediabox.width)) == width


def test_a_report_that_can_not_be_written_is_told_and_spoils_nothing(
    full_log: Path, tmp_path: Path
) -> None:
    before = content_of(full_log)
    journal = next(full_log.parent.glob("a.logbook-*.txt"))
    for out in (tmp_path / "no" / "r.pdf", tmp_path, full_log, journal):
        assert_plain(run("report", "--out", out, "--log", full_log), out)
    assert content_of(full_log) == before
