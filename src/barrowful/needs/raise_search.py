"""Searching for the least doses of a raise, the first day it can be reached, the day it is ready."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from datetime import date, timedelta
from functools import lru_cache

from barrowful.needs.raise_task import Pulses, RaiseTask
from barrowful.supplies.supply import YEAR, Stock

#: Settings of the search, none of the trade: years ahead a target is sought before the level it tends to
#: is named instead; days between those on which a late target is looked for, and between those on which
#: one that is reached is looked at; a way with lots on more days of the year is looked at by the grid alone.
FAR_YEARS, GRID, LOOKS, FEW_LOTS = 60, 10, 30, 12
#: What rounding may leave over of what is missing.
SLACK = 1e-9


def least_doses(task: RaiseTask, by: date, stock: Stock, last: date | None = None) -> Pulses | None:
    """Return the least doses, up to a last day, that reach the task on a day; takes them from the stock.

    One linear condition, each dose capped and fed from lots: the most effective days are filled
    first, which is exact for such a programme.
    """
    ranked = [
        (counted, day) for counted, day in stock.ranked(task.turnover, by) if last is None or day <= last
    ]
    whole = missing = task.missing(by)
    if _most_there_can_be(task, by, stock, ranked) < missing * (1 - SLACK):
        return None
    before = list(stock.left)
    doses = []
    for counted, day in ranked:
        effect = counted * task.per_loose
        if missing <= SLACK * whole or effect <= 0:
            break
        taken = stock.take(day, min(task.most, missing / effect))
        if taken > 0:
            doses.append((day, taken))
            missing -= taken * effect
    if missing > SLACK * whole:
        stock.left = before
        return None
    return doses


def _most_there_can_be(task: RaiseTask, by: date, stock: Stock, ranked: list[tuple[float, date]]) -> float:
    """Return as much carbon [kg/m2] as the deepest doses on every day, or all there is on the best, make."""
    best = ranked[0][0] if ranked else 0.0
    if best <= 0:
        return 0.0
    every_day = task.most * sum(counted for counted, _ in ranked)
    return min(every_day, stock.left_by(by) * best) * task.per_loose


def _can(task: RaiseTask, stock: Stock, day: date) -> bool:
    """Say whether any doses reach the task on a day; the stock is left as it was."""
    before = list(stock.left)
    found = least_doses(task, day, stock) is not None
    stock.left = before
    return found


def first_day(task: RaiseTask, stock: Stock, by: date) -> date | None:
    """Return the first day after ``by`` on which the task can be reached, or None.

    Supplies come round by the year, so on one day of the year what can be reached does not fall from
    year to year: for each of some days of the year the year is found by halving, and then the day,
    for wood and greens go on turning to humus, and rot, between lots.
    """
    best: date | None = None
    lots = {(day - by).days % 365 for day in stock.days if day > by}
    for offset in sorted({*range(0, 366, GRID), *(lots if len(lots) <= FEW_LOTS else ())}):
        start = by + timedelta(days=offset)
        if best is None or start < best:
            best = _first_year(task, stock, start, best) or best
    return best and _first_between(task, stock, max(by, best - timedelta(days=GRID)), best)


def _first_year(task: RaiseTask, stock: Stock, start: date, before: date | None) -> date | None:
    """Return the first yearly return of a day on which the task can be reached, if before another."""
    last = stock.until if before is None else min(stock.until, before - timedelta(days=1))
    if start > last:
        return None
    days = anniversaries(start)
    days = days[: bisect_right(days, last)]
    if not _can(task, stock, days[-1]):
        return None
    return days[bisect_left(days, True, hi=len(days) - 1, key=lambda day: _can(task, stock, day))]


@lru_cache(maxsize=1024)
def anniversaries(day: date) -> tuple[date, ...]:
    """Return a day and its yearly returns, as far as is looked ahead; beds of one site ask for the same."""
    return tuple(YEAR.times(count).after(day) for count in range(FAR_YEARS))


def _first_between(task: RaiseTask, stock: Stock, bad: date, good: date) -> date:
    """Return the first day of a short time on which the task can be reached."""
    while (good - bad).days > 1:
        day = bad + (good - bad) // 2
        bad, good = (bad, day) if _can(task, stock, day) else (day, good)
    return good


def ready_day(task: RaiseTask, doses: Pulses, by: date) -> date:
    """Return the first day from which the target holds until ``by``."""
    start = task.site.start
    dosed = [day for day, _ in doses if day <= by]
    grid = {by, *dosed, *(day - timedelta(days=1) for day in dosed if day > start)}
    day = start
    while day < by:
        grid.add(day)
        day += timedelta(days=LOOKS)
    good = by
    for day in sorted(grid, reverse=True):
        if not task.holds(doses, day):
            return _first_good(task, doses, day, good)
        good = day
    return good


def _first_good(task: RaiseTask, doses: Pulses, bad: date, good: date) -> date:
    """Return the first good day after a bad task."""
    while (good - bad).days > 1:
        middle = bad + (good - bad) // 2
        if task.holds(doses, middle):
            good = middle
        else:
            bad = middle
    return good
