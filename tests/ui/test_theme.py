"""The theme table against WCAG 2.2, computed from the table by the formula of the standard."""

from __future__ import annotations

from dataclasses import fields

import pytest
from PySide6.QtGui import QFontDatabase, QFontInfo
from pytestqt.qtbot import QtBot

from logbook.ui.parts.big_button import _COLOURS as BUTTON_COLOURS
from logbook.ui.parts.texts import _FACES
from logbook.ui.theme import (
    BODY,
    DIGIT,
    FIGURE_FACE,
    MARKS_ON,
    NUMBER,
    SMALL,
    TEXT_FACE,
    TEXT_ON,
    THEMES,
    TITLE,
    Colours,
    Look,
    register_fonts,
)

THEME_NAMES = sorted(THEMES)


def relative_luminance(colour: str) -> float:
    """WCAG 2.2, "relative luminance" (https://www.w3.org/TR/WCAG22/#dfn-relative-luminance)."""
    channels = [int(colour[index : index + 2], 16) / 255 for index in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    """WCAG 2.2, "contrast ratio"."""
    lighter, darker = sorted((relative_luminance(one), relative_luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def test_the_formula_gives_the_ratios_of_the_standard() -> None:
    assert contrast("#000000", "#FFFFFF") == pytest.approx(21)
    # Grey #767676 on white is the well-known last grey that reaches 4.5:1.
    assert contrast("#767676", "#FFFFFF") == pytest.approx(4.54, abs=0.005)


@pytest.mark.parametrize("theme", THEME_NAMES)
@pytest.mark.parametrize(("ink", "back"), TEXT_ON)
def test_text_reaches_7_to_1(theme: str, ink: str, back: str) -> None:
    colours = THEMES[theme]
    assert contrast(getattr(colours, ink), getattr(colours, back)) >= 7


@pytest.mark.parametrize("theme", THEME_NAMES)
@pytest.mark.parametrize(("mark", "back"), MARKS_ON)
def test_marks_edges_and_rings_reach_3_to_1(theme: str, mark: str, back: str) -> None:
    colours = THEMES[theme]
    assert contrast(getattr(colours, mark), getattr(colours, back)) >= 3


def test_every_pair_that_buttons_use_is_in_the_table() -> None:
    used = {(ink, back) for back, ink in BUTTON_COLOURS.values()} | {("chosen_ink", "chosen_back")}
    assert used <= set(TEXT_ON)


def test_every_text_role_is_in_the_table() -> None:
    inks = {ink for _points, _bold, ink in _FACES.values()}
    for ink in inks:
        assert (ink, "page") in TEXT_ON
        assert (ink, "sheet") in TEXT_ON


def test_every_colour_is_written_in_full() -> None:
    for theme in THEMES.values():
        for field in fields(Colours):
            value = getattr(theme, field.name)
            assert isinstance(value, int) or (value.startswith("#") and len(value) == 7)


def test_nothing_is_set_smaller_than_14_points() -> None:
    sizes = {points for points, _bold, _ink in _FACES.values()} | {BODY, DIGIT, TITLE, SMALL}
    assert min(sizes) >= 14
    assert BODY == 18
    assert NUMBER >= 40


@pytest.mark.parametrize("percent", [100, 125, 150, 200, 300])
def test_text_grows_with_the_preference(qtbot: QtBot, percent: int) -> None:
    look = Look(percent=percent)
    # One point is 1/72 inch, one device-independent pixel 1/96 inch.
    assert look.font(18).pixelSize() == round(18 * 96 / 72 * percent / 100)


def test_the_bundled_faces_are_really_used(qtbot: QtBot) -> None:
    register_fonts()
    assert {TEXT_FACE, FIGURE_FACE} <= set(QFontDatabase.families())
    look = Look()
    assert QFontInfo(look.font()).family() == TEXT_FACE
    assert QFontInfo(look.font(figures=True)).family() == FIGURE_FACE
