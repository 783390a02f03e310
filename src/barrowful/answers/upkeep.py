"""Keeping a cover up over the horizon: when it is topped up, with how much, and what that costs."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from barrowful.answers.options import Answer, Option
from barrowful.measures.dates import years_between
from barrowful.needs.cover import Covering
from barrowful.soil.application import Application
from barrowful.supplies.purchase import place_orders


@dataclass(frozen=True)
class Upkeep:
    """Top-ups of a cover option: days, loose volume in all [m3], cash with the first fill, m2-years."""

    days: tuple[date, ...]
    loose: float
    cash: Decimal | None
    area_years: float


def upkeep(answer: Answer, option: Option) -> Upkeep | None:
    """Return what it takes to keep a cover up to the horizon's end; None for anything else.

    Each place is topped up when its layer falls to the share it is to be kept above. Cash is known
    for what is bought; other ways cost no more cash than the first fill.
    """
    site, covering = answer.site, Covering()
    covers = [dose for dose in option.decision.doses if dose.kind == covering.kind]
    if not covers or not option.feasible or option.material.lacks("lasts", "in_place"):
        return None
    put_on = _last_days(covers)
    draws: list[tuple[date, float]] = []
    area_years = 0.0
    for place in option.places:
        last = put_on.get(place.name, site.start)
        area_years += place.total_area * years_between(last, site.end)
        draws += covering.top_ups(site, place, option.material, last, site.end)
    days = tuple(sorted({day for day, _ in draws}))
    return Upkeep(days, sum(loose for _, loose in draws), _cash(answer, option, draws), area_years)


def _last_days(doses: list[Application]) -> dict[str, date]:
    """Return the last day something is put on each place."""
    found: dict[str, date] = {}
    for dose in doses:
        found[dose.place.name] = max(dose.day, found.get(dose.place.name, dose.day))
    return found


def _cash(answer: Answer, option: Option, draws: list[tuple[date, float]]) -> Decimal | None:
    """Return the cash of the first fill and every top-up, ordered as they fall due."""
    supply = answer.supplies[option.way.name]
    if supply.limited:
        return option.cash
    every = [(dose.day, dose.loose) for dose in option.decision.doses] + draws
    bought = [draw for day, loose in every for draw in supply.cost({day: loose}).bought]
    return sum((placed.order.cash for placed in place_orders(bought, answer.site.currency)), Decimal(0))
