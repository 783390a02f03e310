"""Rows that hold anyway, by which the solver of a large programme sees sooner what is not to be had."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from math import inf
from typing import NamedTuple

from barrowful.needs.rows import Either
from barrowful.planning.solved import Effort
from barrowful.planning.solver import Programme

#: How hard is looked at a place by itself: at once, as no number is whole.
AT_ONCE = Effort(1)
#: What rounding may leave out of what is counted, as a share and by itself.
ROUNDED = 1e-6


class EitherWay(NamedTuple):
    """What holds in a manner, or else portions are not used: the columns of the manner, and of the latter."""

    either: Either
    chosen: int
    instead: int


class Alone:
    """What was added to a programme from a column and a row on, by itself and with no number whole.

    A plan keeps to these rows too: nothing in it comes to more than they let on.
    """

    def __init__(self, programme: Programme, column: int, row: int) -> None:
        self.programme, self.first, self.part = programme, column, Programme()
        for most in programme.most[column:]:
            self.part.column(most)
        for each, least, most in programme.rows[row:]:
            self.part.row({number - column: value for number, value in each.items()}, least, most)

    def most(self, each: Mapping[int, float], yes: Collection[int], no: Collection[int] = ()) -> float:
        """Return the most that columns can count in all, where some say yes and others no.

        It is without end where it is not known, and less than anything where that cannot be.
        """
        part, said = self.part, [column - self.first for column in yes]
        part.demand(said)
        costs = {column - self.first: -value for column, value in each.items()}
        solved = part.without([column - self.first for column in no], costs, AT_ONCE)
        part.demand(said, 0.0)
        self.programme.interrupted |= part.interrupted
        if not solved.found:
            return inf if solved.stopped else -inf
        return ROUNDED * (1 + abs(solved.least)) - solved.least


def add_either_way(
    every: Iterable[EitherWay], loose: Mapping[int, int], met: Collection[int], alone: Alone
) -> None:
    """Add how far rows are exceeded at the most where portions are not used, and how much of these is used.

    ``loose`` are the columns of portions, by number, and ``met`` those of needs: it is so where all are met.
    """
    for either, chosen, instead in every:
        said = sorted({chosen, *met})
        for row in either.rows:
            each = {loose[number]: value for number, value in row.each.items() if number in loose}
            own = {loose[n]: row.each[n] for n in sorted(either.without & loose.keys() & row.each.keys())}
            over, used = alone.most(each, [*said, instead]), alone.most(own, said, [instead])
            if over == -inf:
                _add_where(alone.programme, said, {instead: 1.0}, 0.0)
            elif over < inf:
                _add_where(alone.programme, said, {**each, instead: min(0.0, row.most - over)}, row.most)
            if abs(used) < inf:
                _add_where(alone.programme, said, {**own, instead: used}, used)


def _add_where(programme: Programme, said: Collection[int], each: Mapping[int, float], most: float) -> None:
    """Add that columns count so much at the most where some others all say yes; else it may be anything."""
    free = sum(max(0.0, value) * programme.most[column] for column, value in each.items())
    more = max(0.0, free - most)
    programme.row({**each, **dict.fromkeys(said, more)}, most=most + more * len(said))
