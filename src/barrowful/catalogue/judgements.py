"""Numbers of judgement: each a figure with unit, reason and grade, looked up by its name."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta
from functools import cache
from typing import Any

from barrowful.catalogue.figures import CatalogueError, Figure, files_in, load, read_figure
from barrowful.measures.dates import DAYS_PER_YEAR

#: A year without a leap day, to tell a day of the year by.
COMMON_YEAR = 2001


@cache
def _entries(file: str) -> Mapping[str, Mapping[str, Any]]:
    """Return the judgements of one file as they are written."""
    return load(file)


def _entry(name: str) -> Mapping[str, Any]:
    """Return a judgement as it is written; no file after the one it stands in is read."""
    for file in files_in("judgements"):
        if name in _entries(file):
            return _entries(file)[name]
    raise KeyError(name)


def judgement_names() -> tuple[str, ...]:
    """Return the names of all judgements."""
    names = [name for file in files_in("judgements") for name in _entries(file)]
    if len(set(names)) != len(names):
        raise CatalogueError("a judgement stands twice")
    return tuple(names)


@cache
def judgement_figure(name: str) -> Figure:
    """Return a judgement with its range, reason and grade."""
    entry = _entry(name)
    return read_figure(entry, entry["dimension"], name)


@cache
def judgement(name: str) -> float:
    """Return the likely value of a judgement in SI units.

    >>> judgement("least_fill")
    0.25
    """
    return judgement_figure(name).likely


@cache
def judged_text(name: str) -> str:
    """Return the likely value of a judgement as a grower would type it.

    >>> judged_text("push")
    '30 m'
    """
    entry = _entry(name)
    return f"{entry['likely']} {entry['unit']}"


@cache
def judged_time(name: str) -> timedelta:
    """Return the likely value of a judged time in whole days.

    >>> judged_time("waits_for_full").days
    91
    """
    return timedelta(days=round(judgement(name) * DAYS_PER_YEAR))


def judged_day(name: str) -> tuple[int, int]:
    """Return the month and day of a judged day of the year.

    >>> judged_day("last_frost")
    (4, 20)
    """
    day = date(COMMON_YEAR, 1, 1) + judged_time(name) - timedelta(days=1)
    return day.month, day.day


def usual_frosts(hemisphere: str) -> tuple[tuple[int, int], tuple[int, int]]:
    """Return month and day of the last and of the first frost, judged for the north; in the south they swap.

    >>> usual_frosts("north")[0] == usual_frosts("south")[1]
    True
    """
    spring, autumn = judged_day("last_frost"), judged_day("first_frost")
    return (autumn, spring) if hemisphere == "south" else (spring, autumn)


@cache
def judged_months(first: str, last: str, hemisphere: str) -> frozenset[int]:
    """Return the months from one to another, judged for the north; in the south six months on.

    >>> sorted(judged_months("nesting_from", "nesting_to", "south"))
    [1, 2, 9, 10, 11, 12]
    """
    later = 0 if hemisphere == "north" else 6
    months = range(round(judgement(first)), round(judgement(last)) + 1)
    return frozenset((month + later - 1) % 12 + 1 for month in months)
