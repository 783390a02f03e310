"""Searching for the least doses of a raise, the first day it can be reached, the day it is ready.

Days are day numbers here.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator
from datetime import date
from functools import lru_cache
from heapq import merge

from barrowful.needs.raise_task import Pulses, RaiseTask
from barrowful.supplies.stock import Returns, Stock
from barrowful.supplies.supply import YEAR

#: Settings of the search, none of the trade: years ahead a target is sought before the level it tends to
#: is named instead; days between those on which a late target is looked for, and between those on which
#: one that is reached is looked at; a way with lots on more days of the year is looked at by the grid alone.
FAR_YEARS, GRID, LOOKS, FEW_LOTS = 60, 30, 30, 12
#: What rounding may leave over of what is missing.
SLACK = 1e-9


def least_doses(
    task: RaiseTask, by: int, stock: Stock, area: float, last: int | None = None
) -> Pulses | None:
    """Return the least doses, up to a last day, that reach the task on a day; takes them for an area [m2].

    One linear condition, each dose capped and fed from lots: the most effective days are filled
    first, which is exact for such a programme.
    """
    if not _might(task, by, stock, area):
        return None
    before = stock.state
    doses = _best_doses(task, by, stock, area, last)
    if doses is None:
        stock.put_back(before)
    return doses


def _best_doses(
    task: RaiseTask, by: int, stock: Stock, area: float, last: int | None = None
) -> Pulses | None:
    """Take the most effective doses from the stock until the task is reached; None where it is not."""
    whole = missing = task.missing(by)
    doses = []
    for counted, day in stock.best_first(task.turnover, by):
        effect = counted * task.per_loose
        if missing <= SLACK * whole or effect <= 0:
            break
        if last is not None and day > last:
            continue
        wanted = min(task.most, missing / effect)
        taken = wanted if stock.lots.endless else stock.take(day, wanted * area) / area
        if taken > 0:
            doses.append((day, taken))
            missing -= taken * effect
    return doses if missing <= SLACK * whole else None


def _might(task: RaiseTask, day: int, stock: Stock, area: float) -> bool:
    """Say whether the most there can be reaches the task on a day; of what has no end it is what there is."""
    return _most_there_can_be(task, day, stock, area) >= task.missing(day) * (1 - SLACK)


def _most_there_can_be(task: RaiseTask, by: int, stock: Stock, area: float) -> float:
    """Return as much carbon [kg/m2] as the deepest doses on every day, or all there is on the best, make."""
    every_day = task.most * stock.lots.counted(task.turnover, by)
    if stock.lots.endless or not every_day:
        return every_day * task.per_loose
    all_there_is = stock.lots.at_best(task.turnover, by)
    if not stock.untouched:
        best, _ = next(stock.best_first(task.turnover, by), (0.0, by))
        all_there_is = min(all_there_is, stock.left_by(by) * best)
    return min(every_day, all_there_is / area) * task.per_loose


def _each_as_it_comes(task: RaiseTask, day: int, stock: Stock, area: float) -> bool:
    """Say whether the task is reached when each lot is put on whole on the day it comes."""
    lots = stock.lots
    if not stock.untouched or lots.largest > task.most * area:
        return False
    made = task.per_loose * lots.counted(task.turnover, day, weighed=True) / area
    return made >= task.missing(day)


def _can(task: RaiseTask, stock: Stock, area: float, day: int) -> bool:
    """Say whether any doses reach the task on a day; the stock is left as it was."""
    might = _might(task, day, stock, area)
    if stock.lots.endless or not might or _each_as_it_comes(task, day, stock, area):
        return might
    before = stock.state
    reached = _best_doses(task, day, stock, area) is not None
    stock.put_back(before)
    return reached


def first_day(task: RaiseTask, by: int, stock: Stock, area: float) -> int | None:
    """Return the first day after ``by`` on which the task can be reached, or None.

    Supplies come round by the year, so on one day of the year what can be reached does not fall from
    year to year: for each of some days of the year the year is found by halving, and then the day,
    for wood and greens go on turning to humus, and rot, between lots. Where the humus there was falls,
    what can be reached may fall too, and every year is tried.
    """
    best: int | None = None

    def can(day: int) -> bool:
        return _can(task, stock, area, day)

    lots = stock.lots.returns if len(stock.lots.returns) <= FEW_LOTS else ()
    for days in (*lots, *grid(task.begin)):
        first = bisect_right(days, by)
        end = bisect_left(days, best) if best is not None else bisect_right(days, stock.lots.until)
        if task.falling is not None:
            best = next((day for day in days[first:end] if can(day)), best)
        elif first < end and can(days[end - 1]):
            best = days[bisect_left(days, True, first, end - 1, key=can)]
    return best and bisect_left(range(best), True, max(by, best - GRID) + 1, best, key=can)


@lru_cache(maxsize=8)
def grid(begin: int) -> tuple[Returns, ...]:
    """Return some days of the year from a day on, each with its yearly returns as far as is looked ahead."""
    days = [date.fromordinal(begin + days) for days in range(0, 366, GRID)]
    counts = range(FAR_YEARS)
    return tuple(tuple(YEAR.times(count).after(day).toordinal() for count in counts) for day in days)


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
