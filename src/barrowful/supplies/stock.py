"""What is left of a supply's lots while doses are taken from them; days are day numbers here."""

from __future__ import annotations

from bisect import bisect_right
from collections import defaultdict
from collections.abc import Iterator
from datetime import date
from functools import lru_cache
from itertools import accumulate
from math import inf
from operator import mul
from typing import Any

from barrowful.measures.dates import DAYS_PER_YEAR
from barrowful.soil.turnover import Turnover
from barrowful.supplies.supply import Supply

#: The lots of so many ways are kept, and of each what so many days count: settings of the machine.
MOST_KEPT, MOST_DAYS = 64, 4096


class Lots:
    """A supply's lots as they come, by day number, and what is worked out of them once for all."""

    def __init__(self, supply: Supply[Any], until: date) -> None:
        loose: dict[int, float] = defaultdict(float)
        for lot in supply.lots(until):
            loose[lot.day.toordinal()] += lot.loose
        self.days = sorted(loose)
        self.whole = [loose[day] for day in self.days]
        self.keeps, self.until = supply.keeps, until.toordinal()
        self.endless = all(size == inf for size in self.whole)
        self._known: dict[Turnover, list[list[float]]] = {}
        self.most_counted = lru_cache(maxsize=MOST_DAYS)(self._most_counted)

    def counted(self, turnover: Turnover, by: int) -> float:
        """Return what every lot [m3] up to a day, a carbon for each m3, counts on it."""
        of = turnover.counted_by_days
        return float(sum(size * of[by - day] for day, size in zip(self.days, self.whole, strict=True)))

    def _most_counted(self, turnover: Turnover, first: int, last: int) -> float:
        """Return no less than one carbon put on each day of a lot counts on any day from a first to a last.

        On one day it is just that. What is past its peak on the first day counts most then, and what comes
        to it after the last counts most on the last.
        """
        falling = bisect_right(self.days, first - turnover.peak_days)
        peaking = bisect_right(self.days, last - turnover.peak_days)
        rising = self._of_first(turnover, bisect_right(self.days, last), last)
        return (
            self._of_first(turnover, falling, first)
            + (peaking - falling) * turnover.counted_by_days[turnover.peak_days]
            + (rising - self._of_first(turnover, peaking, last))
        )

    def _of_first(self, turnover: Turnover, lots: int, day: int) -> float:
        """Return what one carbon put on each day of the first lots counts on a day no earlier."""
        if not lots:
            return 0.0
        parts = self._parts(turnover)[lots - 1]
        left = turnover.counting.passed((day - self.days[lots - 1]) / DAYS_PER_YEAR)
        return float(sum(map(mul, parts, left)))

    def _parts(self, turnover: Turnover) -> list[list[float]]:
        """Return for each lot what each part is on its day of one carbon put on that of every lot so far."""
        known = self._known.get(turnover)
        if known is None:
            amounts, passed = turnover.counting.amounts, lru_cache(turnover.counting.passed)
            known, parts, before = [], [0.0] * len(amounts), self.days[0]
            for day in self.days:
                left = passed((day - before) / DAYS_PER_YEAR)
                parts = [
                    part * share + amount for part, share, amount in zip(parts, left, amounts, strict=True)
                ]
                known.append(parts)
                before = day
            self._known[turnover] = known
        return known


@lru_cache(maxsize=MOST_KEPT)
def lots_of(supply: Supply[Any], until: date) -> Lots:
    """Return the lots of a supply up to a day; beds asked about one by one share them."""
    return Lots(supply, until)


class Stock:
    """What is left of a supply's lots while doses are taken from them."""

    def __init__(self, lots: Lots) -> None:
        self.lots, self.left, self.first_left = lots, list(lots.whole), 0
        self._sums: list[float] | None = None

    def left_by(self, day: int) -> float:
        """Return what is left [m3] of all lots up to a day."""
        if self._sums is None:
            self._sums = list(accumulate(self.left))
        lots = bisect_right(self.lots.days, day)
        return self._sums[lots - 1] if lots else 0.0

    def best_first(self, turnover: Turnover, first: int, last: int) -> Iterator[tuple[float, int]]:
        """Yield the days of lots, with the most that one carbon put on counts from a first to a last day.

        The best come first. What counts rises with age up to a peak and falls from there: the best are next
        to it on both sides.
        """
        counts, days, start = turnover.most_counted, self.lots.days, self.first_left
        newer = bisect_right(days, last - turnover.peak_days)
        older, end = newer - 1, bisect_right(days, last)
        newer = max(newer, start)
        while older >= start or newer < end:
            before = counts(first - days[older], last - days[older]) if older >= start else -1.0
            after = counts(first - days[newer], last - days[newer]) if newer < end else -1.0
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
        taken, self._sums, first = 0.0, None, self.first_left
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

    def put_back(self, left: list[float], first: int) -> None:
        """Let it be as it was when so much was left of each lot, and of none before the first."""
        self.left, self.first_left, self._sums = left, first, None
