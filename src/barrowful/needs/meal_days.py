"""The days on which a season may be fed of one way: of what has no end, and of lots that are used up."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date
from functools import lru_cache
from typing import Any, NamedTuple

from barrowful.needs.settled import all_lots, days_of
from barrowful.site.records import Site
from barrowful.soil.seasons import DayOfYear, feeding_from, growing_seasons, season_end, season_of
from barrowful.supplies.lot import YEAR
from barrowful.supplies.stock import Lots, Stock
from barrowful.supplies.supply import Supply


class Days(NamedTuple):
    """Days on which there is something to feed a season with, and those of them it may go on, in order."""

    there: Sequence[date] = ()
    open: Sequence[date] = ()


NO_DAYS = Days()
#: Days on which lots with an end go on, and the number of the lot, or None where it is of any before.
Coming = Sequence[tuple[date, int | None]]


@lru_cache(maxsize=1024)
def endless_days(supply: Supply[Any], number: int, since: int | None, crop: DayOfYear | None) -> Days:
    """Return the days of a season on which there is something of what has no end and waits for nothing."""
    there = of_season(supply.site, number, there_in(supply, Stock(all_lots(supply)), number, since, crop))
    return Days(there, there)


def there_in(
    supply: Supply[Any], stock: Stock, number: int, since: int | None, crop: DayOfYear | None
) -> set[date]:
    """Return the days up to the end of a season on which something of a way comes, or is taken in spring."""
    if not stock.lots.endless:
        return days_left(_coming(supply, stock.lots, number, crop), stock)
    days = [day for day, _ in days_of(stock, season_end(supply.site, number), since)]
    return {day for day, _ in _put_off(supply, stock.lots, number, enumerate(days), crop)}


def days_left(coming: Coming, stock: Stock) -> set[date]:
    """Return those of the days lots go on on which something may be left."""
    return {day for day, lot in coming if lot is None or stock.left[lot] > 0}


@lru_cache(maxsize=1024)
def coming_in(supply: Supply[Any], lots: Lots, number: int, crop: DayOfYear | None) -> Coming:
    """Return the days on which lots with an end go on in a season, with the lots."""
    coming = _coming(supply, lots, number, crop)
    days = of_season(supply.site, number, (day for day, _ in coming))
    return [(day, lot) for day, lot in coming if day in days]


def _coming(supply: Supply[Any], lots: Lots, number: int, crop: DayOfYear | None) -> Coming:
    """Return the days on which lots with an end go on up to the end of a season, with the lots."""
    until = season_end(supply.site, number).toordinal()
    days = ((lot, date.fromordinal(day)) for lot, day in enumerate(lots.days) if day <= until)
    return _put_off(supply, lots, number, days, crop)


def _put_off(
    supply: Supply[Any], lots: Lots, number: int, days: Iterable[tuple[int, date]], crop: DayOfYear | None
) -> Coming:
    """Return the days on which lots go on that come on some days up to the end of a season.

    What keeps waits for spring: fed in autumn or winter it is washed out before a ``crop`` takes it up,
    unless that is picked first. In the season's own spring it may be of any lot before.
    """
    site = supply.site
    coming: list[tuple[date, int | None]] = [(max(day, site.start), lot) for lot, day in days]
    if not supply.keeps:
        return coming
    spring = YEAR.times(number - growing_seasons(site, crop)[0]).after(site.start)
    if supply.limited and lots.first is not None and lots.first <= spring:
        coming.append((spring, None))
    return [(feeding_from(site.hemisphere, day, crop), lot) for day, lot in coming]


def of_season(site: Site, number: int, days: Iterable[date]) -> list[date]:
    """Return the days of a season within the horizon, in order."""
    return sorted(day for day in set(days) if day <= site.end and season_of(site, day) == number)
