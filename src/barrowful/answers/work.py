"""When work is done: so many hours a week, jobs in the months their days fall in."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, timedelta
from math import ceil

from barrowful.measures.dates import DAYS_PER_YEAR, MOST_YEARS, Step

#: What rounding may leave over [h].
SLACK = 1e-9
DAYS_PER_WEEK = 7


def finished(hours_per_week: float, jobs: Iterable[tuple[date, float]]) -> date | None:
    """Return the day the last of some jobs (day, hours) is done; None where there are no hours for them.

    A month has its weeks times the hours; a job is done on its day while its month has hours left for it,
    and what does not fit waits for a day of the next month with enough of it gone by.

    >>> finished(6.0, [(date(2027, 4, 12), 20.0)])
    datetime.date(2027, 4, 12)
    >>> finished(6.0, [(date(2027, 4, 12), 40.0)])
    datetime.date(2027, 5, 17)
    """
    done, month, left = date.min, date.min, 0.0
    for day, hours in sorted(jobs):
        first = day.replace(day=1)
        if first > month:
            month, left = first, hours_of_month(first, hours_per_week)
        if hours > SLACK and hours_per_week <= 0:
            return None
        while hours > left + SLACK:
            hours -= left
            month = Step(months=1).after(month)
            left = hours_of_month(month, hours_per_week)
            if (month - day).days > MOST_YEARS * DAYS_PER_YEAR:
                return None
        left -= hours
        used = hours_of_month(month, hours_per_week) - left
        waits = (
            timedelta(days=max(0, ceil(used / hours_per_week * DAYS_PER_WEEK - SLACK) - 1))
            if used > 0
            else timedelta()
        )
        done = max(done, day if month == first else month + waits)
    return done


def hours_of_month(month: date, hours_per_week: float) -> float:
    """Return the hours there are in a month."""
    return hours_of_days((Step(months=1).after(month) - month).days, hours_per_week)


def hours_of_days(days: int, hours_per_week: float) -> float:
    """Return the hours there are in so many days: what waits for them is done when they are over."""
    return hours_per_week * days / DAYS_PER_WEEK
