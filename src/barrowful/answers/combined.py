"""One material for several needs of a place: what goes on once, and what it then costs together."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from typing import Any

from barrowful.answers.options import Answer, Option, cash_of, placing_hours
from barrowful.answers.together import doses_of
from barrowful.costs.labour import Hours
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
