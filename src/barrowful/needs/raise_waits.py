"""What a raise waits for, so that more of it is met: a harvest, a ceiling that opens, the day of the year.

Days of stocks are day numbers here.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Iterator
from datetime import date
from functools import partial
from math import inf

from barrowful.measures.dates import Step
from barrowful.needs.harvests import Wait, waited
from barrowful.needs.raise_work import Raised
from barrowful.supplies.lot import Lot
from barrowful.supplies.stock import Lots, Opens, State, Stock


def once_open(
    raised: Raised, stock: Stock, before: State, of_stock: Callable[[Stock], Raised]
) -> Raised | None:
    """Return how it comes out where stuff goes on as a year's ceiling opens too, if that is better.

    It is where it is met in time and was not, or is ready sooner and no less of it is met by its date.
    ``before`` is what there was of a stock before anything was taken for it.
    """
    task, taken = raised.task, stock.state
    days = task.room.opening(raised.source.first)
    if not days or not stock.lots.keeps or (raised.in_time and task.by is not None):
        return None
    stock.put_back(before)
    for more in (_also_on(stock, days),) if task.by else _begun_as_open(stock, days):
        later = of_stock(more)
        if _sooner(later, raised):
            return later
    stock.put_back(taken)
    return None


def _also_on(stock: Stock, days: list[int]) -> Stock:
    """Return what is left of what keeps where it may go on some more days too, once there is any."""
    lots, more = stock.lots, inf if stock.lots.endless else 0.0
    coming = dict.fromkeys([day for day in days if lots.days[0] < day <= lots.until], more)
    coming |= dict(zip(lots.days, stock.left, strict=True))
    return Stock(Lots((Lot(date.fromordinal(day), left) for day, left in coming.items()), True, lots.until))


def _begun_as_open(stock: Stock, days: list[int]) -> Iterator[Stock]:
    """Yield stocks that begin as some room opens, and as all that is used has been gone for a year.

    Without a date the first dose says when a raise is due.
    """
    for day in sorted({days[0], days[-1]}):
        yield stock.waiting(partial(max, day))


def _sooner(one: Raised, other: Raised) -> bool:
    """Say whether one is met in time and the other is not, or is ready sooner with no less by its date."""
    if one.in_time != other.in_time:
        return one.in_time
    ready, else_ready = one.ready or inf, other.ready or inf
    more = one.met_share > other.met_share
    return one.met_share >= other.met_share and (ready < else_ready or (ready == else_ready and more))


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
