"""The sheet for the fingers: two drawn hands, and a box for each side of a finger on each day."""

from __future__ import annotations

from collections.abc import Sequence

from logbook.domain.rotation import sites_in_use
from logbook.domain.sites import FINGERS, Hand, Place, Side, Site
from logbook.hand_shape import (
    CREASES,
    GROWN_FROM,
    HAND_HEIGHT,
    PALM,
    PALM_ROUND,
    THICKNESS,
    TIPS,
    mirrored,
)
from logbook.report.blank_sheets import FOOT, GAP, LARGE_SIZES, draw_grid, draw_head
from logbook.report.document import BLACK, DARK, Document, Page
from logbook.report.marks import circle
from logbook.report.own_facts import OwnFacts
from logbook.report.text import paragraph
from logbook.wording import _, cautions
from logbook.wording.numbers import number_text
from logbook.wording.sites import finger_text, hand_text, side_phrase, site_text

_DAYS_OF_MONTH = 31

# How large a hand is drawn, in points, and the least height of a row that can be ticked by hand:
# where both do not fit, the rows are what is left.
_LARGEST_HAND, _SMALLEST_HAND = 150.0, 120.0
_LEAST_ROW = 15.0
_TWO_HANDS = 2.35  # with the room between them, against the size of one

_LINE = 1.0
_WHITE = 1.0


def write_hands(document: Document, facts: OwnFacts) -> None:
    """The hands with numbers, then a row for each of them."""
    page = document.new_page(sideways=True)
    sites = sites_in_use(facts.settings)
    names = [
        _("{n}. {site}").format(n=number_text(number), site=site_text(site))
        for number, site in enumerate(sites, 1)
    ]
    has_fingers = any(site.place.is_finger for site in sites)
    if has_fingers and any(_write_large(document, page, facts, one) for one in LARGE_SIZES):
        return
    size = document.print.table_size
    y = draw_head(document, page, facts, _title(), has_unit=False, size=size)
    room = y - page.bottom - FOOT - (len(sites) + 1.5) * _LEAST_ROW - 4 * size
    side = min(_LARGEST_HAND, room / HAND_HEIGHT)
    if has_fingers and side >= _SMALLEST_HAND:
        _draw_hands(page, y, sites, side, size)
        left = page.left + 2.5 * side
        words = paragraph(document.faces, _how(), document.print.text_size, page.right - left)
        words.draw(page, left, y - 1.5 * size - side / 3)
        y -= side * HAND_HEIGHT + 4 * size
    width = page.right - page.left
    name = max((document.faces.width(text, size) for text in names), default=0.0) + 2 * GAP
    box = (width - name) / _DAYS_OF_MONTH
    heads = [("", ""), *((number_text(day), "") for day in range(1, _DAYS_OF_MONTH + 1))]
    most = min(y - page.bottom - FOOT, (len(names) + 1) * 3.2 * size)
    draw_grid(document, page, y, [name, *[box] * _DAYS_OF_MONTH], heads, names, height=most)


def _write_large(document: Document, page: Page, facts: OwnFacts, size: float) -> bool:
    """The same in large print: names beside the hands, numbers alone at the rows.

    Nothing is drawn, and false returned, where that does not fit.
    """
    faces, step, room = document.faces, 1.3 * size, page.right - page.left
    sites = sites_in_use(facts.settings)
    legend = _legend(sites)
    head = paragraph(faces, cautions.hands(), size, room).height + 1.5 * document.print.title_size
    lower = 1.5 * size + len(sites) * max(_LEAST_ROW, 1.1 * size)
    upper = page.top - head - size - page.bottom - FOOT - lower
    widest = max(faces.width(line, size) for line in legend)
    by_height, by_width = (upper - 3 * size) / HAND_HEIGHT, (room - widest) / _TWO_HANDS
    side = min(_LARGEST_HAND, by_height, by_width)
    left = page.left + _TWO_HANDS * side
    words = paragraph(faces, _how(), size, page.right - left)
    number = faces.width(number_text(len(sites)), size) + 3 * GAP
    box = (room - number) / _DAYS_OF_MONTH
    is_fitting = (
        side >= _SMALLEST_HAND
        and words.height + (len(legend) + 0.5) * step <= upper
        and faces.width(number_text(_DAYS_OF_MONTH), size) <= box
    )
    if not is_fitting:
        return False
    y = draw_head(document, page, facts, _title(), has_unit=False, size=size)
    _draw_hands(page, y, sites, side, size)
    words.draw(page, left, y)
    y -= words.height + 0.5 * step
    for place, line in enumerate(legend, 1):
        page.text(left, y - place * step, line, size)
    heads = [("", ""), *((number_text(day), "") for day in range(1, _DAYS_OF_MONTH + 1))]
    numbers = [number_text(place) for place in range(1, len(sites) + 1)]
    widths = [number, *[box] * _DAYS_OF_MONTH]
    bottom = page.bottom + FOOT
    draw_grid(document, page, bottom + lower, widths, heads, numbers, size=size)
    return True


