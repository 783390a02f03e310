"""The part of a plan's programme about hours: so many a week, by the months that jobs fall in."""

from __future__ import annotations

from datetime import date
from math import inf

from barrowful.answers.work import hours_of_days, hours_of_month
from barrowful.measures.dates import Step
from barrowful.planning.books import Books
from barrowful.site.records import Site

MONTH = Step(months=1)


def add_months(books: Books, site: Site, hours_per_week: float, by: date | None) -> int:
    """Add that work is done in the hours there are: what does not fit a month waits for the next ones.

    All is done by the end of the horizon, and by the day everything is to be ready, where there is one: what
    waits for the month of that day has its days until then, while a job of that month is done on its own.
    Returns the column of hours a week more than there are: none, unless it is given room.
    """
    more = books.programme.column(0.0)
    month, waiting = site.start.replace(day=1), None
    last = site.end if by is None else min(by, site.end)
    while month <= site.end.replace(day=1):
        over = books.programme.column(inf if MONTH.after(month) <= last else 0.0)
        before: dict[int, float] = {waiting: 1.0} if waiting is not None else {}
        jobs = books.by_month.get(month, {})
        each, there = hours_of_month(month, 1.0), hours_of_month(month, hours_per_week)
        books.programme.row({**jobs, **before, over: -1.0, more: -each}, most=there)
        if waiting is not None and month == last.replace(day=1):
            each, there = hours_of_days(last.day, 1.0), hours_of_days(last.day, hours_per_week)
            books.programme.row({waiting: 1.0, more: -each}, most=there)
        month, waiting = MONTH.after(month), over
    return more
