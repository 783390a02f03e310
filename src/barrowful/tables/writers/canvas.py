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
#: The sign of Unicode for a braille cell with no dot, and how many cells there are.
BRAILLE, CELLS = 0x2800, 256
Dots = tuple[tuple[int, ...], ...]


class Pen(NamedTuple):
    """What a picture is drawn with.

    A cell holds the numbers of its dots by line and column, those of an upright line and of a level
    one; each sum of them has its sign. Then the signs of the axes.
    """

    level: Dots
    upright: Dots
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
    signs=" -|+",
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
