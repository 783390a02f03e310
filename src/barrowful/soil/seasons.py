"""Growing seasons: which one a day falls in, and which season of the year it is."""

from __future__ import annotations

from datetime import date, timedelta
from functools import cache

from barrowful.catalogue.judgements import judgement
from barrowful.measures.dates import Step
from barrowful.site.records import Site


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


def spring_from(site: Site, day: date) -> date:
    """Return a day of spring or summer itself, else the first of the next spring."""
    while time_of_year(site.hemisphere, day.month) != "spring":
        day = Step(months=1).after(day.replace(day=1))
    return day


def growing_seasons(site: Site) -> list[int]:
    """Return the numbers of the growing seasons that are fed: one for each year of the horizon, or half.

    It is that of the day the year begins, or where that is in autumn or winter of the spring after it, which
    must begin within the horizon. There is always the first.
    """
    year, half, end = Step(months=12), Step(months=6), site.end
    begins = [site.start]
    while half.after(later := year.times(len(begins)).after(site.start)) <= end:
        begins.append(later)
    springs = [spring_from(site, begin) for begin in begins]
    return [season_of(site, spring) for spring in springs[:1] + [day for day in springs[1:] if day <= end]]
