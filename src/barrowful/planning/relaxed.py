"""A programme in which no number need be whole, within bounds: which whole numbers may be below a cost."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from math import ceil, floor, inf
from typing import Any

from barrowful.planning.columns import TOLERANCE
from barrowful.planning.engine import least_known

#: Of some columns, what each is at least and at most.
Part = Mapping[int, tuple[float, float]]
#: Of some columns, the least and the most they were seen to be below the limit.
Seen = dict[int, tuple[float, float]]
#: How far from what a column is it is looked at first: a setting of the search.
FAR = 64


class Relaxed:
    """The bounds of columns, narrowed where costs would come to a limit or over it.

    It is used in a ``with`` statement: the solver is given back as it was.
    """

    def __init__(self, engine: Any, limit: float) -> None:
        self._engine, self.limit = engine, limit
        problem = engine.getLp()
        self.least, self.most = list(problem.col_lower_), list(problem.col_upper_)
        self._before = (tuple(self.least), tuple(self.most))

    def __enter__(self) -> Relaxed:
        self._engine.setOptionValue("solve_relaxation", True)
        self._engine.setOptionValue("objective_bound", self.limit)
        return self

    def __exit__(self, *_: object) -> None:
        least, most = self._before
        self.bound({column: (least[column], most[column]) for column in self._changed()})
        self._engine.setOptionValue("solve_relaxation", False)
        self._engine.setOptionValue("objective_bound", inf)
        self._engine.clearSolver()

    def _changed(self) -> list[int]:
        least, most = self._before
        pairs = zip(self.least, self.most, least, most, strict=True)
        return [column for column, (low, high, *before) in enumerate(pairs) if [low, high] != before]

    def part(self) -> Part:
        """Return the bounds that are other than they were."""
        return {column: (self.least[column], self.most[column]) for column in self._changed()}

    def bound(self, part: Part) -> None:
        """Bound columns so from now on."""
        for column, (least, most) in part.items():
            self.least[column], self.most[column] = least, most
            self._engine.changeColBounds(column, least, most)

    def cost(self) -> float:
        """Return what costs come to at least: infinite where that is the limit or more, or nothing does."""
        self._engine.run()
        cost = least_known(self._engine)
        return cost if cost < self.limit else inf

    def values(self) -> Sequence[float]:
        """Return the values last looked at."""
        return list(self._engine.getSolution().col_value)

    def cost_of(self, part: Part, seen: Seen) -> float:
        """Return what costs come to at least with columns bounded so, and let them be as they were.

        What some columns are then is noted as ``seen``.
        """
        for column, (least, most) in part.items():
            self._engine.changeColBounds(column, least, most)
        cost = self.cost()
        if cost < inf:
            self._note(seen)
        for column in part:
            self._engine.changeColBounds(column, self.least[column], self.most[column])
        return cost

    def narrow(self, columns: Collection[int]) -> None:
        """Leave out of each column's whole numbers those that cost too much."""
        cost, found = self.cost(), self._engine.getSolution()
        values, dearer = list(found.col_value), list(found.col_dual)
        seen = {column: (values[column], values[column]) for column in columns}
        for column in columns if cost < inf else ():
            value, alone = values[column], cost + abs(dearer[column]) >= self.limit
            if self.least[column] == self.most[column]:
                continue
            if alone and abs(value - round(value)) < TOLERANCE:  # one more or less is too dear by itself
                self.bound({column: (round(value), round(value))})
                continue
            most = self._farthest(column, self.most[column], 1, seen)
            least = self._farthest(column, self.least[column], -1, seen)
            self.bound({column: (min(least, most), max(least, most))})

    def _farthest(self, column: int, far: float, way: int, seen: Seen) -> float:
        """Return the whole number farthest from what was seen that may be, and no farther than a far one.

        Where it is far away the far one is returned. What comes to light of other columns is noted.
        """
        least, most = seen[column]
        near = float(floor(most + TOLERANCE) if way > 0 else ceil(least - TOLERANCE))
        step, too_far = way, inf
        while near != far and abs(step) <= FAR and abs(too_far - near) > 1:
            if too_far == inf:
                tried = min(near + step, far) if way > 0 else max(near + step, far)
                step *= 2
            else:
                tried = (near + too_far) // 2
            if self.cost_of({column: (tried, far) if way > 0 else (far, tried)}, seen) == inf:
                too_far = tried
            else:
                near = tried
        return near if near == far or too_far < inf else far

    def _note(self, seen: Seen) -> None:
        """Note what columns are in what was last looked at."""
        values = self.values()
        for column, (least, most) in seen.items():
            value = values[column]
            if not least <= value <= most:
                seen[column] = (min(least, value), max(most, value))
