"""A PDF in memory, as pages to look at: pictures for the window, words for a screen reader.

The library behind it may be used by one thread at a time; every call here waits for its turn.
"""

from __future__ import annotations

from threading import Lock
from typing import Any, Self

from PySide6.QtGui import QImage

POINTS_PER_INCH = 72
_turn = Lock()


class PaperFile:
    """The pages of one PDF. `close()` it, or use it as a context manager."""

    def __init__(self, content: bytes) -> None:
        import pypdfium2

        with _turn:
            self._document = pypdfium2.PdfDocument(content)
            self.page_count: int = len(self._document)

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *error: object) -> None:
        self.close()

    def close(self) -> None:
        """Let the file go; closing twice is no fault."""
        with _turn:
            if self._document is not None:
                self._document.close()
                self._document = None

    def size(self, index: int) -> tuple[float, float]:
        """Width and height of a page in points; pages are counted from 0."""
        with _turn:
            width, height = self._document.get_page_size(index)
        return float(width), float(height)

    def picture(self, index: int, dots_per_point: float) -> QImage:
        """The page as a picture; `dots_per_point` times its size in points."""
        with _turn:
            page = self._document[index]
            try:
                bitmap = page.render(scale=dots_per_point, rev_byteorder=False)
                try:
                    return _image(bitmap).copy()  # the library's memory ends with the bitmap
                finally:
                    bitmap.close()
            finally:
                page.close()

    def words(self, index: int) -> str:
        """The text of a page, in the order in which it was written."""
        with _turn:
            page = self._document[index]
            text = page.get_textpage()
            try:
                return " ".join(str(text.get_text_range()).split())
            finally:
                text.close()
                page.close()


def _image(bitmap: Any) -> QImage:
    formats = {
        "BGR": QImage.Format.Format_BGR888,
        "BGRA": QImage.Format.Format_ARGB32,
        "BGRX": QImage.Format.Format_RGB32,
        "L": QImage.Format.Format_Grayscale8,
    }
    return QImage(
        bitmap.buffer,
        bitmap.width,
        bitmap.height,
        bitmap.stride,
        formats[bitmap.mode],
    )
