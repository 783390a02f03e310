"""Stuff without end: the first day on which it can come to what is wanted, by when it comes to most.

Days are day numbers here. What is asked for is what one carbon comes to that is put on each day of a lot.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from functools import lru_cache, partial
from itertools import pairwise

from barrowful.soil.turnover import Turnover
from barrowful.supplies.stock import Lots

#: The peaks of so many turnovers are kept: a setting of the machine.
KEPT = 1024


def first_counting(lots: Lots, turnover: Turnover, wanted: float, first: int) -> int | None:
    """Return the first day from one on, on which it comes to what is wanted, or None."""
    before = max(0, bisect_right(lots.days, first) - 1)
    for number, (peak, most) in enumerate(peaks(lots, turnover)[before:], before):
        if most >= wanted:
            begin, counts = max(first, lots.days[number]), partial(lots.first_counted, turnover, number + 1)
            day = bisect_left(range(peak), wanted, begin, max(begin, peak), key=counts)
            if counts(day) >= wanted:  # else its peak was before the first day
                return day
    return None


@lru_cache(maxsize=KEPT)
def peaks(lots: Lots, turnover: Turnover) -> list[tuple[int, float]]:
    """Return the day from each lot to the next on which it comes to most, and to how much.

    It rises up to that day and falls from it, as one carbon does. That is as long after the lot as after the
    one before, or a little less or more.
    """
    found, since = list[tuple[int, float]](), turnover.peak_days
    for number, (lot, then) in enumerate(pairwise([*lots.days, lots.until + 1]), 1):
        counts, day = partial(lots.first_counted, turnover, number), min(lot + since, then - 1)
        while day > lot and counts(day - 1) >= counts(day):
            day -= 1
        while day + 1 < then and counts(day + 1) > counts(day):
            day += 1
        found.append((day, counts(day)))
        since = day - lot
    return found
