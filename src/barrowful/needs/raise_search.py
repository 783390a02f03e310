"""Searching for the least doses of a raise, the first day it can be reached, the day it is ready.

Days are day numbers here.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator
from heapq import merge

from barrowful.needs.raise_task import Pulses, RaiseTask
from barrowful.supplies.stock import Stock

#: Settings of the search, none of the trade: years ahead a target is sought before the level it tends to
#: is named instead; days between those on which one that is reached is looked at.
FAR_YEARS, LOOKS = 60, 30
#: What rounding may leave over of what is missing, and what it may take off what could be made.
SLACK, NEAR = 1e-9, 1e-6


def least_doses(
    task: RaiseTask, by: int, stock: Stock, area: float, last: int | None = None
) -> Pulses | None:
    """Return the least doses, up to a last day, that reach the task on a day; takes them for an area [m2].

    One linear condition, each dose capped and fed from lots: the most effective days are filled
    first, which is exact for such a programme.
    """
    missing = task.missing(by)
    if _most_there_can_be(task, stock, area, by, by) < missing * (1 - SLACK):
        return None
    before = stock.state
    doses, lacking = _best_filled(task, stock, area, (by, by), missing, last)
    if lacking > SLACK * missing:
        stock.put_back(before)
        return None
    return doses


def _best_filled(
    task: RaiseTask, stock: Stock, area: float, days: tuple[int, int], missing: float, last: int | None = None
) -> tuple[Pulses, float]:
    """Return doses on the days of lots up to a last one, and what they lack; takes them for an area [m2].

    Each counts as much as it does on whichever of some days, from a first to a last, is best for it.
    """
    whole = missing
    doses: Pulses = []
    for counted, day in stock.best_first(task.turnover, *days):
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
    return doses, missing


def _most_there_can_be(task: RaiseTask, stock: Stock, area: float, first: int, last: int) -> float:
    """Return no less carbon [kg/m2] than doses can make on any day from a first to a last one.

    It is what the deepest doses on every day make, or all there is where that is less.
    """
    every_day = task.most * stock.lots.most_counted(task.turnover, first, last)
    if stock.lots.endless or not every_day:
        return every_day * task.per_loose
    all_there_is = stock.left_by(last) * task.turnover.most_counted(0, last - stock.lots.days[0])
    return min(every_day, all_there_is / area) * task.per_loose


def _could(task: RaiseTask, stock: Stock, area: float, first: int, last: int, slack: float) -> bool:
    """Say whether doses may reach the task on a day from a first to a last one; the stock is left as it was.

    On one day it is whether they do.
    """
    missing = task.least_missing(first, last)
    if _most_there_can_be(task, stock, area, first, last) < missing * (1 - slack):
        return False
    if stock.lots.endless:
        return True
    lots = stock.lots
    might = lots.all_at_best(task.turnover, first, last) * task.per_loose / area >= missing * (1 - slack)
    as_they_come = stock.untouched and lots.never_too_much(task.most * area)
    if not might or (as_they_come and (first < last or not lots.keeps)):
        return might
    before = stock.state
    _, lacking = _best_filled(task, stock, area, (first, last), missing)
    stock.put_back(before)
    return lacking <= slack * missing


def first_day(task: RaiseTask, by: int, stock: Stock, area: float) -> int | None:
    """Return the first day after ``by`` on which the task can be reached, or None.

    What can be reached rises and falls between lots, as what was dug in before and the humus there was
    fall, and as wood and greens turn to humus and rot: so days are halved, and a half on which even what
    each dose counts on its own best day would not do is left out.
    """
    return _first_of(task, stock, area, by + 1, stock.lots.until)


def _first_of(task: RaiseTask, stock: Stock, area: float, first: int, last: int) -> int | None:
    """Return the first day, from a first to a last one, on which the task can be reached, or None."""
    if first > last or not _could(task, stock, area, first, last, NEAR if first < last else SLACK):
        return None
    if first == last:
        return first
    middle = _split(first, last)
    early = _first_of(task, stock, area, first, middle)
    return early if early is not None else _first_of(task, stock, area, middle + 1, last)


def _split(first: int, last: int) -> int:
    """Return where some days are parted: on the roundest number, so that other tasks ask for the same parts.

    >>> _split(5, 18), _split(16, 18), _split(17, 18)
    (15, 17, 17)
    """
    lowest = (first ^ last).bit_length() - 1
    return (last >> lowest << lowest) - 1


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
