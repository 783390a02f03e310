"""Growing seasons: which one a day falls in, and which season of the year it is."""

from __future__ import annotations

from datetime import date, timedelta
from functools import cache, lru_cache

from barrowful.catalogue.ceilings import most
from barrowful.catalogue.judgements import judgement
from barrowful.measures.dates import DAYS_PER_YEAR, Step
from barrowful.site.grown import fed_once_picked
from barrowful.site.records import Place, Site

#: A month and its day.
DayOfYear = tuple[int, int]
#: Kinds of place whose crop is sown or planted anew each year.
SOWN = frozenset({"bed", "pot"})


def crop_of(place: Place) -> DayOfYear | None:
    """Return when the crop of a place that is sown anew each year is first picked, where that is told."""
    return place.harvest_from if place.kind in SOWN and not fed_once_picked(place) else None


def season_of(site: Site, day: date) -> int:
    """Return which growing season a day falls in: 0 holds the start, -1 is the one before."""
    return _number(site.season_ends, day) - _number(site.season_ends, site.start)


def season_end(site: Site, number: int) -> date:
    """Return the last day of a growing season."""
    ends = site.season_ends
    return date(_number(ends, site.start) + number, *ends) - timedelta(days=1)


def _number(end: tuple[int, int], day: date) -> int:
    """Return the number of the season a day falls in, where seasons end before a day of the year.

    >>> _number((10, 28), date(2027, 10, 27)), _number((10, 28), date(2027, 10, 28))
    (2027, 2028)
    """
    return day.year + ((day.month, day.day) >= end)


@cache
def time_of_year(hemisphere: str, month: int) -> str:
    """Return autumn, winter or spring for a month; summer goes with spring.

    >>> [time_of_year("north", month) for month in (8, 11, 2, 6)], time_of_year("south", 3)
    (['autumn', 'winter', 'spring', 'spring'], 'autumn')
    """
    of_north = month if hemisphere == "north" else month + 6
    since = (of_north - round(judgement("autumn_from"))) % 12
    return ("autumn", "winter", "spring", "spring")[since // 3]


@lru_cache(maxsize=4096)
def feeding_from(hemisphere: str, day: date, crop: DayOfYear | None = None) -> date:
    """Return a day of spring or summer itself, else the first of the next spring.

    A ``crop`` that is first picked before that, or too soon after it to be sown then, is fed on the day.

    >>> day = date(2027, 8, 20)
    >>> feeding_from("north", day), feeding_from("north", day, (7, 1)), feeding_from("north", day, (10, 10))
    (datetime.date(2028, 2, 1), datetime.date(2028, 2, 1), datetime.date(2027, 8, 20))
    """
    spring = spring_from(hemisphere, day)
    if crop is None or spring == day:
        return spring
    picked = date(day.year + ((day.month, day.day) > crop), *crop)
    sown = timedelta(days=round((most("standing_crop", "ahead") or 0.0) * DAYS_PER_YEAR))
    return day if picked <= spring + sown else spring


def spring_from(hemisphere: str, day: date) -> date:
    """Return a day of spring or summer itself, else the first of the next spring.

    >>> spring_from("north", date(2027, 8, 20)), spring_from("south", date(2027, 8, 20))
    (datetime.date(2028, 2, 1), datetime.date(2027, 8, 20))
    """
    while time_of_year(hemisphere, day.month) != "spring":
        day = Step(months=1).after(day.replace(day=1))
    return day


def growing_seasons(site: Site, crop: DayOfYear | None = None) -> tuple[int, ...]:
    """Return the numbers of the growing seasons that are fed: one for each year of the horizon, or half.

    It is that of the day the year begins, or where that is in autumn or winter of the spring after it, which
    must begin within the horizon; but a ``crop`` that is picked first is fed ahead of it. There is always the
    first.
    """
    return _seasons_fed(site.start, site.end, site.hemisphere, site.season_ends, crop)


def first_fed(site: Site, place: Place) -> int:
    """Return the number of the first growing season in which a place is fed."""
    return growing_seasons(site, crop_of(place))[0]


@lru_cache(maxsize=64)
def _seasons_fed(
    start: date, end: date, hemisphere: str, season_ends: DayOfYear, crop: DayOfYear | None
) -> tuple[int, ...]:
    year, half, begins = Step(months=12), Step(months=6), [start]
    while half.after(later := year.times(len(begins)).after(start)) <= end:
        begins.append(later)
    fed_from = [feeding_from(hemisphere, begin, crop) for begin in begins]
    fed = [fed_from[0], *(day for day in fed_from[1:] if day <= end)]
    return tuple(_number(season_ends, day) - _number(season_ends, start) for day in fed)
