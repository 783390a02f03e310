"""Columns and rows: what a programme decides, and what is asked of it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from math import inf

#: What a column or row must have gained or lost to count: a setting of the solver.
TOLERANCE = 1e-7
#: What is less than this share of the largest in a row is rounding, and nothing.
SPECK = 1e-12

#: What each of its columns counts in a row, and what it is to be at least and at most in all.
Line = tuple[dict[int, float], float, float]


class Columns:
    """The columns and rows of a programme, added one by one."""

    def __init__(self) -> None:
        self.most: list[float] = []
        self.whole: list[bool] = []
        #: Columns that are yes or no only once money is settled, with those of which any makes it a yes.
        self.waiting: dict[int, list[int]] = {}
        #: Columns of how many trips or steps there are in all, with the columns of which.
        self.in_all: dict[int, tuple[int, ...]] = {}
        self.rows: list[Line] = []
        #: Of columns of which one is yes, what is whole behind each, and how that counts.
        self.one_of_some: dict[int, dict[int, float]] = {}

    def column(self, most: float = inf, whole: bool = False) -> int:
        """Add a column from nothing to a most, and return its number."""
        self.most.append(most)
        self.whole.append(whole)
        return len(self.most) - 1

    def yes(self) -> int:
        """Add a column that is yes or no, and return its number."""
        return self.column(1.0, whole=True)

    def waits(self, because: Sequence[int] = ()) -> int:
        """Add a column that is yes or no only once it is decided: yes where there is any of some others."""
        column = self.column(1.0)
        self.waiting[column] = list(because)
        return column

    def one_of(self, number: int, whether: int) -> list[int]:
        """Add columns of which one is yes where another is, and return their numbers.

        What has to be whole is whether the one is among the first so many, and rows ask for that in place of
        a column: of columns in order the solver rules out many at once.
        """
        if number == 1:
            return [whether]
        columns, before = list[int](), dict[int, float]()
        for left in reversed(range(number)):
            column, up_to = self.column(1.0), self.yes() if left else whether
            whole = {up_to: 1.0, **before}
            self.row({column: -1.0, **whole}, least=0.0, most=0.0)
            self.one_of_some[column], before = whole, {up_to: -1.0}
            columns.append(column)
        return columns

    def _whole(self, each: Mapping[int, float]) -> Mapping[int, float]:
        """Return what columns count, that of those of which one is yes as that of what is whole behind it."""
        if self.one_of_some.keys().isdisjoint(each):
            return each
        counted: dict[int, float] = defaultdict(float)
        for column, value in each.items():
            for whole, share in self.one_of_some.get(column, {column: 1.0}).items():
                counted[whole] += value * share
        return counted

    def row(self, each: Mapping[int, float], least: float = -inf, most: float = inf) -> None:
        """Add a row: what each of its columns counts is to be at least, and at most, so much in all."""
        entries = {column: value for column, value in self._whole(each).items() if value}
        size = max((abs(value) for value in entries.values()), default=0.0)
        if not entries:
            if least > TOLERANCE or most < -TOLERANCE:
                entries, size = {self.column(0.0): 1.0}, 1.0  # nothing can meet it
            else:
                return
        scale = 1 / size
        scaled = {column: value * scale for column, value in entries.items() if abs(value) > SPECK * size}
        self.rows.append((scaled, least * scale, most * scale))