def _legend(sites: Sequence[Site]) -> list[str]:
    """Which numbers a finger has, in a line each."""
    numbered: dict[tuple[Hand, Place], list[str]] = {}
    for number, site in enumerate(sites, 1):
        side = "" if site.side is None else side_phrase(site.place, site.side)
        told = f"{number_text(number)} {side}".strip()
        numbered.setdefault((site.hand, site.place), []).append(told)
    return [
        _("{finger}: {sides}").format(finger=finger_text(*of), sides=", ".join(sides))
        for of, sides in numbered.items()
    ]


def _title() -> str:
    return _("My fingers, month")


def _how() -> str:
    return _(
        "Palms up. The numbers above a fingertip are its two sides, as you look at them."
        " Tick the box of the day when you used it."
    )


def _draw_hands(
    page: Page, top: float, sites: Sequence[Site], hand_side: float, size: float
) -> None:
    """Palms up, the left hand left; above each fingertip the numbers of its sides."""
    upper = top - 1.5 * size
    apart = min(size, hand_side / 11)  # so large that the numbers of two fingers don't touch
    for place, hand in enumerate(Hand):
        drawn = _Drawn(page, hand, page.left + GAP + place * hand_side * 1.2, upper, hand_side)
        drawn.draw()
        for finger in FINGERS:
            numbers = [
                number_text(number)
                for side in _from_left(hand)
                for number, site in enumerate(sites, 1)
                if site == Site(hand, finger, side)
            ]
            x, y = drawn.at(*TIPS[finger])
            above = y + THICKNESS[finger] / 2 * hand_side + 0.35 * apart
            page.text_middle(x, above, " ".join(numbers), apart, bold=True)
        x, y = drawn.at(0.5, HAND_HEIGHT)
        page.text_middle(x, y - size, hand_text(hand), size)


def _from_left(hand: Hand) -> tuple[Side, Side]:
    """The sides of a finger from left to right: the left hand's thumb is at the left."""
    sides = (Side.THUMB_SIDE, Side.LITTLE_FINGER_SIDE)
    return sides if hand is Hand.LEFT else (sides[1], sides[0])


class _Drawn:
    """One hand on the page: thick lines in black, and the same ones thinner in white on top."""

    def __init__(self, page: Page, hand: Hand, left: float, top: float, side: float) -> None:
        self._page, self._hand, self._side = page, hand, side
        self._left, self._top = left, top

    def at(self, x: float, y: float) -> tuple[float, float]:
        """A point of the left hand's square, on the page."""
        across = mirrored(self._hand, x)
        return self._left + across * self._side, self._top - y * self._side

    def draw(self) -> None:
        """Outline, lines of the palm, and a ring on each fingertip."""
        out = self._page.operators
        for grey, more in ((BLACK, _LINE), (_WHITE, -_LINE)):
            out.append(f"q {grey:g} G {grey:g} g 1 J 1 j")
            for finger in FINGERS:
                out.append(self._finger(finger, more))
            out.append(self._palm(more))
            out.append("Q")
        out.append(f"q 0.5 w {DARK:g} G")
        for start, bend, end in CREASES:
            (x0, y0), (x1, y1), (x2, y2) = self.at(*start), self.at(*bend), self.at(*end)
            # A curve with one bend as one with two, two thirds of the way to it from each end.
            out.append(
                f"{x0:.2f} {y0:.2f} m {x0 + (x1 - x0) * 2 / 3:.2f} {y0 + (y1 - y0) * 2 / 3:.2f} "
                f"{x2 + (x1 - x2) * 2 / 3:.2f} {y2 + (y1 - y2) * 2 / 3:.2f} {x2:.2f} {y2:.2f} c S"
            )
        for finger in FINGERS:
            x, y = self.at(*TIPS[finger])
            out.append(f"{circle(x, y, THICKNESS[finger] * self._side * 0.36)} S")
        out.append("Q")

    def _finger(self, finger: Place, more: float) -> str:
        (x0, y0), (x1, y1) = self.at(*GROWN_FROM[finger]), self.at(*TIPS[finger])
        width = THICKNESS[finger] * self._side + more
        return f"{width:.2f} w {x0:.2f} {y0:.2f} m {x1:.2f} {y1:.2f} l S"

    def _palm(self, more: float) -> str:
        """A rectangle whose corners are as round as the thick line around it."""
        left, top, width, height = PALM
        inset = PALM_ROUND
        (x0, y0) = self.at(left + inset, top + inset)
        (x1, y1) = self.at(left + width - inset, top + height - inset)
        thick = 2 * inset * self._side + more
        return f"{thick:.2f} w {min(x0, x1):.2f} {y1:.2f} {abs(x1 - x0):.2f} {y0 - y1:.2f} re B"
