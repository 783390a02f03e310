"""The days from which a raise holds: the first that one too late can be held from, and when one is ready.

Days are day numbers here.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator
from heapq import merge

from barrowful.measures.dates import DAYS_PER_YEAR
from barrowful.needs.raise_search import LOOKS, NEAR, first_day, held_doses, months_between, most_there_can_be
from barrowful.needs.raise_swaps import FEW_LOTS
from barrowful.needs.raise_task import Pulses, RaiseTask
from barrowful.soil.turnover import Turnover
from barrowful.supplies.stock import Stock

#: How many first days are tried: after a few it is asked whether any can do, after many the steps grow.
FEW_TRIES, MANY_TRIES, MOST_TRIES = 3, 20, 80


def first_held(task: RaiseTask, by: int, stock: Stock, area: float) -> tuple[int, Pulses] | None:
    """Return the first day after ``by`` from which the task can be held, and the least doses, or None.

    A day on which nothing would do rules out all that would have it among those it is held on. Where that
    does not lead far, days further and further on are tried.
    """
    if not stock.lots.endless and not task.alone(stock):
        return _as_they_come(task, by, stock, area)
    for tries in range(MOST_TRIES):
        day = first_day(task, by, stock, area)
        if day is None or (tries == FEW_TRIES and not _ever_held(task, stock, area, day)):
            return None
        held = held_doses(task, day, stock, area, quick=_many(stock, day))
        if held.doses is not None:
            return day, held.doses
        by = max(day, held.fails_on, day + LOOKS // 2 * (tries - MANY_TRIES))
    return None


def _as_they_come(task: RaiseTask, by: int, stock: Stock, area: float) -> tuple[int, Pulses] | None:
    """Return the first of a month from which lots put on as they come hold the task, and least doses.

    So it is where ceilings bind lots that come more than once in twelve months.
    """
    before, all_there_is = stock.state, list[tuple[int, float]]()
    for lot in stock.lots.days:
        near = all_there_is[-LOOKS:] if task.room.alike else all_there_is
        most = min(task.most, task.room.left(lot, near))
        taken = stock.take(lot, most * area) / area if most > 0 else 0.0
        if taken > 0:
            all_there_is.append((lot, taken))
    stock.put_back(before)
    for day in _held_from(task, by, stock.lots.until, all_there_is):
        held = held_doses(task, day, stock, area, quick=_many(stock, day))
        if held.doses is not None:
            return day, held.doses
    return None


def _held_from(task: RaiseTask, by: int, until: int, doses: Pulses) -> Iterator[int]:
    """Yield the firsts of months, after a day, from which doses hold the task; the next after as many."""
    looked_at = months_between(by, until)
    course = Coming(task.turnover, doses, task.per_loose)
    enough = [course.on(day) >= task.missing(day) * (1 - NEAR) for day in looked_at]
    months, since = len(months_between(by, task.held_to(by))) + 1, 0
    for index, is_enough in enumerate(enough):
        since = since + 1 if is_enough else 0
        if since == months or (since and index == len(enough) - 1):
            yield looked_at[index - since + 1]
            since = 0


class Coming:
    """What doses [loose m] come to [kg C/m2], asked for on one day after another."""

    def __init__(self, turnover: Turnover, doses: Pulses, per_loose: float) -> None:
        self.amounts, self.passed = turnover.counting.amounts, turnover.counting.passed
        self.coming, self.per_loose = sorted(doses, reverse=True), per_loose
        self.parts, self.day = [0.0] * len(self.amounts), 0

    def on(self, day: int) -> float:
        """Return what has become of all doses by a day, no earlier than the last one asked for."""
        while self.coming and self.coming[-1][0] <= day:
            put_on, loose = self.coming.pop()
            self._carry(put_on)
            self.parts = [
                part + loose * amount for part, amount in zip(self.parts, self.amounts, strict=True)
            ]
        self._carry(day)
        return sum(self.parts) * self.per_loose

    def _carry(self, day: int) -> None:
        left = self.passed((day - self.day) / DAYS_PER_YEAR) if self.day else self.amounts
        self.parts = [part * share for part, share in zip(self.parts, left, strict=True)]
        self.day = day


def _many(stock: Stock, day: int) -> bool:
    """Say whether so many lots come by a day that no more than a quick look is worth its time."""
    return bisect_right(stock.lots.days, day) > FEW_LOTS


def _ever_held(task: RaiseTask, stock: Stock, area: float, first: int) -> bool:
    """Say whether the most there can be reaches the task for as many months on end as it is to be held."""
    wanted = len(months_between(first, task.held_to(first)))
    months = 0
    for day in months_between(first, stock.lots.until):
        there_can_be = most_there_can_be(task, stock, area, day, day)
        months = months + 1 if there_can_be >= task.missing(day) * (1 - NEAR) else 0
        if months >= wanted:
            return True
    return False


def ready_day(task: RaiseTask, doses: Pulses, by: int) -> int:
    """Return the first day from which the target holds until ``by``."""
    good = by
    for day in _days_back(task.begin, by, [day for day, _ in doses if day <= by]):
        if not task.holds(doses, day):
            return bisect_left(range(good), True, day + 1, good, key=lambda day: task.holds(doses, day))
        good = day
    return good


def _days_back(start: int, by: int, dosed: list[int]) -> Iterator[int]:
    """Yield the days a target is looked at, from ``by`` back: days of doses, their eves and others."""
    special = {by, *dosed, *(day - 1 for day in dosed if day > start)}
    looks = range(start + (by - 1 - start) // LOOKS * LOOKS, start - 1, -LOOKS) if by > start else ()
    return merge(sorted(special, reverse=True), looks, reverse=True)
