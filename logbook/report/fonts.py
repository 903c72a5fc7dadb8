"""The faces of a printed page, and how text becomes what a PDF shows.

Every character either prints from the first face, or from the second, or is replaced by a boxed
question mark which is remembered, so that a line under the page can say so. Nothing is drawn as an
empty box. Which text stands where is for others.
"""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass
from functools import cache
from typing import Any

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

from logbook.report.right_to_left import visual_order
from logbook.resources import resource_path

# The face for figures has the letters of the text face, digits of one width and an open zero: one
# face for all of a page keeps a 0 looking like a 0 in a table and in the sentence beside it.
FIRST_FACES = ("LogbookFigures-Regular", "LogbookFigures-Bold")
SECOND_FACES = ("DejaVuSans", "DejaVuSans-Bold")

# A replaced character takes this much room, in sizes of its letters.
SUBSTITUTE_WIDTH = 0.85


@cache
def registered_font(name: str) -> Any:
    """The font of a bundled file, read once and known to ReportLab by that name."""
    # Readable ASCII: codes 32 to 126 of a font's first part are the characters themselves.
    font = TTFont(name, str(resource_path("fonts", f"{name}.ttf")), asciiReadable=True)
    pdfmetrics.registerFont(font)
    return font


def _steers_others(character: str) -> bool:
    if "\ufe00" <= character <= "\ufe0f" or "\U000e0100" <= character <= "\U000e01ef":
        return True  # a variation selector
    return unicodedata.category(character) == "Cf"


@dataclass(frozen=True, slots=True)
class Run:
    """Neighbouring characters printed from one font; `font` is None for replaced ones."""

    font: str | None
    text: str


def cleaned(text: str) -> str:
    """`text` without what has no shape of its own: line ends and tabs become spaces.

    Joiners, direction marks and variation selectors are left out; they only steer others.
    """
    if text.isascii() and text.isprintable():
        return text
    kept = []
    for character in text:
        if character.isspace():
            kept.append(" ")
        elif not _steers_others(character):
            kept.append(character)
    return "".join(kept)


def _font_with(character: str, names: tuple[str, ...]) -> str | None:
    """The first of the fonts that has a shape for `character`; None for control characters too."""
    code = ord(character)
    # Beyond the first plane ReportLab writes a table that other programs can't read the text by.
    if not character.isprintable() or code > 0xFFFF:
        return None
    return next((name for name in names if code in registered_font(name).face.charToGlyph), None)


class Faces:
    """The fonts as one document uses them; remembers which characters were replaced.

    `document` is ReportLab's own, for which the fonts keep what was used.
    """

    def __init__(self, document: Any) -> None:
        self._document = document
        self._runs: dict[tuple[str, bool], tuple[Run, ...]] = {}
        self._widths: dict[tuple[str, bool], float] = {}
        self._shown: dict[tuple[str, str], str] = {}
        self.replaced: set[str] = set()

    def runs(self, text: str, *, bold: bool = False) -> tuple[Run, ...]:
        """`text` as runs of one font each, in the order in which they stand on the page."""
        key = (text, bold)
        found = self._runs.get(key)
        if found is None:
            found = self._runs[key] = self._split(text, bold=bold)
        return found

    def _split(self, text: str, *, bold: bool) -> tuple[Run, ...]:
        first = FIRST_FACES[bold]
        if text.isascii() and text.isprintable():
            return (Run(first, text),) if text else ()
        runs: list[Run] = []
        for character in visual_order(unicodedata.normalize("NFC", cleaned(text))):
            font = _font_with(character, (first, SECOND_FACES[bold]))
            if font is None:
                self.replaced.add(character)
            if runs and runs[-1].font == font:
                runs[-1] = Run(font, runs[-1].text + character)
            else:
                runs.append(Run(font, character))
        return tuple(runs)

    def width(self, text: str, size: float, *, bold: bool = False) -> float:
        """How wide `text` prints, in points."""
        key = (text, bold)
        wide = self._widths.get(key)
        if wide is None:
            wide = self._widths[key] = sum(
                self._run_width(run) for run in self.runs(text, bold=bold)
            )
        return wide * size

    @staticmethod
    def _run_width(run: Run) -> float:
        if run.font is None:
            return SUBSTITUTE_WIDTH * len(run.text)
        return float(registered_font(run.font).stringWidth(run.text, 1))

    def internal_name(self, *, bold: bool) -> str:
        """The PDF's own name of the first face's ASCII part, for `Tf`."""
        font = registered_font(FIRST_FACES[bold])
        font.splitString(" ", self._document)
        return str(font.getSubsetInternalName(0, self._document))

    def shown(self, run: Run, size: float) -> str:
        """The operators that choose the font and show the run at the present place."""
        if run.font is None:
            raise ValueError(run)
        key = (run.font, run.text)
        pattern = self._shown.get(key)
        if pattern is None:
            font = registered_font(run.font)
            parts = []
            for subset, codes in font.splitString(run.text, self._document):
                name = font.getSubsetInternalName(subset, self._document)
                parts.append(f"{name} %SIZE% Tf ({_escaped(codes)}) Tj")
            pattern = self._shown[key] = " ".join(parts)
        return pattern.replace("%SIZE%", f"{size:g}")

    def shown_line(self, text: str, size: float, *, bold: bool = False) -> str:
        """The operators that show all of `text` where the page's plain font is set.

        Plain ASCII needs no choice of font, and the plain font is set again afterwards.
        """
        runs = self.runs(text, bold=bold)
        if not bold and len(runs) == 1 and runs[0].text.isascii() and runs[0].font:
            return f"({_escaped(runs[0].text.encode('ascii'))}) Tj"
        shown = " ".join(self.shown(run, size) for run in runs if run.font)
        return f"{shown} {self.internal_name(bold=False)} {size:g} Tf"


def _escaped(codes: bytes) -> str:
    """Bytes as the inside of a PDF string, in ASCII alone (ISO 32000-1, 7.3.4.2)."""
    return "".join(
        f"\\{chr(code)}"
        if code in b"()\\"
        else (chr(code) if 32 <= code < 127 else f"\\{code:03o}")
        for code in codes
    )
