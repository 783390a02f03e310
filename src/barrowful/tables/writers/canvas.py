"""A canvas of a terminal's columns and lines: a staircase in dots or signs, and letters at points."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from datetime import date
from decimal import Decimal
from itertools import pairwise
from typing import NamedTuple

from barrowful.tables.writers.axes import Axis
from barrowful.tables.writers.chart import Corner

#: How far a letter may be from its point where another has its place, the best first [columns, lines].
BESIDE = ((1, 0), (-1, 0), (0, -1), (0, 1), (2, 0), (-2, 0), (1, -1), (1, 1), (-1, -1), (-1, 1))
#: What an axis takes [columns].
AXIS = 2
#: Every so-manieth cell of a broken line is left free.
BROKEN = 3
#: The sign of Unicode for a braille cell with no dot, and how many cells there are.
BRAILLE, CELLS = 0x2800, 256
Dots = tuple[tuple[int, ...], ...]


class Pen(NamedTuple):
    """What a picture is drawn with.

    A cell holds the numbers of its dots by line and column, those of an upright line, of a level one, of
    what is shaded and of what is solid; each sum of them has its sign. Then the signs of the axes.
    """

    level: Dots
    upright: Dots
    shaded: Dots
    solid: Dots
    signs: str
    upright_axis: str
    value_tick: str
    corner: str
    level_axis: str
    day_tick: str


#: The dots of a braille cell in the order of Unicode.
_BRAILLE_DOTS = ((0x01, 0x08), (0x02, 0x10), (0x04, 0x20), (0x40, 0x80))
BRAILLE_PEN = Pen(
    level=_BRAILLE_DOTS,
    upright=_BRAILLE_DOTS,
    shaded=((0x01, 0), (0, 0), (0, 0x20), (0, 0)),
    solid=_BRAILLE_DOTS,
    signs=" " + "".join(map(chr, range(BRAILLE + 1, BRAILLE + CELLS))),
    upright_axis="│",
    value_tick="┤",
    corner="└",
    level_axis="─",
    day_tick="┬",
)
PLAIN_PEN = Pen(
    level=((1,),),
    upright=((2,),),
    shaded=((4,),),
    solid=((8,),),
    signs=" -|+.-|+########",
    upright_axis="|",
    value_tick="+",
    corner="+",
    level_axis="-",
    day_tick="+",
)


class Canvas:
    """Cells between two axes, drawn on with a pen."""

    def __init__(self, columns: int, rows: int, pen: Pen, days: Axis, values: Axis) -> None:
        self.columns, self.rows, self.pen = columns, rows, pen
        self.days, self.values = days, values
        self._across, self._down = len(pen.level[0]), len(pen.level)
        self._cells: defaultdict[tuple[int, int], int] = defaultdict(int)
        self._letters: dict[tuple[int, int], str] = {}

    def column(self, day_number: Decimal | int) -> int:
        """Return the column of a day."""
        return self._x(day_number) // self._across

    def row(self, value: Decimal | float) -> int:
        """Return the line of a value, from the top."""
        return self._y(value) // self._down

    def _x(self, day_number: Decimal | int) -> int:
        return round(self.days.share(day_number) * (self.columns * self._across - 1))

    def _y(self, value: Decimal | float) -> int:
        return round((1 - self.values.share(value)) * (self.rows * self._down - 1))

    def draw_stairs(self, corners: Sequence[Corner]) -> None:
        """Draw a staircase from its first corner to the right edge."""
        last = self.columns * self._across - 1
        spots = [(self._x(day.toordinal()), self._y(value)) for day, value in corners]
        for (x, y), (end, below) in pairwise([*spots, *((last, y) for _, y in spots[-1:])]):
            for along in range(x, end + 1):
                self._set(along, y, self.pen.level)
            for down in range(y, below + 1 if below > y else y):
                self._set(end, down, self.pen.upright)

    def draw_line(self, spots: Sequence[tuple[date, float]]) -> None:
        """Draw a line through some values, in the order of their days."""
        for before, after in pairwise(self._corners(spots)):
            for x, y in _between(before, after):
                self._set(x, y, self.pen.level)

    def draw_band(self, low: Sequence[tuple[date, float]], high: Sequence[tuple[date, float]]) -> None:
        """Shade what lies between two lines with values on the same days."""
        edges = zip(pairwise(self._corners(low)), pairwise(self._corners(high)), strict=True)
        for under, over in edges:
            bottoms = dict(_between(*under))
            for x, y in dict(reversed(list(_between(*over)))).items():
                for down in range(y, bottoms[x] + 1):
                    self._set(x, down, self.pen.shaded)

    def draw_bar(self, first: date, last: date, value: float) -> None:
        """Draw a bar of a value from a day up to another; one that is not nought is seen."""
        left, right = self._x(first.toordinal()), self._x(last.toordinal())
        for along in range(left, max(left + 1, right)):
            for down in range(self._y(value), self._y(0.0) + 1):
                self._set(along, down, self.pen.solid)

    def draw_level(self, value: float) -> None:
        """Draw a broken level line from edge to edge."""
        for along in range(self.columns * self._across):
            if along // self._across % BROKEN:
                self._set(along, self._y(value), self.pen.level)

    def _corners(self, spots: Sequence[tuple[date, float]]) -> list[tuple[int, int]]:
        return [(self._x(day.toordinal()), self._y(value)) for day, value in spots]

    def _set(self, x: int, y: int, dots: Dots) -> None:
        self._cells[x // self._across, y // self._down] |= dots[y % self._down][x % self._across]

    def write(self, spots: Sequence[tuple[date, Decimal | float]], letters: Sequence[str]) -> None:
        """Put a letter at each point, or beside it where another has its place; what has no room is left."""
        waiting = []
        for (day, value), letter in zip(spots, letters, strict=True):
            cell = self.column(day.toordinal()), self.row(value)
            if self._letters.setdefault(cell, letter) != letter:
                waiting.append((cell, letter))
        for (column, row), letter in waiting:
            cells = ((column + right, row + down) for right, down in BESIDE)
            for free in [cell for cell in cells if self._is_free(*cell)][:1]:
                self._letters[free] = letter

    def _is_free(self, column: int, row: int) -> bool:
        within = 0 <= column < self.columns and 0 <= row < self.rows
        return within and (column, row) not in self._letters

    def lines(self) -> Iterator[str]:
        """Yield the lines from the top, each as long as there are columns."""
        for row in range(self.rows):
            cells = ((column, row) for column in range(self.columns))
            yield "".join(
                self._letters.get(cell) or self.pen.signs[self._cells.get(cell, 0)] for cell in cells
            )


def _between(start: tuple[int, int], end: tuple[int, int]) -> Iterator[tuple[int, int]]:
    """Yield the dots of a straight line from one to another, none of them apart from the next."""
    (x, y), (right, bottom) = start, end
    steps = max(abs(right - x), abs(bottom - y))
    for step in range(steps + 1):
        share = step / steps if steps else 0.0
        yield round(x + share * (right - x)), round(y + share * (bottom - y))


def foot(canvas: Canvas, left: int, pen: Pen) -> Iterator[str]:
    """Yield the axis of days with its ticks, and their labels."""
    marks = [pen.level_axis] * canvas.columns
    labels = ""
    for tick in canvas.days.ticks:
        column = canvas.column(tick.at)
        marks[column] = pen.day_tick
        labels = labels.ljust(left + AXIS + column - len(tick.label) // 2) + tick.label
    yield " " * (left + 1) + pen.corner + "".join(marks)
    yield labels
