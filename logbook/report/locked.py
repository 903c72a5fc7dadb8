"""A report that opens only with a password: AES with 256 bits, as ISO 32000-2 has it (revision 6).

ReportLab knows only the revision before, whose check of the password is quick to try, so another
library does this alone. The text and the title inside are locked; only the file's name is not.
"""

from __future__ import annotations

from io import BytesIO

LEAST_LETTERS = 12
"""A password with fewer letters is refused: whoever has the file can try as often as they like."""


def with_password(pdf: bytes, password: str) -> bytes:
    """The same pages, opened with `password` alone.

    Raises `ValueError` for a password shorter than `LEAST_LETTERS`.
    """
    if len(password) < LEAST_LETTERS:
        raise ValueError("the password is too short")
    from pypdf import PdfWriter

    writer = PdfWriter(clone_from=BytesIO(pdf))
    writer.encrypt(password, algorithm="AES-256")
    out = BytesIO()
    writer.write(out)
    return out.getvalue()
