"""Small exact solvers for linear programmes: each walks from corner to corner."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import inf
from operator import mul

TINY = 1e-9
#: What rounding may leave an unknown below nothing, or beyond its most.
ROUNDING = 1e-12


class NoAnswer(ValueError):
    """The programme has no feasible point, or no largest one."""


def maximise(gain: Sequence[float], rows: Sequence[Sequence[float]], limits: Sequence[float]) -> list[float]:
    """Return x >= 0 with the largest gain . x where each row . x <= its limit.

    Limits may be negative. A first climb looks for a corner that keeps to every limit, a second for the
    best one; of several columns the first that helps is taken, so that no corner comes round again.
    Raises :class:`NoAnswer` when nothing fits or the gain has no bound.
    A textbook method; needs no source.

    >>> maximise([3, 2], [[1, 1], [1, 0]], [4, 3])
    [3.0, 1.0]
    """
    table, basis = _tableau(rows, limits)
    width = len(gain) + len(rows)
    artificial = [column for column in basis if column >= width]
    if artificial:
        cost = [0.0] * width + [-1.0] * len(artificial)
        if _climb(table, basis, cost) < -1e-7 * max(1.0, *(abs(limit) for limit in limits)):
            raise NoAnswer("nothing meets all the limits")
        _drive_out(table, basis, width)
    _climb(table, basis, [*gain, *[0.0] * (len(rows) + len(artificial))], width)
    answer = [0.0] * width
    for row, column in zip(table, basis, strict=True):
        if column < width:
            answer[column] = max(0.0, row[-1])  # what rounding took below nothing
    return answer[: len(gain)]


def _tableau(rows: Sequence[Sequence[float]], limits: Sequence[float]) -> tuple[list[list[float]], list[int]]:
    """Return the starting tableau with slacks, and artificials where a limit is negative."""
    count, width = len(rows), len(rows[0]) + len(rows) if rows else 0
    negative = [index for index, limit in enumerate(limits) if limit < 0]
    table, basis = [], []
    for index, (row, limit) in enumerate(zip(rows, limits, strict=True)):
        sign = -1.0 if limit < 0 else 1.0
        slack = [sign if other == index else 0.0 for other in range(count)]
        extra = [1.0 if other == index else 0.0 for other in negative]
        table.append([*(sign * value for value in row), *slack, *extra, sign * limit])
        basis.append(width + negative.index(index) if limit < 0 else len(row) + index)
    return table, basis


def _climb(table: list[list[float]], basis: list[int], cost: list[float], width: int | None = None) -> float:
    """Pivot until no column of the first ``width`` improves the cost; return the cost reached."""
    width = len(table[0]) - 1 if width is None else width
    while True:
        priced = [(cost[column], row) for column, row in zip(basis, table, strict=True) if cost[column]]
        entering = next((j for j in range(width) if j not in basis and _worth(cost, priced, j) > TINY), None)
        if entering is None:
            return sum(price * row[-1] for price, row in priced)
        ratios = [
            (row[-1] / row[entering], basis[index], index)
            for index, row in enumerate(table)
            if row[entering] > TINY
        ]
        if not ratios:
            raise NoAnswer("the gain has no bound")
        least = min(ratios)[0]
        leaving = min((column, index) for ratio, column, index in ratios if ratio <= least + TINY)[1]
        _pivot(table, basis, leaving, entering)


def _worth(cost: list[float], priced: list[tuple[float, list[float]]], column: int) -> float:
    return cost[column] - sum(price * row[column] for price, row in priced)


def _pivot(table: list[list[float]], basis: list[int], leaving: int, entering: int) -> None:
    scale = table[leaving][entering]
    table[leaving] = [value / scale for value in table[leaving]]
    for index, row in enumerate(table):
        if index != leaving and row[entering] != 0.0:
            factor = row[entering]
            table[index] = [value - factor * pivot for value, pivot in zip(row, table[leaving], strict=True)]
    basis[leaving] = entering


def _drive_out(table: list[list[float]], basis: list[int], width: int) -> None:
    """Swap artificial columns left in the basis at zero for real ones, or blank their rows."""
    for index, column in enumerate(basis):
        if column >= width:
            entering = next((j for j in range(width) if abs(table[index][j]) > TINY), None)
            if entering is not None:
                _pivot(table, basis, index, entering)


#: Steps of one programme at most: more of them means that it goes round in circles.
MOST_STEPS = 2_000
#: Stands in a column for what a row has too much.
SURPLUS = -1
#: A row of coefficients, and what it must come to at least.
AtLeast = tuple[Sequence[float], float]


def least_of(cost: Sequence[float], most: Sequence[float], rows: Sequence[AtLeast]) -> list[float]:
    """Return x from 0 to the most of each, of the least cost . x, with every row . x >= its least.

    Rows are to come to about one. Raises :class:`NoAnswer` when nothing keeps to them.
    A textbook method; needs no source.

    >>> least_of([3, 1], [10, 10], [([1, 1], 4), ([1, 0], 1)])
    [1.0, 3.0]
    """

    def broken(x: list[float]) -> AtLeast | None:
        over = [sum(map(mul, row, x)) - at_least for row, at_least in rows]
        worst = min(over, default=0.0)
        return rows[over.index(worst)] if worst < -TINY else None

    return Corner(cost, most).walked(broken)


#: A row that asks for more where more is wanted: so much more of it for each unit.
Growing = tuple[Sequence[float], float, float]
#: What an unknown, or what a row has too much, comes to: a factor for each column, and last its value where
#: the columns are nothing, after what that changes for each unit that growing rows ask for more.
Row = list[float]


class Corner:
    """A corner: each unknown is nothing or its most, and stands in a column, or is a row over the columns.

    What is at its most is told as how far it is below that, so that each column is nothing here.
    """

    def __init__(self, cost: Sequence[float], most: Sequence[float]) -> None:
        self.most, self.flipped = list(most), [False] * len(most)
        self.cost: Row = [*map(float, cost), 0.0, 0.0]
        self.columns = list(range(len(most)))
        self.rows: dict[int, Row] = {}
        self.leaving = SURPLUS

    def walked(self, broken: Callable[[list[float]], AtLeast | Growing | None]) -> list[float]:
        """Return unknowns of the least cost that keep to rows, each from 0 to its most; stand there.

        ``broken`` gives the row that they break most, or None when they keep to all: a row that never matters
        is never looked at. Costs are not below nothing. The walk goes over corners that nothing beats, by the
        dual simplex method. Raises :class:`NoAnswer` when nothing keeps to the rows.
        A textbook method; needs no source.

        >>> Corner([1, 1], [1, 9]).walked(lambda x: ([2, 1], 4) if 2 * x[0] + x[1] < 4 else None)
        [1.0, 2.0]
        """
        for _ in range(MOST_STEPS):
            row = self.out_of_range()
            if row is None:
                answer = self.answer()
                asked = broken(answer)
                if asked is None:
                    return answer
                row = self.row_of(*asked)
            self.step(row)
        raise NoAnswer("no corner is the last")

    def asked(self, more: float, most: Sequence[float]) -> Corner:
        """Return the corner where growing rows ask for so many units more, to be walked from.

        Each unknown has its most; those at their most here are to have the same.

        >>> unit = Corner([1, 1], [inf, inf])
        >>> unit.walked(lambda x: ([2, 1], 1, 1) if 2 * x[0] + x[1] < 1 else None)
        [0.5, 0.0]
        >>> unit.asked(3, [1, 9]).walked(lambda x: None)
        [1.0, 2.0]
        """
        corner = Corner((), most)
        corner.cost, corner.columns = self.cost.copy(), self.columns.copy()
        corner.flipped = self.flipped.copy()
        for unknown, row in self.rows.items():
            corner.rows[unknown] = moved = row.copy()
            moved[-1] += more * row[-2]
        return corner

    def bar(self, unknown: int) -> None:
        """Let an unknown be nothing from here on; the corner is to be walked on from.

        >>> corner = Corner([1, 2], [3.0, 9.0])
        >>> corner.walked(lambda x: ([1, 1], 4) if x[0] + x[1] < 4 else None)
        [3.0, 1.0]
        >>> corner.bar(0)
        >>> corner.walked(lambda x: None)
        [0.0, 4.0]
        """
        if self.flipped[unknown]:  # it was told by how far it is below its most
            most = self.most[unknown]
            if unknown in self.rows:
                self.rows[unknown][-1] -= most
            else:
                column = self.columns.index(unknown)
                for row in (self.cost, *self.rows.values()):
                    row[-1] += row[column] * most
        self.most[unknown] = 0.0

    def answer(self) -> list[float]:
        """Return the unknowns."""
        told = [0.0] * len(self.most)
        for unknown, row in self.rows.items():
            value, most = row[-1], self.most[unknown]
            told[unknown] = most if value > most else max(0.0, value)
        return [
            most - each if flipped else each
            for each, most, flipped in zip(told, self.most, self.flipped, strict=True)
        ]

    def out_of_range(self) -> Row | None:
        """Take out and return the row of an unknown out of range, told from the end it is beyond, or None."""
        for unknown, row in self.rows.items():
            if row[-1] > self.most[unknown] + ROUNDING:
                self.flipped[unknown] = not self.flipped[unknown]
                self.rows[unknown] = row = [-each for each in row]
                row[-1] += self.most[unknown]
            if row[-1] < -ROUNDING:
                self.leaving = unknown
                return self.rows.pop(unknown)
        return None

    def row_of(self, asked: Sequence[float], at_least: float, grows: float = 0.0) -> Row:
        """Return what a row of the unknowns has too much, over the columns."""
        self.leaving = SURPLUS
        told = [-each if flipped else each for each, flipped in zip(asked, self.flipped, strict=True)]
        at_most = [
            each * most for each, most, flipped in zip(asked, self.most, self.flipped, strict=True) if flipped
        ]
        much = [told[unknown] if unknown != SURPLUS else 0.0 for unknown in self.columns]
        much += [-grows, sum(at_most) - at_least]
        for unknown, row in self.rows.items():
            factor = told[unknown]
            if factor:
                much = [own + factor * more for own, more in zip(much, row, strict=True)]
        return much

    def step(self, row: Row) -> None:
        """Bring a row from below to nothing at the least cost.

        What costs least for it rises first, to its most where that does not do.
        """
        lacking = -row[-1]
        ratios = [
            (cost / factor, column)
            for column, (cost, factor) in enumerate(zip(self.cost[:-2], row, strict=False))
            if factor > TINY
        ]
        for _, column in sorted(ratios):
            lacking -= row[column] * self._most_of(column)
            if lacking <= ROUNDING * row[column]:  # beyond its most by what rounding leaves at the most
                self._rise(column, row)
                return
            self._flip(column, row)
        raise NoAnswer("nothing keeps to all the rows")

    def _most_of(self, column: int) -> float:
        unknown = self.columns[column]
        return inf if unknown == SURPLUS else self.most[unknown]

    def _flip(self, column: int, row: Row) -> None:
        """Let a column be told from its other end, in a row and in all others."""
        unknown = self.columns[column]
        self.flipped[unknown] = not self.flipped[unknown]
        for told in (self.cost, row, *self.rows.values()):
            told[-1] += told[column] * self.most[unknown]
            told[column] = -told[column]

    @staticmethod
    def _put_in(row: Row, column: int, other: Row) -> Row:
        """Return a row with what a column has become put in for it."""
        factor = row[column]
        made = [own + factor * more for own, more in zip(row, other, strict=True)]
        made[column] = factor * other[column]
        return made

    def _rise(self, column: int, row: Row) -> None:
        """Let a column rise until a row is nothing, and take its place."""
        scale = row[column]
        risen = [-each / scale for each in row]
        risen[column] = 1 / scale
        self.cost = [each if each > 0.0 else 0.0 for each in self._put_in(self.cost, column, risen)]
        for unknown, own in self.rows.items():
            if own[column]:
                self.rows[unknown] = self._put_in(own, column, risen)
        entering, self.columns[column] = self.columns[column], self.leaving
        if entering != SURPLUS:
            self.rows[entering] = risen
