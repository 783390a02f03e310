"""One material for several needs of a place: what goes on once, and what it then costs together."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal

from barrowful.effort.labour import Hours
from barrowful.plans.doses import Dose
from barrowful.plans.growing import Grown
from barrowful.plans.options import Answer, Option, cash_of, placing_hours
from barrowful.plans.raising import task
from barrowful.plans.supply import YEAR, Cost, Placed, Supply, place_orders
from barrowful.site.records import Place, Raise, Site


@dataclass(frozen=True)
class Together:
    """Several options carried out together: doses by way, orders, cash and hours."""

    doses: dict[str, list[Dose]]
    orders: list[Placed]
    cash: Decimal
    hours: Hours

    @property
    def loose(self) -> float:
        """Return the loose volume put on [m3]."""
        return sum(dose.loose for doses in self.doses.values() for dose in doses)


def by_way(rows: Iterable[Option]) -> dict[str, list[Option]]:
    """Return rows grouped by the name of their way, in order."""
    groups: dict[str, list[Option]] = {}
    for row in rows:
        groups.setdefault(row.way.name, []).append(row)
    return groups


def draws_of(doses: Iterable[Dose]) -> dict[date, float]:
    """Return the loose volume [m3] wanted on each day."""
    draws: dict[date, float] = {}
    for dose in doses:
        draws[dose.day] = draws.get(dose.day, 0.0) + dose.loose
    return draws


def together(answer: Answer, rows: list[Option]) -> Together:
    """Return what options cost carried out together: each order placed once, doses shared."""
    site = answer.site
    cost, hours, doses = Cost(), Hours(), {}
    for name, group in by_way(rows).items():
        supply = answer.supplies[name]
        doses[name] = shared_doses(site, supply, group)
        more = cost_of(supply, doses[name])
        if isinstance(supply, Grown) and any(row.plan.founds for row in group):
            more += supply.founding(1)
        cost += more
        hours += placing_hours(site, doses[name], supply)
    orders = place_orders(cost.bought, site.currency)
    return Together(doses, orders, cash_of(orders, cost), hours + cost.hours)


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


def shared_doses(site: Site, supply: Supply, rows: list[Option]) -> list[Dose]:
    """Return the doses of one material for several needs: in each place the larger, not the sum.

    Compost that raises a bed feeds it too. Where the larger dose is another need's, it is dug in and
    held against the raise; if the target is not met so, the raise keeps its own doses and only what
    the other need still lacks is added. A fill is apart, it makes the bed; a plan's lines stand as
    they are written.
    """
    found: list[Dose] = []
    for kept in (row for row in rows if row.plan.as_written or row.need == "fill"):
        found += kept.plan.doses
    shared = [row for row in rows if not row.plan.as_written and row.need != "fill"]
    for place in dict.fromkeys(place for row in shared for place in row.places):
        found += _of_place(site, supply, place, shared)
    return found


def _of_place(site: Site, supply: Supply, place: Place, rows: list[Option]) -> list[Dose]:
    groups = [[dose for dose in row.plan.doses if dose.place is place] for row in rows]
    groups = [group for group in groups if group]
    raising = next((group for group in groups if isinstance(group[0].need, Raise)), None)
    largest = max(groups, key=_total, default=[])
    if raising is None or largest is raising or not largest:
        return largest
    need = raising[0].need
    assert isinstance(need, Raise)
    dug = [replace(dose, need=need) for dose in largest]
    if _raises(site, supply, place, need, dug, raising):
        return dug
    season = [dose for dose in raising if dose.day < YEAR.after(site.start)]
    lacking = _total(largest) - _total(season)
    return [*raising, replace(largest[0], loose=lacking)] if lacking > 0 else raising


def _total(doses: list[Dose]) -> float:
    return sum(dose.loose for dose in doses)


def _raises(
    site: Site, supply: Supply, place: Place, need: Raise, doses: list[Dose], own: list[Dose]
) -> bool:
    """Say whether doses dug in meet a raise on its day: its date, or a year after its first dose."""
    by = need.by or YEAR.after(min(dose.day for dose in own))
    one = task(site, place, need, supply)
    return one.holds([(dose.day, dose.loose) for dose in doses], by)
