"""Make the face for figures: Atkinson Hyperlegible with the slash taken out of its zero.

Run it by hand (`pip install fonttools` first) when the text face beside this file changes; the two
LogbookFigures files are its output. Why the zero is changed and what was measured:
docs/decisions/0001-figures.md. The licence of the text face allows a changed version under the
same licence; it reserves no name, and the new face has a name of its own all the same.
"""

from __future__ import annotations

from pathlib import Path

from fontTools.ttLib import TTFont
from fontTools.ttLib.tables._g_l_y_f import Glyph, GlyphCoordinates

FAMILY = "Logbook Figures"
HERE = Path(__file__).resolve().parent

Point = tuple[int, int, int]  # x, y, on the curve (1) or control point (0)


def contours(font: TTFont, name: str) -> list[list[Point]]:
    """The outlines of a simple glyph, each a list of points."""
    coordinates, ends, flags = font["glyf"][name].getCoordinates(font["glyf"])
    points = [(x, y, flag & 1) for (x, y), flag in zip(coordinates, flags, strict=True)]
    starts = [0, *(end + 1 for end in ends[:-1])]
    return [points[start : end + 1] for start, end in zip(starts, ends, strict=True)]


def arc(contour: list[Point], first: Point, last: Point) -> list[Point]:
    """The points from `first` to `last`, both included, in the order of the outline."""
    turned = contour[contour.index(first) :] + contour[: contour.index(first)]
    return turned[: turned.index(last) + 1]


def open_counter(upper: list[Point], lower: list[Point]) -> list[Point]:
    """One whole inner outline from the two halves that the slash leaves.

    The zero is symmetrical, so the quarter at the upper right, mirrored, is the one at the upper
    left, and the quarter at the lower left, mirrored, the one at the lower right.
    """
    on_upper = [point for point in upper if point[2]]
    on_lower = [point for point in lower if point[2]]
    top = max(on_upper, key=lambda point: point[1])
    bottom = min(on_lower, key=lambda point: point[1])
    left = min(on_lower, key=lambda point: point[0])
    upper_right = arc(upper, max(on_upper, key=lambda point: point[0]), top)
    lower_left = arc(lower, left, bottom)

    def mirrored(points: list[Point]) -> list[Point]:
        return [(2 * top[0] - x, y, on) for x, y, on in reversed(points)]

    return upper_right + mirrored(upper_right)[1:-1] + lower_left + mirrored(lower_left)[1:-1]


def take_out_slash(font: TTFont) -> None:
    """Replace the outlines of the zero by its outer oval and one open counter."""
    outer, *halves = sorted(
        contours(font, "zero"), key=lambda c: max(p[0] for p in c) - min(p[0] for p in c)
    )[::-1]
    upper, lower = sorted(halves, key=lambda c: max(p[1] for p in c), reverse=True)
    inner = open_counter(upper, lower)
    zero = Glyph()
    zero.numberOfContours = 2
    zero.coordinates = GlyphCoordinates([(x, y) for x, y, _ in outer + inner])
    zero.flags = bytearray(on for _, _, on in outer + inner)
    zero.endPtsOfContours = [len(outer) - 1, len(outer) + len(inner) - 1]
    zero.recalcBounds(font["glyf"])
    font["glyf"]["zero"] = zero


def line_up(font: TTFont) -> None:
    """Make the figures of equal width the ones that every program takes without asking."""
    for table in font["cmap"].tables:
        for code, name in list(table.cmap.items()):
            if f"{name}.tf" in font["glyf"].glyphs and chr(code).isdecimal():
                table.cmap[code] = f"{name}.tf"


def drop_hints(font: TTFont) -> None:
    """Take out the hinting programs: they were made for the old outlines."""
    for tag in ("fpgm", "prep", "cvt ", "gasp"):
        if tag in font:
            del font[tag]
    for name in font.getGlyphOrder():
        glyph = font["glyf"][name]
        glyph.removeHinting()


def rename(font: TTFont, style: str) -> None:
    """Give the face its own name; the copyright and the licence stay."""
    names = {
        1: FAMILY,
        2: style,
        3: f"{FAMILY} {style} 1.0",
        4: f"{FAMILY} {style}",
        5: "Version 1.0; after Atkinson Hyperlegible 1.006, zero without its slash",
        6: f"{FAMILY.replace(' ', '')}-{style}",
    }
    for record in font["name"].names:
        if record.nameID in names:
            record.string = names[record.nameID]
    # The trade mark and the pointers to the makers belong to the original face.
    font["name"].names = [
        record
        for record in font["name"].names
        if record.nameID in names or record.nameID in {0, 13, 14}
    ]


def build(style: str) -> Path:
    """Write the figures face of one weight beside this file."""
    font = TTFont(HERE / f"AtkinsonHyperlegible-{style}.ttf", recalcTimestamp=False)
    take_out_slash(font)
    line_up(font)
    drop_hints(font)
    rename(font, style)
    path = HERE / f"LogbookFigures-{style}.ttf"
    font.save(path)
    return path


if __name__ == "__main__":
    for weight in ("Regular", "Bold"):
        print(build(weight).name)
