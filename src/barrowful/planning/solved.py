"""How hard the solver is to look, and what it finds."""

from __future__ import annotations

from typing import NamedTuple

from barrowful.measures.fixed import fixed


class Effort(NamedTuple):
    """How hard to look: nodes at most, and the share from the best at which to stop."""

    nodes: int
    gap: float = 0.0
    guesses: bool = False  #: is it tried what values are near to those at which no number is whole?


@fixed(kw_only=False, eq=True)
class Solved:
    """What is least and with which values, and the least that it could be at all; no values where none do."""

    values: tuple[float, ...]
    least: float
    bound: float
    stopped: bool  #: by the limit on nodes, or by the grower, before it was proven?
    nodes: int = 0  #: that were looked at

    @property
    def found(self) -> bool:
        """Say whether there is an answer at all."""
        return bool(self.values)

    def says_yes(self, column: int) -> bool:
        """Say whether a column that is yes or no is a yes."""
        return round(self.values[column]) == 1
