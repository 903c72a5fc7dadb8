"""Printers and paper, with a print service of our own: a script that notes what it was asked."""

from __future__ import annotations

import json
import os
import stat
import sys
from collections.abc import Iterator
from pathlib import Path

import pypdf
import pytest
from PySide6.QtCore import QRectF
from PySide6.QtGui import QPageSize
from PySide6.QtPrintSupport import QPrinter
from pytestqt.qtbot import QtBot
from reportlab.pdfgen.canvas import Canvas

from logbook.report.options import Paper
from logbook.ui import printing
from logbook.ui.pages.visit_out import PrintView
from logbook.ui.parts.paper_file import PaperFile
from logbook.ui.printing import (
    AskingFailed,
    Printers,
    PrintingFailed,
    PrintJob,
    find_printers,
    print_out,
    print_pages,
)
from tests.ui.plan_window import OpenWindow, open_window, write_readings

SERVICE = """#!{python}
import json, os, sys, time
folder = {folder!r}
name = os.path.basename(sys.argv[0])
told = json.load(open(os.path.join(folder, "answers.json")))
if name == "lp":
    while os.path.exists(os.path.join(folder, "hold")):
        time.sleep(0.01)
    content = open(sys.argv[-1], "rb").read()
    with open(os.path.join(folder, "printed.pdf"), "wb") as file:
        file.write(content)
    mode = oct(os.stat(os.path.dirname(sys.argv[-1])).st_mode & 0o777)
    note = dict(arguments=sys.argv[1:], folder_mode=mode)
    json.dump(note, open(os.path.join(folder, "asked.json"), "w"))
answer = told.get(" ".join([name, *sys.argv[1:2]]) if name == "lpstat" else name, ["", "", 0])
sys.stdout.write(answer[0]); sys.stderr.write(answer[1]); sys.exit(answer[2])
"""
TWO = {
    "lpstat -e": ["Kitchen\nHall_Printer\n", "", 0],
    "lpstat -d": ["system default destination: Hall_Printer\n", "", 0],
    "lp": ["request id is Hall_Printer-1 (1 file(s))\n", "", 0],
}


