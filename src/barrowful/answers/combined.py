"""One material for several needs of a place: what goes on once, and what it then costs together."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from typing import Any

from barrowful.answers.options import Answer, Option, cash_of, placing_hours
from barrowful.costs.labour import Hours
from barrowful.needs.raising import larger
from barrowful.needs.registry import NEEDS
from barrowful.soil.application import Application, draws_of
from barrowful.supplies.purchase import PlacedOrder, place_orders
from barrowful.supplies.supply import Cost, Payment, Supply


@dataclass(frozen=True)
class Combined:
    """Several options carried out together: doses by way, orders, other payments, cash and hours."""

    doses: dict[str, list[Application]]
    orders: list[PlacedOrder]
    paid: tuple[Payment, ...]
    cash: Decimal
    hours: Hours

    @property
    def loose(self) -> float:
        """Return the loose volume put on [m3]."""
        return sum(dose.loose for doses in self.doses.values() for dose in doses)


def combined(answer: Answer, rows: list[Option]) -> Combined:
    """Return what options cost carried out together: each order placed once, doses shared."""
    site = answer.site
    cost, hours, doses = Cost(), Hours(), doses_of(answer, rows)
    founded = {row.way.name for row in rows if row.decision.founds}
    for name, own in doses.items():
        supply = answer.supplies[name]
        cost += cost_of(supply, own)
        if name in founded:
            cost += supply.founding(1)
        hours += placing_hours(site, own, supply)
    orders = place_orders(cost.bought, site.currency)
    return Combined(doses, orders, cost.paid, cash_of(orders, cost), hours + cost.hours)


def overdrawn(answer: Answer, rows: list[Option]) -> list[str]:
    """Return, for each way that options together ask more of than it has brought, what they ask."""
    wanted: dict[str, dict[date, float]] = {}
    for name, doses in doses_of(answer, rows).items():
        supply, draws = answer.supplies[name], draws_of(doses)
        asked = [(name, draws), *supply.passed_on(draws)] if draws else []
        for way, part in asked:
            days = wanted.setdefault(way, {})
            for day, loose in part.items():
                days[day] = days.get(day, 0.0) + loose
    said = (_short(answer.supplies[name], days) for name, days in wanted.items())
    return [sentence for sentence in said if sentence]


def _short(supply: Supply[Any], draws: dict[date, float]) -> str:
    """Return what is asked of a supply by the first day it has not brought as much, or nothing."""
    if not supply.limited:
        return ""
    wanted = 0.0
    lots = supply.lots(max(draws))
    for day, loose in sorted(draws.items()):
        wanted = wanted + loose if supply.keeps else loose
        there = sum(lot.loose for lot in lots if lot.day == day or (supply.keeps and lot.day < day))
        if wanted > there * (1 + 1e-6) + 1e-9:
            by = "by" if supply.keeps else "on"
            return f"{supply.way.name} is to bring {wanted:.2f} m3 {by} {day}, but brings only {there:.2f}"
    return ""


def cost_of(supply: Supply[Any], doses: Sequence[Application]) -> Cost:
    """Return what doses drawn from one supply cost; what is bought knows the needs it is for."""
    draws = draws_of(doses)
    if not draws:
        return Cost()
    kinds: dict[date, list[str]] = {}
    for dose in doses:
        kinds.setdefault(dose.day, []).append(dose.kind)
    every = tuple(dict.fromkeys(dose.kind for dose in doses))
    cost = supply.cost(draws)
    bought = tuple(
        replace(draw, needs=tuple(dict.fromkeys(kinds[draw.day])) if draw.way is supply.way else every)
        for draw in cost.bought
    )
    return replace(cost, bought=bought)


def doses_of(answer: Answer, rows: list[Option]) -> dict[str, list[Application]]:
    """Return the doses by way: of one material the larger dose for each place, not the sum.

    Compost that raises a bed feeds it too. Where the larger dose is another need's, it is dug in and
    held against the raise; if the target is not met so, the raise keeps its own doses and only what
    the other need still lacks is added. A fill is apart, it makes the bed; a plan's lines stand as
    they are written.
    """
    shared: list[Application] = []
    stuffs: dict[str, list[Option]] = {}
    for row in rows:
        if row.decision.as_written or NEEDS[row.need].makes_ground:
            shared += row.decision.doses
        else:
            stuffs.setdefault(answer.supplies[row.way.name].stuff, []).append(row)
    for alike in stuffs.values():
        supply = answer.supplies[alike[0].way.name]
        for groups in _by_place(alike):
            shared += larger(answer.site, supply, groups)
    doses: dict[str, list[Application]] = {row.way.name: [] for row in rows}
    for dose in shared:
        doses[dose.way].append(dose)
    return doses


def all_doses(answer: Answer, rows: list[Option]) -> list[Application]:
    """Return the doses of options carried out together, of every way."""
    return [dose for doses in doses_of(answer, rows).values() for dose in doses]


def _by_place(rows: list[Option]) -> list[list[list[Application]]]:
    """Return for each place the doses that each option brings it."""
    places: dict[str, dict[int, list[Application]]] = {}
    for number, row in enumerate(rows):
        for dose in row.decision.doses:
            places.setdefault(dose.place.name, {}).setdefault(number, []).append(dose)
    return [list(groups.values()) for groups in places.values()]
