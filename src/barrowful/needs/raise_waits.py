"""What a raise waits for, so that more of it is met: a harvest, a ceiling that opens, the day of the year.

Days of stocks are day numbers here.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable
from datetime import date

from barrowful.measures.dates import Step
from barrowful.needs.harvests import Wait, waited
from barrowful.needs.raise_work import Raised
from barrowful.supplies.stock import Opens, State, Stock


def once_open(
    raised: Raised, stock: Stock, before: State, from_day: Callable[[date], Raised]
) -> Raised | None:
    """Return how what is not met in time comes out once a year's ceiling opens, where that meets it.

    ``before`` is what there was of a stock before anything was taken for it.
    """
    again = None if raised.in_time else raised.task.room.opens_again(raised.source.first)
    if again is None:
        return None
    taken = stock.state
    stock.put_back(before)
    later = from_day(date.fromordinal(again))
    if later.in_time:
        return later
    stock.put_back(taken)
    return None


def once_a_year(
    raised: Raised, stock: Stock, before: State, opens: Opens, on_days: Callable[[Opens], Raised]
) -> Raised | None:
    """Return how it comes out on one day of the year, that of the first lot, where that meets it.

    A lot that comes a little less than twelve months after another lies until they are over. ``before`` is
    what there was of a stock before anything was taken for it.
    """
    lots, task = stock.lots, raised.task
    if raised.in_time or lots.endless or not lots.keeps or task.alone(stock):
        return None
    taken = stock.state
    stock.put_back(before)
    first = next((day for day, left in zip(lots.days, stock.left, strict=True) if left > 0), None)
    if first is not None:
        days = _same_days(opens(first), opens(lots.days[-1]))
        later = on_days(lambda day: days[bisect_left(days, opens(day))])
        if later.in_time:
            return later
    stock.put_back(taken)
    return None


def _same_days(first: int, last: int) -> list[int]:
    """Return the days whole years after a first, up to the first of them from a last on."""
    begun, days = date.fromordinal(first), [first]
    while days[-1] < last:
        days.append(Step(months=12 * len(days)).after(begun).toordinal())
    return days


def opening(wait: Wait | None, begins: date) -> Opens:
    """Return what gives the first day from one on, as day numbers, that stuff may go on a place."""
    return lambda day: waited(wait, max(begins, date.fromordinal(day))).toordinal()
