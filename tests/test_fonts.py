"""The bundled faces: which characters they have, and whether a blurred 0 reads as an 8.

Read with ReportLab's own font reader and drawn with Pillow, neither of them part of this project.
How the numbers were found: docs/decisions/0001-figures.md.
"""

from __future__ import annotations

import unicodedata
from pathlib import Path

import numpy as np
import pytest
from PIL import Image, ImageDraw, ImageFilter, ImageFont
from reportlab.pdfbase.ttfonts import TTFontFile

from logbook.resources import resource_path

LATIN = {chr(code) for code in range(0x20, 0x180) if unicodedata.category(chr(code)) != "Cc"}
SIGNS = set("–—…’‘“”½¼¾≥≤≈≠−×°µ•")
WEIGHTS = ("Regular", "Bold")


def face_path(family: str, weight: str) -> Path:
    if (family, weight) == ("DejaVuSans", "Regular"):
        return resource_path("fonts", "DejaVuSans.ttf")
    return resource_path("fonts", f"{family}-{weight}.ttf")


def characters(family: str, weight: str) -> set[str]:
    face = TTFontFile(str(face_path(family, weight)))
    return {chr(code) for code in face.charToGlyph}


@pytest.mark.parametrize("weight", WEIGHTS)
def test_text_face_has_western_letters_and_every_sign(weight: str) -> None:
    western = {letter for letter in LATIN if ord(letter) < 0x100}
    assert (western | SIGNS) - characters("AtkinsonHyperlegible", weight) == set()


@pytest.mark.parametrize("weight", WEIGHTS)
def test_second_face_has_what_the_first_lacks(weight: str) -> None:
    lacking = LATIN - characters("AtkinsonHyperlegible", weight)
    assert lacking  # for example Ō and ŵ; were it empty, the second face could go
    assert lacking - characters("DejaVuSans", weight) == set()


@pytest.mark.parametrize("weight", WEIGHTS)
def test_figures_face_has_all_the_text_face_has(weight: str) -> None:
    assert characters("LogbookFigures", weight) == characters("AtkinsonHyperlegible", weight)


@pytest.mark.parametrize("weight", WEIGHTS)
def test_figures_are_of_equal_width(weight: str) -> None:
    face = TTFontFile(str(face_path("LogbookFigures", weight)))
    assert len({face.charWidths[ord(figure)] for figure in "0123456789"}) == 1


# --- a blurred 0 ----------------------------------------------------------------------------------

PIXELS = 75  # 56 pt at 96 dots an inch
BLUR = 0.10  # standard deviation of the blur, as a share of a figure's height


def blurred(path: Path, figure: str) -> np.ndarray:
    """A figure, centred, after the blur; ink is 1."""
    font = ImageFont.truetype(str(path), PIXELS)
    left, top, right, bottom = font.getbbox(figure, anchor="ls")
    picture = Image.new("L", (140, 140), 0)
    at = (70 - (left + right) / 2, 70 - (top + bottom) / 2)
    ImageDraw.Draw(picture).text(at, figure, font=font, fill=255, anchor="ls")
    return np.asarray(picture.filter(ImageFilter.GaussianBlur(BLUR * (bottom - top)))) / 255


def ink_in_the_middle(path: Path, figure: str) -> float:
    """How dark the middle is, as a share of the figure's darkest place."""
    picture = blurred(path, figure)
    return float(picture[65:76, 66:75].mean() / picture.max())


def likeness(path: Path) -> float:
    """The correlation of a blurred 0 and a blurred 8."""
    zero, eight = (blurred(path, figure).ravel() for figure in "08")
    return float(np.corrcoef(zero, eight)[0, 1])


@pytest.mark.parametrize("weight", WEIGHTS)
def test_a_blurred_0_stays_open_where_an_8_is_dark(weight: str) -> None:
    path = face_path("LogbookFigures", weight)
    assert ink_in_the_middle(path, "0") < 0.25
    assert ink_in_the_middle(path, "8") > 0.75


@pytest.mark.parametrize("weight", WEIGHTS)
def test_the_slashed_0_does_not_and_is_more_like_an_8(weight: str) -> None:
    """The control: the face with the slash, which the same measure must refuse."""
    slashed = face_path("AtkinsonHyperlegible", weight)
    assert ink_in_the_middle(slashed, "0") > 0.5
    assert likeness(slashed) > likeness(face_path("LogbookFigures", weight)) + 0.04
