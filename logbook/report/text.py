"""Text in lines: wrapped to a width, left aligned, with bold words where they are wanted."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from logbook.report.document import Page
from logbook.report.fonts import Faces
from logbook.report.options import LEADING

# Nothing this long fits a line.
_MOST_MEASURED = 600


@dataclass(frozen=True, slots=True)
class Span:
    """Some text, bold or not."""

    text: str
    bold: bool = False


Line = tuple[Span, ...]
Rich = str | Sequence[Span]


@dataclass(frozen=True, slots=True)
class Block:
    """Something with a height that can be drawn from an upper edge downwards."""

    height: float
    draw: Callable[[Page, float, float], None]


def wrapped(
    faces: Faces, rich: Rich, size: float, width: float, hanging: float = 0.0
) -> list[Line]:
    """Lines no wider than `width` points, all but the first `hanging` points less.

    Line ends in the text are kept. A word wider than the whole width is broken between its
    characters.
    """
    spans = (Span(rich),) if isinstance(rich, str) else rich
    lines: list[Line] = []
    line: list[Span] = []
    used = 0.0
    room = width
    for found in _unbreakable_pieces(spans):
        piece = found
        if piece is None or (line and _piece_width(faces, piece, size) > room - used):
            lines.append(_tidied(line))
            line, used, room = [], 0.0, width - hanging
        if piece is None:
            continue
        if not line and _piece_width(faces, piece, size) > room:
            *full, piece = _broken(faces, piece, size, width - hanging)
            lines.extend(full)
            room = width - hanging
        line.extend(piece)
        used += sum(faces.width(span.text, size, bold=span.bold) for span in piece)
    if line or not lines:
        lines.append(_tidied(line))
    return lines


def _unbreakable_pieces(spans: Iterable[Span]) -> Iterable[Line | None]:
    """What stays together, with the spaces behind it; None where a line ends in the text itself.

    A word can be of several spans, the number of a bold count and the name before it.
    """
    piece: list[Span] = []
    for span in spans:
        for number, part in enumerate(span.text.splitlines() or [""]):
            if number:
                if piece:
                    yield tuple(piece)
                piece = []
                yield None
            start = 0
            for index, character in enumerate(part):
                if character in " \t" and part[index + 1 : index + 2] not in (" ", "\t"):
                    yield (*piece, Span(part[start : index + 1], span.bold))
                    piece = []
                    start = index + 1
            if part[start:]:
                piece.append(Span(part[start:], span.bold))
    if piece:
        yield tuple(piece)


def _piece_width(faces: Faces, piece: Line, size: float) -> float:
    """How wide a piece is without the spaces behind it; long ones are measured only roughly."""
    if sum(len(span.text) for span in piece) > _MOST_MEASURED:
        return float("inf")
    *before, last = piece
    wide = sum(faces.width(span.text, size, bold=span.bold) for span in before)
    return wide + faces.width(last.text.rstrip(), size, bold=last.bold)


def _broken(faces: Faces, piece: Line, size: float, width: float) -> list[Line]:
    """A piece wider than a line, broken between characters into lines; the last may go on."""
    out: list[Line] = []
    for span in piece:
        rest = span.text
        while len(rest) > 1 and _is_wider(faces, rest.rstrip(), size, width, bold=span.bold):
            head = _head_that_fits(faces, rest, size, width, bold=span.bold)
            out.append((Span(head, span.bold),))
            rest = rest[len(head) :]
        out.append((Span(rest, span.bold),))
    return out


def _most_characters(size: float, width: float) -> int:
    # No letter is narrower than a tenth of its size; longer texts need not be measured.
    return int(width / (size * 0.1)) + 2


def _is_wider(faces: Faces, text: str, size: float, width: float, *, bold: bool) -> bool:
    if len(text) > _most_characters(size, width):
        return True
    return faces.width(text, size, bold=bold) > width


def _head_that_fits(faces: Faces, word: str, size: float, width: float, *, bold: bool) -> str:
    low, high = 1, min(len(word), _most_characters(size, width))
    while low < high:
        middle = (low + high + 1) // 2
        if faces.width(word[:middle], size, bold=bold) <= width:
            low = middle
        else:
            high = middle - 1
    return word[:low]


def _tidied(line: list[Span]) -> Line:
    """Neighbours of one weight put together: one piece of text on the page, one when read back."""
    out: list[Span] = []
    for span in line:
        if out and out[-1].bold == span.bold:
            out[-1] = Span(out[-1].text + span.text, span.bold)
        else:
            out.append(span)
    return tuple(out)


def draw_line(page: Page, x: float, baseline: float, line: Line, size: float) -> float:
    """One line from `x`; returns where it ends."""
    for span in line:
        x = page.text(x, baseline, span.text, size, bold=span.bold)
    return x


def lines_block(
    lines: Sequence[Line], size: float, leading: float = LEADING, hanging: float = 0.0
) -> Block:
    """Wrapped lines as something to draw; `leading` in sizes of the letters.

    All but the first stand `hanging` points further in.
    """
    below_top = baseline_below_top(size, leading)

    def draw(page: Page, x: float, top: float) -> None:
        for number, line in enumerate(lines):
            left = x + hanging if number else x
            draw_line(page, left, top - number * size * leading - below_top, line, size)

    return Block(len(lines) * size * leading, draw)


def baseline_below_top(size: float, leading: float = LEADING) -> float:
    """How far under the top of its line the letters stand (letters reach 0.95 up, 0.29 down)."""
    return size * (leading - 1.24) / 2 + size * 0.95


def paragraph(
    faces: Faces,
    rich: Rich,
    size: float,
    width: float,
    *,
    most_lines: int | None = None,
    leading: float = LEADING,
    hanging: float = 0.0,
) -> Block:
    """A paragraph; with `most_lines` it ends with an ellipsis where it was cut."""
    lines = wrapped(faces, rich, size, width, hanging)
    if most_lines is not None and len(lines) > most_lines:
        lines = lines[:most_lines]
        lines[-1] = _with_ellipsis(faces, lines[-1], size, width - hanging)
    return lines_block(lines, size, leading, hanging)


def _with_ellipsis(faces: Faces, line: Line, size: float, width: float) -> Line:
    *before, last = line or (Span(""),)
    used = sum(faces.width(span.text, size, bold=span.bold) for span in before)
    text = last.text.rstrip()
    while text and used + faces.width(text + " …", size, bold=last.bold) > width:
        text = text[:-1].rstrip()
    return (*before, Span(text + " …", last.bold))


def stacked(blocks: Iterable[Block], gap: float = 0.0) -> Block:
    """Blocks under each other, `gap` points apart; empty ones are left out."""
    kept = [block for block in blocks if block.height]
    height = sum(block.height for block in kept) + gap * max(0, len(kept) - 1)

    def draw(page: Page, x: float, top: float) -> None:
        for block in kept:
            block.draw(page, x, top)
            top -= block.height + gap

    return Block(height, draw)


def beside(left: Block, right: Block, distance: float) -> Block:
    """Two blocks next to each other, the right one `distance` points from the left one's edge."""

    def draw(page: Page, x: float, top: float) -> None:
        left.draw(page, x, top)
        right.draw(page, x + distance, top)

    return Block(max(left.height, right.height), draw)


EMPTY = Block(0.0, lambda _page, _x, _top: None)
