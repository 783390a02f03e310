"""Keeping a cover up over the horizon: when it is topped up, and with how much."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import NamedTuple

from barrowful.answers.option import Option
from barrowful.measures.dates import years_between
from barrowful.needs.cover import Covering
from barrowful.site.records import Site


class Upkeep(NamedTuple):
    """Top-ups of a cover option: days, loose volume in all [m3], cash with the first fill, m2-years."""

    days: tuple[date, ...]
    loose: float
    cash: Decimal
    area_years: float


def upkeep(site: Site, option: Option) -> Upkeep | None:
    """Return what it takes to keep a cover up to the horizon's end; None for anything else."""
    if option.need != Covering.kind or not option.decision.feasible or not option.decision.every_dose:
        return None
    last = {dose.place.name: dose.day for dose in sorted(option.decision.doses, key=lambda dose: dose.day)}
    later = option.decision.later
    return Upkeep(
        days=tuple(sorted({dose.day for dose in later})),
        loose=sum(dose.loose for dose in later),
        cash=option.cash,
        area_years=sum(
            place.total_area * years_between(last.get(place.name, site.start), site.end)
            for place in option.places
        ),
    )
