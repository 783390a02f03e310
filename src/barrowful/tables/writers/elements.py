"""The elements of a picture: lines of text, lines, round marks, and a page that is filled with them."""

from __future__ import annotations

from collections.abc import Sequence

from barrowful.tables.writers.placing import Box, Spot
from barrowful.tables.writers.widths import columns_of, wrapped

#: The width of a picture, and the edge that stays free [px].
WIDTH, EDGE = 720, 16
#: The size of letters, of those of a title, and the height of a line of them [px].
SIZE, TITLE_SIZE, LINE, TITLE_LINE = 12, 15, 17, 21
#: The most that a letter of one column takes in any usual typeface of letters of one width, and how far
#: letters stand above the foot of their line [share of their size].
COLUMN, DEPTH = 0.65, 0.3
ESCAPES = str.maketrans({"&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;"})


class Page:
    """A page that is filled from the top: its parts, and how far down it is filled [px]."""

    def __init__(self) -> None:
        self.parts: list[str] = []
        self.filled = float(EDGE)

    def write(self, text: str, size: int = SIZE, first: str = "", rest: str = "") -> None:
        """Put a text under what is there, in lines as long as the page is wide."""
        for line in wrapped(text, columns_in(WIDTH - 2 * EDGE, size), first, rest):
            indent = len(line) - len(line.lstrip(" "))
            left = EDGE + indent * size * COLUMN
            box = Box(left, self.filled, left, self.filled + (LINE if size == SIZE else TITLE_LINE))
            self.parts.append(text_line(line.lstrip(" "), box, "start", size))
            self.filled = box.bottom


def path(spots: Sequence[Spot], colour: str, width: int, broken: bool = False) -> str:
    """Return a line through some spots."""
    joined = " ".join(f"{px(x)},{px(y)}" for x, y in spots)
    dashes = ' stroke-dasharray="6 4"' if broken else ""
    return f'<polyline points="{joined}" fill="none" stroke="{colour}" stroke-width="{width}"{dashes}/>'


def area(spots: Sequence[Spot], colour: str) -> str:
    """Return an area with some corners."""
    joined = " ".join(f"{px(x)},{px(y)}" for x, y in spots)
    return f'<polyline points="{joined}" fill="{colour}" stroke="none"/>'


def block(box: Box, told: str) -> str:
    """Return a block, which tells what it is to whoever points at it."""
    place = f'x="{px(box.left)}" y="{px(box.top)}"'
    size = f'width="{px(box.right - box.left)}" height="{px(box.bottom - box.top)}"'
    return f'<rect {place} {size} fill="#666"><title>{escaped(told)}</title></rect>'


def mark(spot: Spot, radius: float, hollow: bool, told: str) -> str:
    """Return a round mark, which tells what it is to whoever points at it."""
    fill = "#fff" if hollow else "#222"
    return (
        f'<circle cx="{px(spot[0])}" cy="{px(spot[1])}" r="{px(radius)}" fill="{fill}" stroke="#222" '
        f'stroke-width="1.5"><title>{escaped(told)}</title></circle>'
    )


def text_line(text: str, box: Box, anchor: str, size: int = SIZE) -> str:
    """Return a line of text in a box, from its left, about its middle or up to its right."""
    x = {"start": box.left, "middle": (box.left + box.right) / 2, "end": box.right}[anchor]
    place = f'x="{px(x)}" y="{px(box.bottom - size * DEPTH)}" text-anchor="{anchor}"'
    return f'<text {place} font-size="{size}">{escaped(text)}</text>'


def text_width(text: str) -> float:
    """Return the width of a text [px]."""
    return columns_of(text) * SIZE * COLUMN


def columns_in(length: float, size: int = SIZE) -> int:
    """Return how many columns of letters of a size have room in a length [px]."""
    return int(length / (size * COLUMN))


def px(length: float) -> str:
    """Return a length to the tenth of a pixel."""
    return f"{length:.1f}".removesuffix(".0")


def escaped(text: str) -> str:
    """Return text as it stands in XML."""
    return text.translate(ESCAPES)
