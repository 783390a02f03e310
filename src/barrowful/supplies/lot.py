"""Lots: loose material that is there from a day on, and how they come again."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date
from typing import NamedTuple

from barrowful.measures.dates import Step

YEAR = Step(months=12)
#: What rounding may leave over of what is wanted [m3].
LEAST_WANTED = 1e-9


class Lot(NamedTuple):
    """Loose material [m3] that is there from a day on; infinite when only money limits it."""

    day: date
    loose: float


class LotsRange(NamedTuple):
    """The figure that lots go by: what it is of, its name, and lots low and high as shares of the likely."""

    of: str
    name: str
    low: float
    high: float


def yearly(first: date, until: date, loose: float) -> list[Lot]:
    """Return equal lots on the same day each year."""
    lots, count = [], 0
    while (day := YEAR.times(count).after(first)) <= until:
        lots.append(Lot(day, loose))
        count += 1
    return lots


def together(lots: Iterable[Lot]) -> list[Lot]:
    """Return lots in the order of their days, those of one day as one."""
    days: dict[date, float] = {}
    for lot in sorted(lots):
        days[lot.day] = days.get(lot.day, 0.0) + lot.loose
    return [Lot(day, loose) for day, loose in days.items()]


def repeated(lots: list[Lot], horizon: date, until: date) -> list[Lot]:
    """Return lots known up to a horizon, with their last year repeated until a later day."""
    if until <= horizon or not lots:
        return [lot for lot in lots if lot.day <= until]
    start = Step(months=-12).after(horizon)
    pattern = [lot for lot in lots if lot.day > start]
    found, count = list(lots), 1
    while pattern and YEAR.times(count).after(start) <= until:
        found += [Lot(YEAR.times(count).after(lot.day), lot.loose) for lot in pattern]
        count += 1
    return [lot for lot in found if lot.day <= until]


def brought_of(lots: list[Lot], days: Mapping[date, float]) -> dict[date, float]:
    """Return what is drawn by the day of the lot it is of, the earliest first; what is beyond, on its day."""
    left, brought = {lot.day: lot.loose for lot in lots}, dict[date, float]()
    for built, wanted in sorted(days.items()):
        for day in sorted(day for day in left if day <= built):
            part = min(left[day], wanted)
            left[day], wanted = left[day] - part, wanted - part
            if part > 0:
                brought[day] = brought.get(day, 0.0) + part
        if wanted > LEAST_WANTED:
            brought[built] = brought.get(built, 0.0) + wanted
    return brought
