"""Reading a PDF back with two readers that know nothing of how it was written: pypdf and PDFium."""

from __future__ import annotations

import ctypes
import struct
from collections.abc import Iterator
from dataclasses import dataclass
from io import BytesIO
from typing import Any

import pypdfium2
import pypdfium2.raw as pdfium
from pypdf import PdfReader
from pypdf.generic import ContentStream

from logbook.report.options import Print

MM = 72 / 25.4


@dataclass(frozen=True)
class Character:
    """One printed character: where it stands, and the size of its letters in points."""

    text: str
    left: float
    bottom: float
    right: float
    top: float
    size: float


class Printed:
    """A PDF as its reader sees it."""

    def __init__(self, content: bytes) -> None:
        self.reader = PdfReader(BytesIO(content), strict=True)
        self._document = pypdfium2.PdfDocument(content)
        self.root: Any = self.reader.trailer["/Root"].get_object()
        self.print = Print.STANDARD

    def close(self) -> None:
        self._document.close()

    @property
    def page_count(self) -> int:
        return len(self.reader.pages)

    def text(self, page: int) -> str:
        """The text of a page (0 is the first) in the order in which it was written."""
        return self.reader.pages[page].extract_text()

    @property
    def whole_text(self) -> str:
        return "\n".join(self.text(page) for page in range(self.page_count))

    @property
    def bookmarks(self) -> list[str]:
        return [str(entry["/Title"]) for entry in self.reader.outline if isinstance(entry, dict)]

    def size(self, page: int) -> tuple[float, float]:
        width, height = self._document[page].get_size()
        return float(width), float(height)

    def characters(self, page: int) -> list[Character]:
        """The printed characters of a page that leave ink."""
        text_page = self._document[page].get_textpage()
        found = []
        for index in range(text_page.count_chars()):
            code = pdfium.FPDFText_GetUnicode(text_page.raw, index)
            if not code or chr(code).isspace() or pdfium.FPDFText_IsGenerated(text_page.raw, index):
                continue
            left, bottom, right, top = text_page.get_charbox(index)
            size = pdfium.FPDFText_GetFontSize(text_page.raw, index)
            found.append(Character(chr(code), left, bottom, right, top, size))
        text_page.close()
        return found

    def lines(self, page: int) -> list[str]:
        """Lines as the eye sees them: what stands at one height, from left to right, spaced."""
        rows: dict[float, list[Character]] = {}
        text_page = self._document[page].get_textpage()
        origin_y, origin_x = ctypes.c_double(), ctypes.c_double()
        for index in range(text_page.count_chars()):
            code = pdfium.FPDFText_GetUnicode(text_page.raw, index)
            if not code or chr(code).isspace():
                continue
            pdfium.FPDFText_GetCharOrigin(text_page.raw, index, origin_x, origin_y)
            left, bottom, right, top = text_page.get_charbox(index, loose=True)
            row = rows.setdefault(round(origin_y.value, 1), [])
            row.append(Character(chr(code), left, bottom, right, top, 0.0))
        text_page.close()
        return [_spaced(rows[y]) for y in sorted(rows, reverse=True)]

    def drawn_boxes(self, page: int) -> Iterator[tuple[float, float, float, float]]:
        """The bounds of everything on a page, text and paths: left, bottom, right, top."""
        for thing in self._document[page].get_objects():
            yield tuple(float(edge) for edge in thing.get_bounds())  # type: ignore[misc]

    def path_count(self, page: int) -> int:
        """How many paths are drawn on a page."""
        objects = self._document[page].get_objects(filter=(pdfium.FPDF_PAGEOBJ_PATH,))
        return sum(1 for _path in objects)

    # --- fonts ------------------------------------------------------------------------------------

    def fonts(self) -> dict[str, bool]:
        """The names of all fonts of all pages, and whether each is embedded."""
        found: dict[str, bool] = {}
        for page in self.reader.pages:
            for font in _fonts_of(page).values():
                descriptor = font.get("/FontDescriptor")
                embedded = descriptor is not None and "/FontFile2" in descriptor.get_object()
                found[str(font["/BaseFont"])] = embedded
        return found

    def undefined_glyphs(self) -> list[tuple[int, str, int]]:
        """Page, font and code of each shown character that its font draws as "not defined"."""
        missing: list[tuple[int, str, int]] = []
        for number, page in enumerate(self.reader.pages):
            glyphs = {name: _glyph_of_code(font) for name, font in _fonts_of(page).items()}
            font_name = ""
            content = ContentStream(page.get_contents(), self.reader)
            for operands, operator in content.operations:
                if operator == b"Tf":
                    font_name = str(operands[0])
                elif operator == b"Tj":
                    shown = operands[0]
                    codes = getattr(shown, "original_bytes", shown)
                    missing.extend(
                        (number, font_name, code)
                        for code in codes
                        if not glyphs[font_name].get(code)
                    )
        return missing


def _fonts_of(page: Any) -> dict[str, Any]:
    fonts = page["/Resources"]["/Font"].get_object()
    return {name: font.get_object() for name, font in fonts.items()}


def _glyph_of_code(font: Any) -> dict[int, int]:
    """Code to glyph number, out of the embedded file's own table (OpenType `cmap`, format 6 or 0).

    A font that is not embedded has none: everything in it is undefined.
    """
    descriptor = font.get("/FontDescriptor")
    if descriptor is None or "/FontFile2" not in descriptor.get_object():
        return {}
    data = descriptor.get_object()["/FontFile2"].get_object().get_data()
    tables = {}
    for number in range(struct.unpack(">H", data[4:6])[0]):
        tag, _sum, offset, length = struct.unpack(
            ">4sLLL", data[12 + 16 * number : 28 + 16 * number]
        )
        tables[tag] = data[offset : offset + length]
    cmap = tables[b"cmap"]
    (start,) = struct.unpack(">L", cmap[8:12])
    table = cmap[start:]
    (kind,) = struct.unpack(">H", table[:2])
    if kind == 0:
        return dict(enumerate(table[6:262]))
    assert kind == 6, kind
    first, count = struct.unpack(">HH", table[6:10])
    glyphs = struct.unpack(f">{count}H", table[10 : 10 + 2 * count])
    return {first + number: glyph for number, glyph in enumerate(glyphs)}


def _spaced(row: list[Character]) -> str:
    row.sort(key=lambda c: c.left)
    out = ""
    before: Character | None = None
    for character in row:
        if before is not None and character.left - before.right > 1.0:
            out += " "
        out += character.text
        before = character
    return out