class PrintService:
    """`answers` is what `lpstat` and `lp` say: output, complaint, exit status."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder

    def answer(self, answers: dict[str, list[object]]) -> None:
        (self.folder / "answers.json").write_text(json.dumps(answers), encoding="utf-8")

    def hold(self) -> None:
        """What is sent to a printer waits until `let_go`."""
        (self.folder / "hold").touch()

    def let_go(self) -> None:
        (self.folder / "hold").unlink()

    @property
    def asked(self) -> list[str]:
        note = json.loads((self.folder / "asked.json").read_text(encoding="utf-8"))
        return list(note["arguments"])

    @property
    def folder_mode(self) -> str:
        note = json.loads((self.folder / "asked.json").read_text(encoding="utf-8"))
        return str(note["folder_mode"])

    @property
    def printed(self) -> bytes:
        return (self.folder / "printed.pdf").read_bytes()


@pytest.fixture
def service(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> PrintService:
    folder = tmp_path / "service"
    programs = folder / "bin"
    programs.mkdir(parents=True)
    for name in ("lp", "lpstat"):
        path = programs / name
        path.write_text(SERVICE.format(python=sys.executable, folder=str(folder)), encoding="utf-8")
        path.chmod(path.stat().st_mode | stat.S_IXUSR)
    monkeypatch.setenv("PATH", f"{programs}{os.pathsep}{os.environ['PATH']}")
    made = PrintService(folder)
    made.answer(TWO)
    return made


@pytest.fixture
def opened(qtbot: QtBot, tmp_path: Path, service: PrintService) -> Iterator[OpenWindow]:
    with open_window(qtbot, tmp_path) as window:
        write_readings(window.book, 5)
        yield window


def two_pages(path: Path) -> bytes:
    canvas = Canvas(str(path), pagesize=Paper.LETTER.size)
    for word in ("one", "two"):
        canvas.rect(72, 72, 72, 72, fill=1)
        canvas.drawString(300, 500, word)
        canvas.showPage()
    canvas.save()
    return path.read_bytes()


# --- asking ---------------------------------------------------------------------------------------


def test_the_printers_and_the_usual_one(service: PrintService) -> None:
    assert find_printers() == Printers(("Kitchen", "Hall_Printer"), "Hall_Printer")


@pytest.mark.parametrize(
    "answers",
    [
        {"lpstat -r": ["scheduler is running\n", "", 0]},
        {"lpstat -e": ["", "lpstat: No destinations added.\n", 1]},
    ],
)
def test_no_printers_is_no_failure(service: PrintService, answers: dict[str, list[object]]) -> None:
    service.answer(answers)
    assert find_printers() == Printers(())


@pytest.mark.parametrize(
    "answers",
    [
        {"lpstat -e": ["", "lpstat: Bad file descriptor\n", 1]},
        {"lpstat -r": ["scheduler is not running\n", "", 0]},
    ],
)
def test_asking_that_fails_is_another_thing(
    service: PrintService, answers: dict[str, list[object]]
) -> None:
    service.answer(answers)
    with pytest.raises(AskingFailed):
        find_printers()


def test_a_service_that_does_not_answer_is_given_up(
    service: PrintService, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(printing, "_PATIENCE_SECONDS", 0.01)
    with pytest.raises(AskingFailed):
        find_printers()


def test_the_two_sentences_differ() -> None:
    assert printing.no_printers_text() != printing.asking_failed_text()


# --- printing -------------------------------------------------------------------------------------


def test_the_pdf_is_handed_over_as_it_is_and_nothing_stays(
    service: PrintService, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    import tempfile

    temporary = tmp_path / "temporary"
    temporary.mkdir()
    monkeypatch.setattr(tempfile, "tempdir", str(temporary))
    content = two_pages(tmp_path / "two.pdf")
    title = "Visit report; rm -rf $HOME `x`"
    print_out(PrintJob(content, "Hall_Printer", 3, Paper.A4, title))
    assert service.printed == content
    *options, last = service.asked
    assert options == ["-d", "Hall_Printer", "-n", "3", "-t", title, "-o", "media=A4", "--"]
    assert service.folder_mode == "0o700"
    assert not Path(last).exists()
    assert list(temporary.iterdir()) == []


def test_a_printer_that_refuses_is_told(service: PrintService, tmp_path: Path) -> None:
    service.answer({"lp": ["", "lp: The printer or class does not exist.\n", 1]})
    with pytest.raises(PrintingFailed):
        print_out(PrintJob(two_pages(tmp_path / "two.pdf"), "Gone", 1, Paper.LETTER, "x"))


def test_without_a_print_service_qt_prints_page_by_page(qtbot: QtBot, tmp_path: Path) -> None:
    """Read back with pypdf: two pages of letter paper, each a picture of 300 dots an inch."""
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
    printer.setOutputFileName(str(tmp_path / "out.pdf"))
    printer.setPageSize(QPageSize(QPageSize.PageSizeId.Letter))
    with PaperFile(two_pages(tmp_path / "two.pdf")) as paper:
        print_pages(paper, printer)
    read = pypdf.PdfReader(tmp_path / "out.pdf")
    assert len(read.pages) == 2
    box = read.pages[0].mediabox
    assert (float(box.width), float(box.height)) == pytest.approx(Paper.LETTER.size, abs=1)
    with PaperFile((tmp_path / "out.pdf").read_bytes()) as again:
        picture = again.picture(1, 1.0)
        dark = QRectF(72, 792 - 144, 72, 72).center()
        assert picture.pixelColor(int(dark.x()), int(dark.y())).lightness() < 30
        assert picture.pixelColor(20, 20).lightness() > 240


# --- the view -------------------------------------------------------------------------------------


def test_the_usual_printer_is_chosen_and_another_can_be(
    opened: OpenWindow, service: PrintService
) -> None:
    opened.press("Print")
    opened.wait_for_jobs()
    view = opened.view
    assert isinstance(view, PrintView)
    assert view.which is not None
    assert view.which.value == "Hall_Printer"
    opened.press("Kitchen")
    opened.press("2")
    opened.press(main_button(opened))
    opened.wait_for_jobs()
    opened.wait_for_jobs()
    assert service.asked[:4] == ["-d", "Kitchen", "-n", "2"]
    assert service.printed.startswith(b"%PDF-")
    assert opened.message == "Sent to the printer Kitchen: 2 copies."
    assert opened.page.view_name == "home"


@pytest.mark.parametrize(
    ("answers", "told"),
    [
        ({"lpstat -e": ["", "lpstat: No destinations added.\n", 1]}, printing.no_printers_text),
        ({"lpstat -e": ["", "lpstat: Bad file descriptor\n", 1]}, printing.asking_failed_text),
    ],
)
def test_without_a_printer_there_is_a_way_on(
    opened: OpenWindow, service: PrintService, answers: dict[str, list[object]], told: object
) -> None:
    assert callable(told)
    service.answer(answers)
    opened.press("Print")
    opened.wait_for_jobs()
    view = opened.view
    assert isinstance(view, PrintView)
    assert view._told.text() == told()
    assert not main_button(opened).isVisible()
    service.answer(TWO)
    opened.press("Look for printers again")
    opened.wait_for_jobs()
    assert view.which is not None
    assert main_button(opened).isVisible()


def test_printing_that_fails_is_said_and_can_be_tried_again(
    opened: OpenWindow, service: PrintService
) -> None:
    service.answer({**TWO, "lp": ["", "lp: unable to print\n", 1]})
    opened.press("Print")
    opened.wait_for_jobs()
    opened.press(main_button(opened))
    opened.wait_for_jobs()
    opened.wait_for_jobs()
    assert opened.message == printing.printing_failed_text("Hall Printer")
    service.answer(TWO)
    opened.press(main_button(opened))
    opened.wait_for_jobs()
    assert opened.message == "Sent to the printer Hall Printer: 1 copy."


def test_who_turns_away_while_it_prints_stays_there_and_is_told(
    opened: OpenWindow, service: PrintService
) -> None:
    opened.press("Print")
    opened.wait_for_jobs()
    service.hold()
    opened.press(main_button(opened))
    opened.press("Back")
    opened.press("Write or see questions")
    service.let_go()
    opened.wait_for_jobs()
    opened.wait_for_jobs()
    assert service.printed.startswith(b"%PDF-")
    assert opened.message == "Sent to the printer Hall Printer: 1 copy."
    assert opened.page.view_name == "questions"


def main_button(opened: OpenWindow):  # type: ignore[no-untyped-def]  # noqa: ANN201
    return opened.page.main_button
