"""What is left of a supply's lots while doses are taken from them; days are day numbers here."""

from __future__ import annotations

from bisect import bisect_right
from collections import defaultdict
from collections.abc import Iterator
from datetime import date
from functools import cached_property, lru_cache
from itertools import accumulate, repeat
from math import inf
from typing import Any, NamedTuple

from barrowful.soil.turnover import Turnover
from barrowful.supplies.supply import Supply

#: The lots of so many ways are kept: a setting of the machine.
MOST_KEPT = 64

#: One day of the year through the years.
Returns = tuple[int, ...]


class Lots:
    """A supply's lots as they come, by day number, and what is worked out of them once for all."""

    def __init__(self, supply: Supply[Any], until: date) -> None:
        loose: dict[int, float] = defaultdict(float)
        for lot in supply.lots(until):
            loose[lot.day.toordinal()] += lot.loose
        self.days = sorted(loose)
        self.whole = [loose[day] for day in self.days]
        self.keeps, self.until = supply.keeps, until.toordinal()
        self.largest = max(self.whole, default=0.0)
        self.endless = all(size == inf for size in self.whole)
        self._counted: dict[tuple[Turnover, int, bool], float] = {}
        self._at_best: dict[tuple[Turnover, int], float] = {}

    @cached_property
    def returns(self) -> list[Returns]:
        """Return the days of lots, those of one day of the year together."""
        days = defaultdict(list)
        for number in self.days:
            day = date.fromordinal(number)
            days[day.month, day.day].append(number)
        return list(map(tuple, days.values()))

    def counted(self, turnover: Turnover, by: int, weighed: bool = False) -> float:
        """Return what one carbon put on each day of a lot up to a day counts on it, all together.

        ``weighed`` by the whole lots [m3], one carbon for each m3.
        """
        known = self._counted.get((turnover, by, weighed))
        if known is None:
            of, days = turnover.counted_by_days, self.days[: bisect_right(self.days, by)]
            sizes = self.whole if weighed else repeat(1.0)
            known = sum(size * of[by - day] for day, size in zip(days, sizes, strict=False))
            self._counted[turnover, by, weighed] = known
        return known

    def at_best(self, turnover: Turnover, by: int) -> float:
        """Return what every lot [m3], a carbon for each, counts on a day if used when that is best for it."""
        known = self._at_best.get((turnover, by))
        if known is None:
            of, known, best = turnover.counted_by_days, 0.0, 0.0
            for index in range(bisect_right(self.days, by) - 1, -1, -1):
                counts = of[by - self.days[index]]
                best = max(best, counts) if self.keeps else counts
                known += self.whole[index] * best
            self._at_best[turnover, by] = known
        return known


@lru_cache(maxsize=MOST_KEPT)
def lots_of(supply: Supply[Any], until: date) -> Lots:
    """Return the lots of a supply up to a day; beds asked about one by one share them."""
    return Lots(supply, until)


class State(NamedTuple):
    """What was left of each lot, the first of which anything was, and whether nothing was taken yet."""

    left: list[float]
    first_left: int
    untouched: bool


class Stock:
    """What is left of a supply's lots while doses are taken from them."""

    def __init__(self, lots: Lots) -> None:
        self.lots, self.left, self.first_left, self.untouched = lots, list(lots.whole), 0, True
        self._sums: list[float] | None = None

    @property
    def state(self) -> State:
        """Return what is left, to put back later."""
        return State(self.left[:], self.first_left, self.untouched)

    def left_by(self, day: int) -> float:
        """Return what is left [m3] of all lots up to a day."""
        if self._sums is None:
            self._sums = list(accumulate(self.left))
        lots = bisect_right(self.lots.days, day)
        return self._sums[lots - 1] if lots else 0.0

    def best_first(self, turnover: Turnover, by: int) -> Iterator[tuple[float, int]]:
        """Yield the days of lots up to a day, with what one carbon put on counts on it, the best first.

        What counts rises with age up to a peak and falls from there: the best are next to it on both sides.
        """
        counted, days = turnover.counted_by_days, self.lots.days
        newer = bisect_right(days, by - turnover.peak_days)
        older, end, first = newer - 1, bisect_right(days, by), self.first_left
        newer = max(newer, first)
        while older >= first or newer < end:
            before = counted[by - days[older]] if older >= first else -1.0
            after = counted[by - days[newer]] if newer < end else -1.0
            if after >= before:
                yield after, days[newer]
                newer += 1
            else:
                yield before, days[older]
                older -= 1

    def take(self, day: int, wanted: float) -> float:
        """Take up to ``wanted`` [m3] on a day, from the latest lots first, and return what came.

        Taking the latest first leaves the early lots to early doses, which is what makes filling
        doses in order of worth give the least total.
        """
        taken, self._sums, self.untouched, first = 0.0, None, False, self.first_left
        days, keeps = self.lots.days, self.lots.keeps
        for index in range(bisect_right(days, day) - 1, first - 1, -1):
            if taken >= wanted or (days[index] < day and not keeps):
                break
            part = min(self.left[index], wanted - taken)
            self.left[index] -= part
            taken += part
        while first < len(self.left) and self.left[first] <= 0:
            first += 1
        self.first_left = first
        return taken

    def put_back(self, state: State) -> None:
        """Let it be as it was."""
        self.left, self.first_left, self.untouched = state
        self._sums = None
