"""What all that is put on costs together: each way's doses priced once, each seller's orders placed once."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import Any

from barrowful.answers.costs import Bill, cash_of, collecting_hours, cost_of, placing_hours
from barrowful.answers.known import Use
from barrowful.answers.options import Answer
from barrowful.costs.labour import Hours
from barrowful.soil.application import Application
from barrowful.supplies.lot import YEAR
from barrowful.supplies.placing import place_orders
from barrowful.supplies.purchase import least_cash
from barrowful.supplies.supply import Cost, Supply


def left_over(bill: Bill) -> Decimal:
    """Return what is paid for stuff that is left over [money], which may serve others for nothing."""
    over = (placed for placed in bill.orders if placed.order.leftover)
    return sum((least_cash(placed.way, placed.order.leftover) for placed in over), Decimal(0))


def bill_of(answer: Answer, uses: Iterable[Use]) -> Bill:
    """Return what all costs together."""
    costs = [_cost_of(answer, use) for use in uses]
    known, key = answer.bills, tuple(map(id, costs))
    if key not in known:
        known[key] = _bill(answer, costs)
    return known[key]


def _bill(answer: Answer, costs: Sequence[tuple[Cost, Hours]]) -> Bill:
    """Return what all costs together, of what each way costs and the hours to put it on."""
    site, cost, hours = answer.site, Cost(), Hours()
    for of_way, placing in costs:
        cost, hours = cost + of_way, hours + placing
    orders = tuple(place_orders(cost.bought, site, answer.placed))
    return Bill(
        orders=orders,
        paid=cost.paid,
        cash=cash_of(orders, cost.paid),
        cash_first_year=cash_of(orders, cost.paid, YEAR.after(site.start)),
        hours=hours + cost.hours + collecting_hours(orders),
    )


def _cost_of(answer: Answer, use: Use) -> tuple[Cost, Hours]:
    """Return what doses of one way cost, and the hours to put them on; worked out once for the same."""
    way, founds, doses = use
    known, key = answer.costs, (way, founds, tuple(map(id, doses)))
    if key not in known:
        supply = answer.supplies[way]
        known[key] = cost_with_needs(supply, doses, founds), placing_hours(answer.site, doses, supply)
        answer.kept.append(doses)
    return known[key]


def cost_with_needs(supply: Supply[Any], doses: Sequence[Application], founds: bool) -> Cost:
    """Return what doses drawn from one supply cost; what is bought knows the needs it is for."""
    cost = cost_of(supply, doses, founds)
    kinds: dict[date, list[str]] = {}
    for dose in doses:
        kinds.setdefault(dose.day, []).append(dose.kind)
    every = tuple(dict.fromkeys(dose.kind for dose in doses))
    bought = tuple(
        draw._replace(needs=tuple(dict.fromkeys(kinds[draw.day])) if draw.way is supply.way else every)
        for draw in cost.bought
    )
    return replace(cost, bought=bought)
