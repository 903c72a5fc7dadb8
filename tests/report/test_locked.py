"""The report with a password, read by two other PDF readers, and the sheet of a locked copy."""

from __future__ import annotations

import shutil
import subprocess
from datetime import UTC, datetime
from io import BytesIO
from pathlib import Path
from typing import Any

import pypdfium2
import pytest
from pypdf import PasswordType, PdfReader

from logbook.domain.moments import Moment
from logbook.exchange.locked_copy import locked_name
from logbook.report.locked import LEAST_LETTERS, with_password
from logbook.report.options import Paper, ReportOptions
from logbook.report.recovery_sheet import LockedCopy, recovery_sheet
from logbook.report.visit import visit_report
from tests.report.invented import invented_visit

WORDS = "acorn bridge candle dolphin eagle"


@pytest.fixture(scope="module")
def plain() -> bytes:
    return visit_report(invented_visit(14), ReportOptions())


@pytest.fixture(scope="module")
def locked(plain: bytes) -> bytes:
    return with_password(plain, WORDS)


def words(pdf: bytes, password: str | None = None) -> list[str]:
    document = pypdfium2.PdfDocument(pdf, password=password)
    try:
        return [page.get_textpage().get_text_range() for page in document]
    finally:
        document.close()


def test_it_says_the_same_once_opened(plain: bytes, locked: bytes) -> None:
    assert words(locked, WORDS) == words(plain)
    before, after = PdfReader(BytesIO(plain)), PdfReader(BytesIO(locked))
    assert after.is_encrypted
    assert after.decrypt(WORDS) is not PasswordType.NOT_DECRYPTED
    assert after.metadata is not None
    assert before.metadata is not None
    assert after.metadata.title == before.metadata.title
    assert len(after.outline) == len(before.outline) > 0
    assert after.root_object["/Lang"] == before.root_object["/Lang"]


def test_it_is_aes_256_of_the_newest_revision(locked: bytes) -> None:
    """ISO 32000-2, 7.6: V 5, R 6, and the filter AESV3 for strings and streams."""
    encryption: Any = PdfReader(BytesIO(locked)).trailer["/Encrypt"]
    assert (encryption["/V"], encryption["/R"], encryption["/Length"]) == (5, 6, 256)
    for of in ("/StmF", "/StrF"):
        assert encryption["/CF"][encryption[of]]["/CFM"] == "/AESV3"
    assert encryption.get("/EncryptMetadata", True)


def test_without_the_password_nothing_is_read(plain: bytes, locked: bytes) -> None:
    for wrong in (None, "", "acorn", WORDS.upper(), WORDS + " "):
        with pytest.raises(pypdfium2.PdfiumError, match=r"(?i)password"):
            words(locked, wrong)
        assert PdfReader(BytesIO(locked)).decrypt(wrong or "") is PasswordType.NOT_DECRYPTED
    # The subject stands in the file as it is, when nothing is locked.
    assert b"(Fingerstick glucose readings for a visit)" in plain
    assert b"Fingerstick" not in locked


def test_a_third_reader_opens_it(plain: bytes, tmp_path: Path) -> None:
    program = shutil.which("pdftotext")
    if program is None:
        pytest.skip("pdftotext is not on this computer")
    file = tmp_path / "report.pdf"
    # This reader's command takes 32 letters of a password at most.
    short = "acorn bridge candle eagle"
    file.write_bytes(with_password(plain, short))

    def read(password: str) -> subprocess.CompletedProcess[bytes]:
        command = [program, "-upw", password, str(file), "-"]
        return subprocess.run(command, capture_output=True, check=False, timeout=60)

    done = read(short)
    assert done.returncode == 0, done.stderr
    assert words(plain)[0].split()[0] in done.stdout.decode()
    assert read("acorn").returncode != 0


def test_a_short_password_is_refused(plain: bytes) -> None:
    with pytest.raises(ValueError, match="too short"):
        with_password(plain, "a" * (LEAST_LETTERS - 1))


# --- the sheet -----------------------------------------------------------------------------------

PHRASE = "acorn bridge candle dolphin eagle fiddle garden"
AT = Moment.at(datetime(2026, 3, 31, 12, 5, tzinfo=UTC), "UTC")


@pytest.mark.parametrize("paper", Paper)
@pytest.mark.parametrize("name", ["a", "anna-with-a-very-long-name-of-her-log"])
def test_the_sheet_is_one_page_in_large_print(paper: Paper, name: str) -> None:
    file = locked_name(Path(f"{name}.logbook"), AT)
    assert file == f"{name} locked 2026-03-31 120500.logbook.age"
    sheet = recovery_sheet(LockedCopy("Example Person", file, AT, PHRASE), paper)
    (text,) = words(sheet)
    read = " ".join(text.split())
    for number, word in enumerate(PHRASE.split(), start=1):
        assert f"{number} {word}" in read
    assert file in read.replace(" ", "") or file in read
    for part in ("Example Person", "March 31, 2026", "age", "apart from the stick"):
        assert part in read, part
    sizes: list[float] = []

    def seen(text: str, _cm: object, _tm: object, _font: object, size: float) -> None:
        if text.strip():
            sizes.append(size)

    PdfReader(BytesIO(sheet)).pages[0].extract_text(visitor_text=seen)
    assert min(sizes) >= 16, "large print is nowhere smaller"
