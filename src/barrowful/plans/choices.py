"""From rows to advice: the cheapest by your dates, the fastest, least cash, and the whole site."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from barrowful.effort.labour import Hours
from barrowful.plans.doses import Dose
from barrowful.plans.growing import Grown
from barrowful.plans.options import (
    NEED_ORDER,
    Answer,
    Choice,
    Option,
    cash_of,
    placing_hours,
    total_cost,
)  # fmt: skip
from barrowful.plans.supply import Cost, Placed, Supply, place_orders
from barrowful.site.records import Site


@dataclass(frozen=True)
class WholeSite:
    """One way for all it can serve, or the cheapest way for each need: totals over the site."""

    title: str
    met: tuple[str, ...]
    unmet: tuple[str, ...]
    loose: float
    orders: tuple[Placed, ...]
    cash: Decimal
    hours: Hours
    ready_on: date | None


def needs_of(site: Site) -> list[str]:
    """Return the kinds of need there are on a site, in order."""
    return [kind for kind in NEED_ORDER if any(place.need(kind) for place in site.places)]


def serves_all(site: Site, option: Option) -> bool:
    """Say whether an option reaches every place with its need."""
    wanted = sum(1 for place in site.places if place.need(option.need))
    return option.feasible and len(option.places) == wanted


def cheapest(answer: Answer, kind: str) -> Option | None:
    """Return the feasible option that serves every place of a need at least cost."""
    hourly = answer.site.labour.hourly_value
    rows = [row for row in answer.options if row.need == kind and serves_all(answer.site, row)]
    return min(
        rows, key=lambda row: (total_cost(row, hourly), row.hours.likely, row.plan.ready_on), default=None
    )


def choices(answer: Answer) -> list[Choice]:
    """Return the three plain answers for each kind of need."""
    found = []
    for kind in needs_of(answer.site):
        rows = [row for row in answer.options if row.need == kind and row.plan.doses]
        served = [row for row in rows if serves_all(answer.site, row)]
        waits = [row for row in rows if row.plan.ready_on is not None]
        found += [
            _choice(answer.site, "cheapest by your dates", kind, cheapest(answer, kind)),
            _choice(answer.site, "fastest", kind, min(served, key=_by_date, default=None)),
            _choice(answer.site, "least cash at any wait", kind, min(waits, key=_by_cash, default=None)),
        ]
    return found


def chosen(answer: Answer) -> list[Option]:
    """Return the cheapest option by your dates for each kind of need."""
    return [row for kind in needs_of(answer.site) if (row := cheapest(answer, kind)) is not None]


def _by_date(row: Option) -> tuple[date, Decimal, float]:
    return row.plan.ready_on or date.max, row.cash, row.hours.likely


def _by_cash(row: Option) -> tuple[Decimal, date, float]:
    return row.cash, row.plan.ready_on or date.max, row.hours.likely


def _choice(site: Site, question: str, kind: str, option: Option | None) -> Choice:
    if option is None:
        return Choice(question, kind, None, f"{kind}, {question}: no way meets it.")
    ready = f"ready {option.plan.ready_on}" if option.plan.ready_on else "with no day in sight"
    late = "" if option.feasible else ", too late for your date"
    return Choice(
        question, kind, option,
        f"{kind}, {question}: {option.way.name}, {option.cash:,} {site.currency} and "
        f"{option.hours.likely:.1f} h, {ready}{late}.",
    )  # fmt: skip


def whole_site(answer: Answer) -> list[WholeSite]:
    """Return totals for each way over all it serves, and for the cheapest way for each need."""
    needs = needs_of(answer.site)
    found = []
    for supply in answer.supplies.values():
        rows = [row for row in answer.options if row.way.name == supply.way.name]
        if rows:
            found.append(_together(answer, supply.way.name, rows, needs))
    best = chosen(answer)
    if best:
        found.append(_together(answer, "cheapest for each need", best, needs))
    return found


def _together(answer: Answer, title: str, rows: list[Option], needs: list[str]) -> WholeSite:
    met = tuple(row.need for row in rows if serves_all(answer.site, row))
    by_way: dict[str, list[Option]] = {}
    for row in rows:
        by_way.setdefault(row.way.name, []).append(row)
    cost, hours, loose = Cost(), Hours(), 0.0
    for name, group in by_way.items():
        supply = answer.supplies[name]
        doses = shared_doses([row for row in group if row.feasible])
        more = cost_of(supply, doses)
        if isinstance(supply, Grown) and any(row.plan.founds for row in group):
            more += supply.founding(1)
        cost += more
        hours += more.hours + placing_hours(answer.site, doses, supply)
        loose += sum(dose.loose for dose in doses)
    days = [row.plan.ready_on for row in rows if row.feasible and row.plan.ready_on]
    unmet = tuple(kind for kind in needs if kind not in met)
    orders = tuple(place_orders(cost.bought, answer.site.currency))
    return WholeSite(title, met, unmet, loose, orders, cash_of(orders, cost), hours, max(days, default=None))


def cost_of(supply: Supply, doses: list[Dose]) -> Cost:
    """Return what doses drawn from one supply cost together."""
    draws: dict[date, float] = {}
    for dose in doses:
        draws[dose.day] = draws.get(dose.day, 0.0) + dose.loose
    return supply.cost(draws) if draws else Cost()


def shared_doses(rows: list[Option]) -> list[Dose]:
    """Return the doses of one material for several needs: in each place the largest, not the sum.

    Compost that raises a bed feeds it too. A fill is apart: it makes the bed.
    """
    largest: dict[tuple[str, bool], list[Dose]] = {}
    for row in rows:
        for place in row.places:
            doses = [dose for dose in row.plan.doses if dose.place is place]
            key = (place.name, row.need == "fill")
            if sum(dose.loose for dose in doses) > sum(dose.loose for dose in largest.get(key, [])):
                largest[key] = doses
    return [dose for doses in largest.values() for dose in doses]
