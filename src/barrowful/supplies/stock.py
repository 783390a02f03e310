"""What is left of a supply's lots while doses are taken from them; days are day numbers here."""

from __future__ import annotations

from bisect import bisect_left, bisect_right, insort
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator
from datetime import date
from functools import cached_property, lru_cache
from itertools import accumulate, pairwise
from math import inf
from operator import mul
from typing import Any, NamedTuple

from barrowful.measures.dates import year_after
from barrowful.soil.turnover import Turnover, passed
from barrowful.supplies.lot import Lot
from barrowful.supplies.supply import Supply

#: The lots of so many ways are kept, and of each what so many days count: settings of the machine.
MOST_KEPT, MOST_DAYS = 64, 4096
#: Years ahead that anything is looked at: a setting of the search, none of the trade.
FAR_YEARS = 60


#: What rounding may leave of a lot [m3]: a cubic millimetre is nothing to put on.
DUST = 1e-9
#: Gives the first day number, from one on, on which stuff may be put on.
Opens = Callable[[int], int]


class Sizes:
    """A carbon for each lot, or for each m3 of it: one by one, summed up, and carried on by its parts."""

    def __init__(self, of: list[float]) -> None:
        self.of = of
        self.sums = list(accumulate(of, initial=0.0))
        self.parts: dict[Turnover, list[list[float]]] = {}


class Lots:
    """Lots as they come, by day number, and what is worked out of them once for all."""

    def __init__(self, lots: Iterable[Lot], keeps: bool, until: int) -> None:
        loose: dict[int, float] = defaultdict(float)
        for lot in lots:
            loose[lot.day.toordinal()] += lot.loose
        self.days = sorted(loose)
        self.whole = [loose[day] for day in self.days]
        self.filled = [index for index, size in enumerate(self.whole) if size > 0]
        self.keeps, self.until = keeps, until
        self.yearly = all(year_after(day) <= later for day, later in pairwise(self.days))
        self.endless = all(size == inf for size in self.whole)
        self.largest = max(self.whole, default=0.0)
        self._each, self._sized = Sizes([1.0] * len(self.days)), Sizes(self.whole)
        self.most_counted = lru_cache(maxsize=MOST_DAYS)(self._most_counted)
        self.all_at_best = lru_cache(maxsize=MOST_DAYS)(self._all_at_best)
        self.least_counting = lru_cache(maxsize=MOST_DAYS)(self._least_counting)

    @cached_property
    def without_end(self) -> Lots:
        """Return lots with no end on every day on which there may be something."""
        if self.endless:
            return self
        days = self.days if self.keeps else [self.days[index] for index in self.filled]
        return Lots((Lot(date.fromordinal(day), inf) for day in days), self.keeps, self.until)

    @property
    def first(self) -> date | None:
        """Return the first day on which anything comes; None where nothing ever does."""
        return date.fromordinal(self.days[0]) if self.days else None

    def brought_by(self, day: date) -> float:
        """Return all that comes [m3] up to a day."""
        return self._sized.sums[bisect_right(self.days, day.toordinal())]

    def largest_by(self, day: int) -> float:
        """Return the largest lot [m3] that comes up to a day."""
        return max(self.whole[: bisect_right(self.days, day)], default=0.0)

    def counted(self, turnover: Turnover, by: int) -> float:
        """Return what every lot [m3] up to a day, a carbon for each m3, counts on it."""
        return self.at_most(self._sized, turnover, by, by)

    def _most_counted(self, turnover: Turnover, first: int, last: int) -> float:
        """Return no less than one carbon put on each day of a lot counts on any day from a first to a last.

        On one day it is just that. What is past its peak on the first day counts most then, and what comes
        to it after the last counts most on the last.
        """
        return self.at_most(self._each, turnover, first, last)

    def _least_counting(self, turnover: Turnover, days: tuple[int, ...]) -> int:
        """Return on which of some days one carbon put on each day of a lot counts least."""
        return min(days, key=lambda day: self.most_counted(turnover, day, day))

    def _all_at_best(self, turnover: Turnover, first: int, last: int) -> float:
        """Return no less than all lots [m3] count, a carbon for each, on any day from a first to a last.

        What keeps is put on when it counts most; what does not, on the day of its lot: that it comes to.
        """
        return self.at_most(self._sized, turnover, first, last, self.keeps)

    def at_most(self, sizes: Sizes, turnover: Turnover, first: int, last: int, keeps: bool = False) -> float:
        """Return no less than carbons put on each day of a lot count on any day from a first to a last one.

        On one day it is just that, but of what ``keeps``: that is put on when it counts most.
        """
        come = bisect_right(self.days, last)
        if first == last and not keeps:
            return self._of_first(sizes, turnover, come, last)
        peaking = bisect_right(self.days, last - turnover.peak_days)
        waiting = 0 if keeps else bisect_right(self.days, first - turnover.peak_days)
        at_most = self._of_first(sizes, turnover, waiting, first)
        at_most += (sizes.sums[peaking] - sizes.sums[waiting]) * turnover.counted_by_days[turnover.peak_days]
        if peaking < come:  # the others rise until the last day
            at_most += self._of_first(sizes, turnover, come, last)
            at_most -= self._of_first(sizes, turnover, peaking, last)
        return at_most

    def first_counted(self, turnover: Turnover, lots: int, day: int) -> float:
        """Return what one carbon put on each day of the first lots counts on a day, no earlier than these."""
        return self._of_first(self._each, turnover, lots, day)

    def _of_first(self, sizes: Sizes, turnover: Turnover, lots: int, day: int) -> float:
        """Return what the carbon put on each day of the first lots counts on a day no earlier."""
        if not lots:
            return 0.0
        parts = sizes.parts.get(turnover)
        if parts is None or len(parts) < lots:
            parts = self._followed(sizes, turnover, lots)
        left = passed(turnover, day - self.days[lots - 1])
        return sum(map(mul, parts[lots - 1], left), 0.0)

    def _followed(self, sizes: Sizes, turnover: Turnover, lots: int) -> list[list[float]]:
        """Return for each of the first lots, and maybe for more, what each part is on its day.

        It is of the carbon put on that of every lot so far.
        """
        known = sizes.parts.setdefault(turnover, [])
        amounts = turnover.counting.amounts
        parts = known[-1] if known else [0.0] * len(amounts)
        before = self.days[max(0, len(known) - 1)]
        for number in range(len(known), lots):
            day, size = self.days[number], sizes.of[number]
            shares = zip(parts, passed(turnover, day - before), amounts, strict=True)
            parts = [part * share + size * amount for part, share, amount in shares]
            known.append(parts)
            before = day
        return known


