"""A small exact solver for linear programmes: walks from corner to corner by Bland's rule."""

from __future__ import annotations

from collections.abc import Sequence

TINY = 1e-9


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
        prices = [cost[column] for column in basis]
        entering = next(
            (j for j in range(width) if j not in basis and _worth(table, cost, prices, j) > TINY), None
        )
        if entering is None:
            return sum(price * row[-1] for price, row in zip(prices, table, strict=True))
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


def _worth(table: list[list[float]], cost: list[float], prices: list[float], column: int) -> float:
    return cost[column] - sum(price * row[column] for price, row in zip(prices, table, strict=True))


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
