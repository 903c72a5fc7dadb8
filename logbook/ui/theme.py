"""The colours, sizes and faces of the window, in one table; and who is told when they change.

Text stands only on the backgrounds named in `TEXT_ON`, at 7:1 or more in every theme (WCAG 2.2,
1.4.6). Colour is only ever a second signal: word and shape come first.
"""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QColor, QFont, QFontDatabase

from logbook.resources import resource_path
from logbook.ui.parts.press_guard import PressGuard

TEXT_FACE = "Atkinson Hyperlegible"
FIGURE_FACE = "Logbook Figures"  # the same face with a plain zero
_FONT_FILES = (
    "AtkinsonHyperlegible-Regular.ttf",
    "AtkinsonHyperlegible-Bold.ttf",
    "LogbookFigures-Regular.ttf",
    "LogbookFigures-Bold.ttf",
)

PIXELS_PER_POINT = 4 / 3  # device-independent pixels are 1/96 inch

# In points, at 100 %.
BODY = 18
SMALL = 14
TITLE = 20
DIGIT = 28
NUMBER = 56

# From here on a number is large for anyone, and would only be too wide for the window.
_LARGEST_NUMBER = 112

# In device-independent pixels, at any text size.
KEY = 76  # 20 mm: aimed clicks of an older hand miss one in 2,500
LARGE_KEY = 113  # 30 mm
CONTROL = 48
GAP = 8
RADIUS = 10
# From this text size on there is no room side by side: the page list is a row at the top.
ROW_FROM_PERCENT = 200
FOCUS_RING = 4


@dataclass(frozen=True, slots=True)
class Colours:
    """The colours of one theme, by what they are for."""

    page: str
    sheet: str
    ink: str
    quiet_ink: str
    main_back: str
    main_ink: str
    other_back: str
    other_ink: str
    list_back: str
    list_ink: str
    chosen_back: str
    chosen_ink: str
    edge: str
    focus: str
    focus_on_list: str
    skin: str
    below: str
    in_target: str
    above: str
    band: str
    band_edge: str
    edge_width: int = 2


THEMES = {
    "light": Colours(
        page="#F6F3EC",
        sheet="#FFFFFF",
        ink="#1B1B1F",
        quiet_ink="#45454D",
        main_back="#3A2A6B",
        main_ink="#FFFFFF",
        other_back="#E7E1F2",
        other_ink="#2B2440",
        list_back="#2B2440",
        list_ink="#FFFFFF",
        chosen_back="#F4D58D",
        chosen_ink="#2B2440",
        edge="#6F6885",
        focus="#B5179E",
        focus_on_list="#F4D58D",
        skin="#FCF7EF",
        below="#0A5A8C",
        in_target="#1E6B4F",
        above="#9C3D00",
        band="#DDEBDD",
        band_edge="#1E6B4F",
    ),
    "dark": Colours(
        page="#16141C",
        sheet="#221F2B",
        ink="#F2EFE9",
        quiet_ink="#C9C4D6",
        main_back="#C7B5FF",
        main_ink="#16141C",
        other_back="#37314A",
        other_ink="#F2EFE9",
        list_back="#0D0C12",
        list_ink="#F2EFE9",
        chosen_back="#F4D58D",
        chosen_ink="#2B2440",
        edge="#8E87A3",
        focus="#F4D58D",
        focus_on_list="#F4D58D",
        skin="#2C2838",
        below="#7FC4F2",
        in_target="#7FD6AE",
        above="#FFA066",
        band="#24382F",
        band_edge="#7FD6AE",
    ),
    "strong": Colours(
        page="#FFFFFF",
        sheet="#FFFFFF",
        ink="#000000",
        quiet_ink="#000000",
        main_back="#000000",
        main_ink="#FFE600",
        other_back="#FFFFFF",
        other_ink="#000000",
        list_back="#000000",
        list_ink="#FFE600",
        chosen_back="#FFE600",
        chosen_ink="#000000",
        edge="#000000",
        focus="#0000C8",
        focus_on_list="#FFFFFF",
        skin="#FFFFFF",
        below="#003C78",
        in_target="#00502F",
        above="#7A2E00",
        band="#E6E6E6",
        band_edge="#000000",
        edge_width=3,
    ),
}