@lru_cache(maxsize=MOST_KEPT)
def lots_of(supply: Supply[Any], until: date) -> Lots:
    """Return the lots of a supply up to a day; beds asked about one by one share them."""
    return Lots(supply.lots(until), supply.keeps, until.toordinal())


class State(NamedTuple):
    """What was left of each lot, and the lots of which anything was."""

    left: list[float]
    filled: list[int]


class Stock:
    """What is left of a supply's lots while doses are taken from them."""

    def __init__(self, lots: Lots) -> None:
        self.lots, self.left, self._filled = lots, list(lots.whole), lots.filled[:]
        self._sums: list[float] | None = None
        self._up_to: tuple[float, Sizes] | None = None

    def copy(self) -> Stock:
        """Return another with the same left."""
        other = Stock(self.lots)
        other.put_back(self.state)
        return other

    def part(self, share: float) -> Stock:
        """Return another with a share of what is left of each lot."""
        other = Stock(self.lots)
        other.put_back(State([share * left for left in self.left], self._filled[:]))
        return other

    def waiting(self, opens: Opens) -> Stock:
        """Return what is left where it waits until a day is open; what does not keep is gone by then."""
        lots, days = self.lots, ((day, opens(day)) for day in self.lots.days)
        coming = (
            Lot(date.fromordinal(opened), left)
            for (day, opened), left in zip(days, self.left, strict=True)
            if opened <= lots.until and (lots.keeps or opened == day)
        )
        return Stock(Lots(coming, lots.keeps, lots.until))

    def begun_on(self, day: int, alone: bool) -> Stock:
        """Return what is there on a day, and what comes after it unless that day is ``alone``.

        Of what has no end there is as much as is asked for on any day.
        """
        lots = self.lots
        there = self.left_by(day) if lots.keeps else self._left_of(day)
        there = inf if lots.days and lots.endless else there
        coming = [] if alone else [of for of in zip(lots.days, self.left, strict=True) if of[0] > day]
        begun = [(on, left) for on, left in ((day, there), *coming) if left > 0]
        return Stock(Lots((Lot(date.fromordinal(on), left) for on, left in begun), lots.keeps, lots.until))

    def _left_of(self, day: int) -> float:
        """Return what is left [m3] of the lot of a day, nothing where none comes on it."""
        return self.left_on(day) if day in self.lots.days else 0.0

    @property
    def state(self) -> State:
        """Return what is left, to put back later."""
        return State(self.left[:], self._filled[:])

    @property
    def first_left(self) -> int:
        """Return the first lot of which anything is left."""
        return self._filled[0] if self._filled else len(self.left)

    def left_by(self, day: int) -> float:
        """Return what is left [m3] of all lots up to a day."""
        if self._sums is None:
            self._sums = list(accumulate(self.left))
        lots = bisect_right(self.lots.days, day)
        return self._sums[lots - 1] if lots else 0.0

    def nothing_by(self, day: date) -> bool:
        """Say whether nothing is left of any lot up to a day."""
        return not self._filled or self.lots.days[self._filled[0]] > day.toordinal()

    def left_on(self, day: int) -> float:
        """Return what is left [m3] of the lot of a day."""
        return self.left[bisect_left(self.lots.days, day)]

    def up_to(self, most: float) -> Sizes:
        """Return what is left [m3] of each lot by itself, up to so much."""
        if self._up_to is None or self._up_to[0] != most:
            self._up_to = most, Sizes([min(left, most) for left in self.left])
        return self._up_to[1]

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
        taken, self._sums, self._up_to = 0.0, None, None
        days, keeps, filled = self.lots.days, self.lots.keeps, self._filled
        end = last = bisect_right(filled, bisect_right(days, day) - 1)
        while last and taken < wanted and (keeps or days[filled[last - 1]] == day):
            index = filled[last - 1]
            part = min(self.left[index], wanted - taken)
            left = self.left[index] - part
            self.left[index] = left if left > DUST else 0.0
            taken += part
            last -= left <= DUST
        del filled[last:end]
        return taken

    def give_back(self, day: int, loose: float) -> None:
        """Put back [m3] what was taken on a day and is not needed, to the latest lots that lack it."""
        self._sums = self._up_to = None
        index = -1 if self.lots.endless else bisect_right(self.lots.days, day) - 1
        while loose > 0 and index >= 0 and (self.lots.keeps or self.lots.days[index] == day):
            part = min(loose, self.lots.whole[index] - self.left[index])
            if part > 0:
                self.left[index] += part
                loose -= part
                if index not in self._filled:
                    insort(self._filled, index)
            index -= 1

    def put_back(self, state: State) -> None:
        """Let it be as it was."""
        self.left, self._filled = state
        self._sums = self._up_to = None
