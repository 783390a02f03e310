"""What yearly doses of a raise tend to, and what they have become year by year."""

from __future__ import annotations

from collections import defaultdict
from functools import lru_cache
from itertools import accumulate
from operator import mul
from typing import Any

from barrowful.measures.dates import DAYS_PER_YEAR, Step, years_between
from barrowful.needs.raise_task import Pulses, RaiseTask
from barrowful.soil.turnover import Turnover
from barrowful.supplies.stock import FAR_YEARS, MOST_KEPT
from barrowful.supplies.supply import Supply


@lru_cache(maxsize=MOST_KEPT)
def last_year(supply: Supply[Any]) -> dict[float, float]:
    """Return what comes [m3] in the last year before the end, by its time of that year."""
    before = Step(months=-12).after(supply.site.end)
    year: dict[float, float] = defaultdict(float)
    for lot in supply.lots(supply.site.end):
        if lot.day > before:
            year[years_between(before, lot.day)] += lot.loose
    return year


def steady(turnover: Turnover, doses: list[tuple[float, float]], phase: float) -> float:
    """Return what counts just before a phase of the year when doses have come every year for ever."""
    return sum(dose * turnover.counted_forever((phase - when) % 1.0 or 1.0) for when, dose in doses)


def level(supply: Supply[Any], task: RaiseTask, part: float) -> float:
    """Return the carbon [kg/m2] that a part [1/m2] of what comes each year tends to, at its lowest."""
    year = last_year(supply).items()
    doses = [(when, min(loose * part, task.most) * task.per_loose) for when, loose in year]
    return min((steady(task.turnover, doses, phase) for phase, _ in doses), default=0.0)


@lru_cache(maxsize=256)
def years_ahead(turnover: Turnover) -> tuple[tuple[int, float, tuple[float, ...]], ...]:
    """Return for each year that is looked ahead its day, what yearly doses of one carbon have become by
    then, and what is left of each part of what lay there before; years with nothing made are left out.
    """
    years = range(1, FAR_YEARS + 1)
    made = accumulate(turnover.counted(float(year)) for year in years)
    days = (round(year * DAYS_PER_YEAR) for year in years)
    left = (turnover.counting.passed(float(year)) for year in years)
    return tuple(row for row in zip(days, made, left, strict=True) if row[1] > 0)


def yearly_to_hold(task: RaiseTask, doses: Pulses, day: int | None) -> float | None:
    """Return the carbon [kg/m2] of yearly doses that never let a task drop from a day that doses hold it on.

    Each year's end until then asks for (what is missing) / (what so many yearly doses have become). Where
    there is no such day it is what levels off at the target: None where nothing does.
    """
    if day is None:
        forever = task.turnover.counted_forever(1.0)
        return task.utmost / forever if forever > 0 else None
    most = 0.0
    lying = [(loose * task.per_loose, (day - on) / DAYS_PER_YEAR) for on, loose in doses]
    parts = task.turnover.counting.parts(lying)
    for days, made, left in years_ahead(task.turnover):
        most = max(most, (task.missing(day + days) - sum(map(mul, parts, left))) / made)
        if most * made >= task.utmost:  # no later year can ask for more
            break
    return most