# Every pair of text and background that the window uses.
TEXT_ON = (
    ("ink", "page"),
    ("ink", "sheet"),
    ("ink", "skin"),
    ("ink", "band"),
    ("quiet_ink", "page"),
    ("quiet_ink", "sheet"),
    ("main_ink", "main_back"),
    ("other_ink", "other_back"),
    ("list_ink", "list_back"),
    ("chosen_ink", "chosen_back"),
)
# Every pair of line or mark and background; 3:1 is asked for (WCAG 2.2, 1.4.11).
MARKS_ON = (
    ("edge", "page"),
    ("edge", "sheet"),
    ("focus", "page"),
    ("focus", "sheet"),
    ("focus_on_list", "list_back"),
    ("below", "sheet"),
    ("in_target", "sheet"),
    ("above", "sheet"),
    ("below", "page"),
    ("in_target", "page"),
    ("above", "page"),
    ("band_edge", "sheet"),
    ("band_edge", "band"),
)


@dataclass(frozen=True, slots=True)
class Theme:
    """The colours and sizes in use: text scales; what is pressed keeps its least size."""

    colours: Colours
    percent: int
    has_large_keys: bool

    def pixels(self, points: float) -> int:
        """The height of a face of `points` at the person's text size, in pixels."""
        return round(points * PIXELS_PER_POINT * self.percent / 100)

    @property
    def key(self) -> int:
        """The least side of a key of the number, of Save and of Undo, in pixels."""
        return LARGE_KEY if self.has_large_keys else KEY


class Look(QObject):
    """What every part asks how to show itself and how to take a press.

    Parts connect `changed` to their own method and ask again. `presses` is the guard against
    shaking hands, one for the whole window.
    """

    changed = Signal()
    held_too_long = Signal()

    def __init__(
        self,
        contrast: str = "light",
        percent: int = 100,
        *,
        has_large_keys: bool = False,
        parent: QObject | None = None,
    ) -> None:
        super().__init__(parent)
        self.theme = Theme(THEMES[contrast], percent, has_large_keys)
        self.presses = PressGuard()
        # Whoever clicks knows where the hand is; a ring is for whoever moves by keys.
        self.is_by_keys = False

    def change(self, contrast: str, percent: int, *, has_large_keys: bool) -> None:
        """Use another theme, text size or key size, at once and everywhere."""
        theme = Theme(THEMES[contrast], percent, has_large_keys)
        if theme != self.theme:
            self.theme = theme
            self.changed.emit()

    def colour(self, role: str) -> QColor:
        """The colour for what `role` names in `Colours`."""
        return QColor(getattr(self.theme.colours, role))

    def font(self, points: float = BODY, *, bold: bool = False, figures: bool = False) -> QFont:
        """A face of `points` at the person's text size."""
        font = QFont(FIGURE_FACE if figures else TEXT_FACE)
        largest = round(_LARGEST_NUMBER * PIXELS_PER_POINT)
        font.setPixelSize(min(self.theme.pixels(points), max(largest, self.theme.pixels(BODY))))
        font.setBold(bold)
        return font

    def sheet_rules(self) -> str:
        """Qt's style rules for the few widgets that are not drawn by our own parts."""
        colours = self.theme.colours
        return (
            f"QWidget#window, QWidget#page, QScrollArea, QWidget#scrolled"
            f" {{ background: {colours.page}; border: none; }}"
            f" QLineEdit, QPlainTextEdit {{ background: {colours.sheet}; color: {colours.ink};"
            f" border: {colours.edge_width}px solid {colours.edge}; border-radius: 8px;"
            f" padding: 4px 10px; selection-background-color: {colours.chosen_back};"
            f" selection-color: {colours.chosen_ink}; }}"
        )


def register_fonts() -> None:
    """Make the bundled faces known to Qt.

    Raises:
        FileNotFoundError: a face is missing or can't be read.
    """
    for name in _FONT_FILES:
        path = resource_path("fonts", name)
        if QFontDatabase.addApplicationFont(str(path)) < 0:
            raise FileNotFoundError(path)
