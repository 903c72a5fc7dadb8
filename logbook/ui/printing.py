"""To paper: which printers there are, and a PDF on its way to one of them.

Where the print service's own programs are (CUPS: `lp`, `lpstat`), the PDF is handed to them with a
list of arguments and through no shell. Elsewhere Qt prints it page by page at 300 dots an inch,
with one page in memory at a time. "There are no printers" and "asking failed" are two things.
These functions wait for other programs, so they belong off the main thread.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import tempfile
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from logbook.report.options import Paper
from logbook.ui.parts.paper_file import POINTS_PER_INCH, PaperFile
from logbook.wording import _

if TYPE_CHECKING:
    from PySide6.QtPrintSupport import QPrinter

DOTS_PER_INCH = 300
_PATIENCE_SECONDS = 15
_MEDIA = {Paper.LETTER: "Letter", Paper.A4: "A4"}


class AskingFailed(Exception):
    """Nobody could tell which printers there are."""


class PrintingFailed(Exception):
    """The paper did not get on its way; the text says what the print service said."""


@dataclass(frozen=True, slots=True)
class Printers:
    """The printers' names, and the one that is used when none is named (empty without one)."""

    names: tuple[str, ...]
    usual: str = ""


@dataclass(frozen=True, slots=True)
class PrintJob:
    """What is printed, where, how often, on which paper; `title` names it in the print queue."""

    content: bytes
    printer: str
    copies: int
    paper: Paper
    title: str


def find_printers() -> Printers:
    """Ask which printers there are. Raises `AskingFailed`."""
    if _has_print_service():
        return _printers_of_service()
    try:
        from PySide6.QtPrintSupport import QPrinterInfo
    except ImportError as error:
        raise AskingFailed from error
    return Printers(tuple(QPrinterInfo.availablePrinterNames()), QPrinterInfo.defaultPrinterName())


def print_out(job: PrintJob) -> None:
    """Send a PDF to a printer. Raises `PrintingFailed`."""
    if _has_print_service():
        _hand_over(job)
        return
    try:
        printer = _qt_printer(job)
    except ImportError as error:
        raise PrintingFailed from error
    with PaperFile(job.content) as paper:
        print_pages(paper, printer)


def print_pages(paper: PaperFile, printer: QPrinter) -> None:
    """Draw each page at 300 dots an inch, one after the other. Raises `PrintingFailed`."""
    from PySide6.QtCore import QRectF
    from PySide6.QtGui import QPainter

    printer.setResolution(DOTS_PER_INCH)
    printer.setFullPage(True)
    painter = QPainter()
    if not painter.begin(printer):
        raise PrintingFailed
    dots_per_point = DOTS_PER_INCH / POINTS_PER_INCH
    try:
        for index in range(paper.page_count):
            if index and not printer.newPage():
                raise PrintingFailed
            width, height = paper.size(index)
            box = QRectF(0, 0, width * dots_per_point, height * dots_per_point)
            painter.drawImage(box, paper.picture(index, dots_per_point))
    finally:
        painter.end()


def no_printers_text() -> str:
    """Said when there is none."""
    return _("This computer knows no printer. Save as PDF, and print it on another computer.")


def asking_failed_text() -> str:
    """Said when nobody could tell."""
    return _(
        "The printers could not be asked for. "
        "Look whether the printer is on, then try again, or save as PDF."
    )


def printing_failed_text(printer: str) -> str:
    """Said when the paper did not get on its way."""
    return _(
        "Printing on {printer} did not work. Look whether it is on, then try again, or save as PDF."
    ).format(printer=printer)


# --- the print service ----------------------------------------------------------------------------


def _has_print_service() -> bool:
    return shutil.which("lp") is not None and shutil.which("lpstat") is not None


def _printers_of_service() -> Printers:
    told = _ask("lpstat", "-e")
    if told.returncode and "no destinations" not in told.stderr.lower():
        raise AskingFailed(told.stderr)
    names = tuple(line.split()[0] for line in told.stdout.splitlines() if line.strip())
    # A service that is not running names no printers either.
    if not names and "not running" in _ask("lpstat", "-r").stdout:
        raise AskingFailed
    _head, _colon, usual = _ask("lpstat", "-d").stdout.partition(":")
    return Printers(names, usual.strip() if usual.strip() in names else "")


def _ask(*arguments: str) -> subprocess.CompletedProcess[str]:
    try:
        return subprocess.run(
            arguments,
            capture_output=True,
            check=False,
            text=True,
            errors="replace",
            timeout=_PATIENCE_SECONDS,
            env={**os.environ, "LC_ALL": "C"},
        )
    except (OSError, subprocess.TimeoutExpired) as error:
        raise AskingFailed from error


def _hand_over(job: PrintJob) -> None:
    # The service takes its own copy before `lp` ends; the folder is its owner's alone.
    try:
        with tempfile.TemporaryDirectory(prefix="fingerstick-print-") as folder:
            path = Path(folder, "report.pdf")
            path.write_bytes(job.content)
            options = ["-d", job.printer, "-n", str(job.copies), "-t", job.title]
            media = ["-o", f"media={_MEDIA[job.paper]}"]
            told = _ask("lp", *options, *media, "--", str(path))
    except (OSError, AskingFailed) as error:
        raise PrintingFailed from error
    if told.returncode:
        raise PrintingFailed(told.stderr)


def _qt_printer(job: PrintJob) -> QPrinter:
    from PySide6.QtGui import QPageSize
    from PySide6.QtPrintSupport import QPrinter, QPrinterInfo

    printer = QPrinter(QPrinterInfo.printerInfo(job.printer), QPrinter.PrinterMode.HighResolution)
    size = QPageSize.PageSizeId.A4 if job.paper is Paper.A4 else QPageSize.PageSizeId.Letter
    printer.setPageSize(QPageSize(size))
    printer.setCopyCount(job.copies)
    printer.setDocName(job.title)
    return printer
