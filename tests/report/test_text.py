"""Lines: no word lost, none too wide, bold where it was wanted."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reportlab.pdfgen.canvas import Canvas

from logbook.report.document import fitting, unbroken
from logbook.report.fonts import FIRST_FACES, Faces, registered_font
from logbook.report.text import Span, wrapped

registered_font(FIRST_FACES[0])
FACES = Faces(Canvas("unused.pdf", initialFontName=FIRST_FACES[0])._doc)


def texts(lines: list[tuple[Span, ...]]) -> list[str]:
    return ["".join(span.text for span in line) for line in lines]


def width_of(line: tuple[Span, ...], size: float) -> float:
    *before, last = line or (Span(""),)
    wide = sum(FACES.width(span.text, size, bold=span.bold) for span in before)
    return wide + FACES.width(last.text.rstrip(), size, bold=last.bold)


@given(st.text(alphabet="abc iIlW.\n123", max_size=400), st.floats(min_value=20, max_value=300))
def test_no_character_is_lost_and_no_line_too_wide(text: str, width: float) -> None:
    lines = wrapped(FACES, text, 12, width)
    assert "".join(texts(lines)).split() == text.split() or "".join(
        "".join(texts(lines)).split()
    ) == "".join(text.split())
    for line in lines:
        assert width_of(line, 12) <= width + 0.01


def test_lines_in_the_text_stay_lines() -> None:
    assert texts(wrapped(FACES, "one\ntwo\n\nfour", 12, 300)) == ["one", "two", "", "four"]


def test_a_bold_number_stays_with_its_name() -> None:
    spans = (Span("some words before "), Span("HI:\N{NO-BREAK SPACE}"), Span("1", bold=True))
    full = FACES.width("some words before HI: 1", 12)
    lines = texts(wrapped(FACES, spans, 12, full - 3))
    assert lines == ["some words before ", "HI:\N{NO-BREAK SPACE}1"]


def test_the_last_word_of_an_unbroken_phrase_is_never_alone() -> None:
    assert unbroken("crossed out 1") == "crossed out\N{NO-BREAK SPACE}1"
    assert unbroken("one") == "one"


@pytest.mark.parametrize("room", [30.0, 60.0, 200.0])
def test_a_text_that_is_too_wide_is_shortened_visibly(room: float) -> None:
    text = "Maria-Magdalena Invented"
    short = fitting(FACES, text, 12, room)
    assert FACES.width(short, 12) <= room
    assert short == text or short.endswith("…")
