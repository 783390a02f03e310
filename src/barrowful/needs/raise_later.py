"""The days from which a raise holds: the first that one too late can be held from, and when one is ready.

Days are day numbers here.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from heapq import merge
from operator import mul

from barrowful.measures.dates import Step
from barrowful.needs.raise_search import (
    LOOKS,
    NEAR,
    first_day,
    held_doses,
    last_failing,
    months_between,
    most_there_can_be,
)
from barrowful.needs.raise_task import Pulses, RaiseTask
from barrowful.soil.turnover import Turnover, passed
from barrowful.supplies.stock import Stock

#: How many first days are tried: after a few it is asked whether any can do, after many the steps grow.
FEW_TRIES, MANY_TRIES, MOST_TRIES = 3, 20, 80


class GivenUp:
    """Tasks that no day was found for: none harder is asked about after them, on more ground and of less."""

    def __init__(self) -> None:
        #: By how the stuff goes in their soil, which is the same for no other.
        self._easiest: dict[Turnover, list[tuple[RaiseTask, int]]] = {}

    def first_held(self, task: RaiseTask, by: int, stock: Stock, area: float) -> tuple[int, Pulses] | None:
        """Return the first day after ``by`` from which the task can be held, and the least doses, or None.

        The next call must be for no less ground, and nothing may have come back to the stock before it.
        """
        alike = self._easiest.setdefault(task.turnover, [])
        if any(by >= since and task.no_easier(easier) for easier, since in alike):
            return None
        first = first_held(task, by, stock, area)
        if first is None:
            alike.append((task, by))
        return first


def first_held(task: RaiseTask, by: int, stock: Stock, area: float) -> tuple[int, Pulses] | None:
    """Return the first day after ``by`` from which the task can be held, and the least doses, or None.

    A day on which nothing would do rules out all that would have it among those it is held on. Where that
    does not lead far, days further and further on are tried.
    """
    if not task.alone(stock):
        return _as_they_come(task, by, stock, area)
    for tries in range(MOST_TRIES):
        day = first_day(task, by, stock, area)
        if day is None or (tries == FEW_TRIES and not _ever_held(task, stock, area, day)):
            return None
        doses = held_doses(task, day, stock, area)
        if doses is not None:
            return day, doses
        by = max(last_failing(task, day, stock, area), day + LOOKS // 2 * (tries - MANY_TRIES))
    return None


def begun_first(task: RaiseTask, by: int, first: int, stock: Stock, area: float) -> Pulses | None:
    """Return the least doses that hold a task from a day a year on, by then none but of the first lot.

    None where no doses do, or where it takes none of that lot.
    """
    before = stock.state
    doses = held_doses(task, by, stock, area, range(first + 1, by + 1)) if stock.left_by(first) else None
    if doses and min(doses)[0] == first:
        return doses
    stock.put_back(before)
    return None


def held_longer(task: RaiseTask, day: int, stock: Stock, area: float) -> Pulses | None:
    """Return the least doses that reach a task on a day and hold it for a year more than it is to be held.

    Without a date it is to be held from a year after its first dose, which is never later than that. None
    where no doses do.
    """
    longer = Step(months=task.hold.months + 12, days=task.hold.days)
    return held_doses(replace(task, hold=longer), day, stock, area)


def _as_they_come(task: RaiseTask, by: int, stock: Stock, area: float) -> tuple[int, Pulses] | None:
    """Return the first of a month from which lots put on as they come hold the task, and least doses.

    So it is where ceilings bind lots that come more than once in twelve months.
    """
    for day in _held_from(task, by, stock, area):
        doses = held_doses(task, day, stock, area)
        if doses is not None:
            return day, doses
    return None


def _held_from(task: RaiseTask, by: int, stock: Stock, area: float) -> Iterator[int]:
    """Return the firsts of months, after a day, from which lots put on as they come hold the task.

    The next is one after as many months as it is held.
    """
    coming = Coming(task.turnover, _all_as_they_come(task, stock, area), task.per_loose)
    months = months_between(by, stock.lots.until)
    held = len(months_between(by, task.held_to(by))) + 1
    return on_end(months, held, lambda day: coming.on(day) >= task.missing(day) * (1 - NEAR))


def on_end(days: Sequence[int], wanted: int, holds: Callable[[int], bool]) -> Iterator[int]:
    """Yield the first of each ``wanted`` days on end of some that all hold; the last may be fewer.

    They are looked at from the last one back: one that does not hold leaves out all before it.

    >>> list(on_end(range(9), 3, lambda day: day != 2))
    [3, 6]
    >>> list(on_end(range(9), 3, lambda day: day not in {2, 6}))
    [3, 7]
    """
    first = known = 0
    while first < len(days):
        end = min(first + wanted, len(days))
        failing = next((number for number in range(end - 1, known - 1, -1) if not holds(days[number])), None)
        known = end
        if failing is None:
            yield days[first]
            first = end
        else:
            first = failing + 1


def _all_as_they_come(task: RaiseTask, stock: Stock, area: float) -> Iterator[tuple[int, float]]:
    """Yield the deepest doses [loose m] that may go on from each lot in its turn."""
    put_on, there, room = list[tuple[int, float]](), stock.copy(), task.room
    days, number = stock.lots.days, 0
    while (number := max(number, there.first_left)) < len(days):
        lot, near = days[number], put_on[-LOOKS:] if room.alike else put_on
        number += 1
        most = min(task.most, room.left(lot, near))
        if most <= 0 and room.alike:
            again = room.opens_again(lot, near)
            number = len(days) if again is None else bisect_left(days, again)
        taken = there.take(lot, most * area) / area if most > 0 else 0.0
        if taken > 0:
            put_on.append((lot, taken))
            yield lot, taken


class Coming:
    """What doses [loose m], told in their order, come to [kg C/m2], asked for on whichever day."""

    def __init__(self, turnover: Turnover, doses: Iterator[tuple[int, float]], per_loose: float) -> None:
        self.turnover, self.amounts = turnover, turnover.counting.amounts
        self.coming, self.next, self.per_loose = doses, next(doses, None), per_loose
        self.days, self.parts = list[int](), list[list[float]]()

    def on(self, day: int) -> float:
        """Return what has become of all doses by a day."""
        while self.next is not None and self.next[0] <= day:
            self._put_on(*self.next)
            self.next = next(self.coming, None)
        dosed = bisect_right(self.days, day)
        if not dosed:
            return 0.0
        left = passed(self.turnover, day - self.days[dosed - 1])
        return float(sum(map(mul, self.parts[dosed - 1], left))) * self.per_loose

    def _put_on(self, day: int, loose: float) -> None:
        parts = [loose * amount for amount in self.amounts]
        if self.days:
            left = passed(self.turnover, day - self.days[-1])
            shares = zip(self.parts[-1], left, parts, strict=True)
            parts = [part * share + more for part, share, more in shares]
        self.days.append(day)
        self.parts.append(parts)


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
    """Yield the days a target is looked at, from ``by`` back: its eve, days of doses, their eves and others.

    What is reached late is mostly reached no day earlier.
    """
    special = {by, *dosed, *(day - 1 for day in (by, *dosed) if day > start)}
    looks = range(start + (by - 1 - start) // LOOKS * LOOKS, start - 1, -LOOKS) if by > start else ()
    return merge(sorted(special, reverse=True), looks, reverse=True)
