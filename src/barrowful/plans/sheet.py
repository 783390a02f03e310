"""The order sheet: what to order of whom by when, and who gets which part of each order."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from barrowful.effort.orders import Order, break_even
from barrowful.measures.dates import Step
from barrowful.measures.problems import CannotMeet
from barrowful.plans.choices import chosen as cheapest_each
from barrowful.plans.choices import cost_of, needs_of, shared_doses
from barrowful.plans.doses import Dose
from barrowful.plans.options import Answer, Option, make_option, options, plan_for
from barrowful.plans.supply import Cost, Supply, place_orders
from barrowful.site.records import Buy, Place, Planned, Site


@dataclass(frozen=True)
class OrderLine:
    """One order: the day it is needed, the day to place it, the seller's terms and the needs."""

    needed: date
    order_by: date
    way: Buy
    order: Order
    needs: tuple[str, ...]


@dataclass(frozen=True)
class ShareLine:
    """What one place gets of one way on a day, loose [m3]."""

    way: str
    dose: Dose


@dataclass(frozen=True)
class BreakEven:
    """Bags against bulk of the same material: the volume [m3] from which bulk is cheaper."""

    bags: Buy
    bulk: Buy
    volume: float | None


@dataclass(frozen=True)
class Sheet:
    """Orders, shares, bag-against-bulk, and the needs nothing meets."""

    orders: list[OrderLine]
    shares: list[ShareLine]
    break_evens: list[BreakEven]
    unmet: list[str]
    answer: Answer
    chosen: list[Option]


def decisions(site: Site, answer: Answer, way: str = "") -> list[Option]:
    """Return the options to follow: the plan's, one way's, or the cheapest for each need."""
    if way:
        return [row for row in answer.options if row.way.name == way and row.plan.doses]
    if site.plan:
        return [_planned(site, answer, line) for line in site.plan]
    return cheapest_each(answer)


def _planned(site: Site, answer: Answer, line: Planned) -> Option:
    place = next(place for place in site.places if place.name == line.place)
    supply = answer.supplies[line.way]
    plan = plan_for(site, line.need, [place], supply)
    if line.amount is not None or line.day is not None:
        plan.doses = _as_written(site, line, place, plan.doses, supply)
        plan.ready_on = max((dose.day for dose in plan.doses), default=None)
    return make_option(site, line.need, supply, [place], plan)


def _as_written(site: Site, line: Planned, place: Place, reckoned: list[Dose], supply: Supply) -> list[Dose]:
    need = place.need(line.need)
    assert need is not None
    loose = sum(dose.loose for dose in reckoned)
    if line.amount is not None:
        loose = line.amount.loose(supply.material.get("density") or float("nan"))
    lots = supply.lots(site.end)
    first = reckoned[0].day if reckoned else lots[0].day if lots else site.start
    return [Dose(place, need, line.day or first, loose)] if loose > 0 else []


def chosen_options(site: Site, way: str = "") -> tuple[Answer, list[Option]]:
    """Return all options and those to follow; raise :class:`CannotMeet` for an unknown way."""
    if way and way not in {one.name for one in site.ways}:
        raise CannotMeet(f'there is no way "{way}" in this site file')
    answer = options(site)
    return answer, decisions(site, answer, way)


def sheet(site: Site, way: str = "") -> Sheet:
    """Return the order sheet of the options to follow."""
    answer, chosen = chosen_options(site, way)
    by_way: dict[str, list[Option]] = {}
    for row in chosen:
        by_way.setdefault(row.way.name, []).append(row)
    cost, shares = Cost(), []
    wanted: dict[str, dict[str, None]] = {}
    for name, rows in by_way.items():
        doses = shared_doses(rows)
        shares += [ShareLine(name, dose) for dose in doses]
        more = cost_of(answer.supplies[name], doses)
        cost += more
        for draw in more.bought:
            wanted.setdefault(draw.way.name, {}).update(dict.fromkeys(row.need for row in rows))
    orders = [
        OrderLine(one.day, order_day(one.way, one.day, site), one.way, one.order, tuple(wanted[one.way.name]))
        for one in place_orders(cost.bought, site.currency)
    ]
    unmet = [kind for kind in needs_of(site) if kind not in {row.need for row in chosen}]
    return Sheet(
        sorted(orders, key=lambda line: (line.order_by, line.way.name)), shares, _break_evens(site), unmet,
        answer, chosen,
    )  # fmt: skip


def order_day(seller: Buy, needed: date, site: Site) -> date:
    """Return the last day to order for a delivery on a day; not before the start."""
    lead = Step(months=-seller.lead.months, days=-seller.lead.days)
    return max(lead.after(needed), site.start)


def _break_evens(site: Site) -> list[BreakEven]:
    bought = [way for way in site.ways if isinstance(way, Buy)]
    return [
        BreakEven(bags, bulk, break_even(bags, bulk))
        for bags in bought
        if bags.selling.word == "bag"
        for bulk in bought
        if bulk.selling.word != "bag" and bulk.material.name == bags.material.name
    ]
