"""Dates and calendar steps: a month is a month of the calendar, not 30.44 days."""

from __future__ import annotations

import math
import re
from calendar import monthrange
from datetime import date, timedelta
from functools import lru_cache

from barrowful.measures.fixed import fixed
from barrowful.measures.problems import ParseError
from barrowful.measures.text import split_quantity

DAYS_PER_YEAR = 365.25
SHORTEST_MONTH, FEBRUARY = 28, 2
_MONTHS = {"month": 1, "months": 1, "year": 12, "years": 12}
_DAYS = {"day": 1, "days": 1, "week": 7, "weeks": 7}


@fixed(kw_only=False, eq=True)
class Step:
    """A length of calendar time: whole months and days."""

    months: int = 0
    days: int = 0

    def after(self, day: date) -> date:
        """Return the date this step after ``day``; the end of a short month holds.

        >>> Step(months=1).after(date(2027, 1, 31))
        datetime.date(2027, 2, 28)
        """
        month = day.month - 1 + self.months
        year, month = day.year + month // 12, month % 12 + 1
        if not 1 <= year <= 9999:
            raise OverflowError("beyond the calendar")
        number = day.day if day.day <= SHORTEST_MONTH else min(day.day, monthrange(year, month)[1])
        return date(year, month, number) + timedelta(self.days)

    def times(self, count: int) -> Step:
        """Return this step ``count`` times over."""
        return Step(self.months * count, self.days * count)

    @property
    def years(self) -> float:
        """Return the length in years."""
        return self.months / 12 + self.days / DAYS_PER_YEAR


def read_date(text: str) -> date:
    """Return the date a text such as ``2027-03-01`` is.

    >>> read_date("2027-02-30")
    Traceback (most recent call last):
    ...
    barrowful.measures.problems.ParseError: "2027-02-30" is not a day of the calendar
    """
    if not re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", text):
        raise ParseError("not-a-date", f'"{text[:30]}" is not a date; write year-month-day, 2027-03-01')
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise ParseError("not-a-date", f'"{text}" is not a day of the calendar') from None


def read_step(text: str) -> Step:
    """Return the calendar step a text such as ``5 weeks`` or ``1.5 years`` is.

    >>> read_step("1.5 years")
    Step(months=18, days=0)
    """
    number, words = split_quantity(text)
    if not words:
        raise ParseError("bare-number", f'"{text[:40]}" has no unit; write one such as "5 weeks"')
    if words in _MONTHS and (number * _MONTHS[words]).is_integer() and abs(number) < 1e5:
        return Step(months=int(number * _MONTHS[words]))
    if words in _DAYS and (number * _DAYS[words]).is_integer() and abs(number) < 1e6:
        return Step(days=int(number * _DAYS[words]))
    raise ParseError(
        "not-a-duration",
        f'"{text[:40]}" is not a length of time in whole days, weeks, months or years',
    )


def years_between(start: date, end: date) -> float:
    """Return the years from one date to another, negative when ``end`` is earlier.

    >>> round(years_between(date(2027, 3, 1), date(2028, 3, 1)), 3)
    1.002
    """
    return (end - start).days / DAYS_PER_YEAR


#: A day further off than this many years is not named.
MOST_YEARS = 1000.0
#: Days that rounding may add; a hundredth of a second.
ROUNDING = 1e-7


def date_after(start: date, years: float) -> date:
    """Return the first date at least so many years after ``start``, at most a thousand.

    What rounding adds to a whole number of days does not make another day.

    >>> date_after(date(2027, 1, 1), 13 / 365.25)
    datetime.date(2027, 1, 14)
    """
    days = min(years, MOST_YEARS) * DAYS_PER_YEAR
    return start + timedelta(days=math.ceil(days - ROUNDING))


@lru_cache(maxsize=65536)
def year_after(day: int) -> int:
    """Return the day number twelve calendar months after a day number.

    >>> date.fromordinal(year_after(date(2027, 3, 1).toordinal()))
    datetime.date(2028, 3, 1)
    """
    return Step(months=12).after(date.fromordinal(day)).toordinal()
