"""One material for several needs of a place: what goes on once, and what it then costs together."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal

from barrowful.answers.options import Answer, Option, cash_of, placing_hours
from barrowful.costs.labour import Hours
from barrowful.needs.doses import Dose, draws_of
from barrowful.needs.raise_task import task
from barrowful.site.records import Place, Raise, Site
from barrowful.supplies.crop.crop import Crop
from barrowful.supplies.heap.heap import Heap
from barrowful.supplies.purchase import PlacedOrder, Purchase, place_orders
from barrowful.supplies.supply import YEAR, Cost, Payment, Supply

#: A dose with the name of the way that brings it.
Brought = tuple[str, Dose]


@dataclass(frozen=True)
class Combined:
    """Several options carried out together: doses by way, orders, other payments, cash and hours."""

    doses: dict[str, list[Dose]]
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
    founded = {row.way.name for row in rows if row.plan.founds}
    for name, own in doses.items():
        supply = answer.supplies[name]
        cost += cost_of(supply, own)
        if isinstance(supply, Crop) and name in founded:
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


def _short(supply: Supply, draws: dict[date, float]) -> str:
    """Return what is asked of a supply by the first day it has not brought as much, or nothing."""
    if isinstance(supply, Purchase):
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


def cost_of(supply: Supply, doses: list[Dose]) -> Cost:
    """Return what doses drawn from one supply cost; what is bought knows the needs it is for."""
    draws = draws_of(doses)
    if not draws:
        return Cost()
    kinds: dict[date, list[str]] = {}
    for dose in doses:
        kinds.setdefault(dose.day, []).append(dose.need.kind)
    every = tuple(dict.fromkeys(dose.need.kind for dose in doses))
    cost = supply.cost(draws)
    bought = tuple(
        replace(draw, needs=tuple(dict.fromkeys(kinds[draw.day])) if draw.way is supply.way else every)
        for draw in cost.bought
    )
    return replace(cost, bought=bought)


def doses_of(answer: Answer, rows: list[Option]) -> dict[str, list[Dose]]:
    """Return the doses by way: of one material the larger dose for each place, not the sum.

    Compost that raises a bed feeds it too. Where the larger dose is another need's, it is dug in and
    held against the raise; if the target is not met so, the raise keeps its own doses and only what
    the other need still lacks is added. A fill is apart, it makes the bed; a plan's lines stand as
    they are written.
    """
    found: list[Brought] = []
    materials: dict[str, list[Option]] = {}
    for row in rows:
        if row.plan.as_written or row.need == "fill":
            found += brought(row)
        else:
            materials.setdefault(_stuff(answer, row), []).append(row)
    for shared in materials.values():
        supply = answer.supplies[shared[0].way.name]
        for groups in _by_place(shared):
            found += _of_place(answer.site, supply, groups)
    doses: dict[str, list[Dose]] = {row.way.name: [] for row in rows}
    for name, dose in found:
        doses[name].append(dose)
    return doses


def brought(row: Option) -> list[Brought]:
    """Return the doses of an option with the name of its way."""
    return [(row.way.name, dose) for dose in row.plan.doses]


def _stuff(answer: Answer, row: Option) -> str:
    """Return what two options must share to bring the same stuff: each heap makes its own."""
    own = isinstance(answer.supplies[row.way.name], Heap)
    return f"heap {row.way.name}" if own else row.material.name


def _by_place(rows: list[Option]) -> list[list[list[Brought]]]:
    """Return for each place the doses that each option brings it."""
    places: dict[str, dict[int, list[Brought]]] = {}
    for number, row in enumerate(rows):
        for one in brought(row):
            places.setdefault(one[1].place.name, {}).setdefault(number, []).append(one)
    return [list(groups.values()) for groups in places.values()]


def _of_place(site: Site, supply: Supply, groups: list[list[Brought]]) -> list[Brought]:
    raising = next((group for group in groups if isinstance(group[0][1].need, Raise)), None)
    largest = max(groups, key=_total, default=[])
    if raising is None or largest is raising or not largest:
        return largest
    need = raising[0][1].need
    assert isinstance(need, Raise)
    dug = [(name, replace(dose, need=need)) for name, dose in largest]
    if _raises(site, supply, largest[0][1].place, need, dug, raising):
        return dug
    season = [one for one in raising if one[1].day < YEAR.after(site.start)]
    lacking = _total(largest) - _total(season)
    name, first = largest[0]
    return [*raising, (name, replace(first, loose=lacking))] if lacking > 0 else raising


def _total(doses: list[Brought]) -> float:
    return sum(dose.loose for _, dose in doses)


def _raises(
    site: Site, supply: Supply, place: Place, need: Raise, doses: list[Brought], own: list[Brought]
) -> bool:
    """Say whether doses dug in meet a raise on its day: its date, or a year after its first dose."""
    by = need.by or YEAR.after(min(dose.day for _, dose in own))
    one = task(site, place, need, supply)
    return one.holds([(dose.day, dose.loose) for _, dose in doses], by)
