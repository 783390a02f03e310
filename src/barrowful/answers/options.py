"""The main job: each way applied to the needs it can serve, side by side."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from datetime import date
from decimal import Decimal

from barrowful.catalogue.materials import Material
from barrowful.costs.labour import Hours, spreading, work
from barrowful.costs.order import Order, round_up
from barrowful.needs.doses import CannotServe, Dose, Plan, draws_of, plan_amounts
from barrowful.needs.outcome import Outcome, outcome_of
from barrowful.needs.raising import plan_raise
from barrowful.site.records import Place, Site
from barrowful.site.ways import Buy, Grow, Have, Make, Way
from barrowful.supplies.crop.crop import Crop
from barrowful.supplies.heap.heap import Heap
from barrowful.supplies.purchase import PlacedOrder, Purchase, place_orders
from barrowful.supplies.stockpile import Stockpile
from barrowful.supplies.supply import Cost, Supply

NEED_ORDER = ("cover", "dress", "raise", "feed", "fill")


@dataclass(frozen=True)
class Option:
    """One way applied to one kind of need in some places: order, cash, hours, waiting, result."""

    need: str
    way: Way
    material: Material
    places: tuple[Place, ...]
    plan: Plan
    orders: tuple[PlacedOrder, ...]
    cash: Decimal
    hours: Hours
    barrow: float
    leaves: Outcome
    beaten_by: str = ""

    @property
    def loose(self) -> float:
        """Return the loose volume brought to the places [m3]."""
        return sum(dose.loose for dose in self.plan.doses)

    @property
    def mass(self) -> float | None:
        """Return the wet mass [kg]."""
        return None if self.material.lacks("density") else self.material.wet_mass(self.loose)

    @property
    def dry(self) -> float | None:
        """Return the dry mass [kg]."""
        known = self.mass is not None and not self.material.lacks("moisture")
        return self.material.dry_of(self.mass) if known and self.mass is not None else None

    @property
    def own_orders(self) -> list[Order]:
        """Return the orders placed with this way's own seller."""
        return [placed.order for placed in self.orders if placed.way.name == self.way.name]

    @property
    def feasible(self) -> bool:
        """Say whether the need is met in every place in time."""
        return self.plan.feasible

    @property
    def area(self) -> float:
        """Return the ground served [m2]."""
        return sum(place.total_area for place in self.places)


@dataclass(frozen=True)
class Choice:
    """An answer to one plain question: which option, and the sentence."""

    question: str
    need: str
    option: Option | None
    sentence: str


@dataclass(frozen=True)
class Answer:
    """All options of a site, in need and file order."""

    site: Site
    options: tuple[Option, ...]
    supplies: dict[str, Supply] = field(default_factory=dict)


def supplies(site: Site) -> dict[str, Supply]:
    """Return the supply of every way by name; heaps draw on the others."""
    found: dict[str, Supply] = {}
    for way in sorted(site.ways, key=lambda way: isinstance(way, Make)):
        if isinstance(way, Buy):
            found[way.name] = Purchase(way, site)
        elif isinstance(way, Have):
            found[way.name] = Stockpile(way, site)
        elif isinstance(way, Grow):
            found[way.name] = Crop(way, site)
        elif isinstance(way, Make):
            found[way.name] = Heap(way, site, dict(found))
    return {way.name: found[way.name] for way in site.ways}


def serves(way: Way, place: Place, kind: str) -> bool:
    """Say whether a place has a need of a kind and allows a way.

    A living cover serves the trees it stands round and nothing else.
    """
    if isinstance(way, Grow) and way.around and (kind != "cover" or place.name != way.around):
        return False
    return place.need(kind) is not None and (place.ways is None or way.name in place.ways)


def plan_for(site: Site, kind: str, places: list[Place], supply: Supply) -> Plan:
    """Return the doses of one need kind by one supply; a way that cannot serve says why."""
    try:
        if isinstance(supply, Crop) and supply.place is not None:
            return plan_living_cover(site, supply)
        if kind == "raise":
            return plan_raise(site, places, supply)
        return plan_amounts(site, places, kind, supply)
    except CannotServe as refusal:
        return Plan(feasible=False, why_not=str(refusal))


def plan_living_cover(site: Site, supply: Crop) -> Plan:
    """Return the plan of plants that close the ground round their trees."""
    closes = supply.closes_on
    if closes is None or closes > site.end:
        return Plan(feasible=False, why_not="does not close the ground within the horizon")
    return Plan(ready_on=max(closes, site.start), founds=True)


def make_option(site: Site, kind: str, supply: Supply, places: list[Place], plan: Plan) -> Option:
    """Return the option a plan makes: what it costs, how long it takes and what it leaves."""
    draws = draws_of(plan.doses)
    cost = supply.cost(draws) if draws else Cost()
    if plan.founds and isinstance(supply, Crop):
        cost = supply.founding(1)
    hours = cost.hours + placing_hours(site, plan.doses, supply)
    orders = tuple(place_orders(cost.bought, site.currency))
    return Option(
        kind, supply.way, supply.material, tuple(places), plan, orders, cash_of(orders, cost), hours,
        site.labour.barrow, outcome_of(site, plan.doses, supply.material),
    )  # fmt: skip


def cash_of(orders: Iterable[PlacedOrder], cost: Cost) -> Decimal:
    """Return the money for orders and everything else."""
    return sum((placed.order.cash for placed in orders), Decimal(0)) + sum(
        (one.cash for one in cost.paid), Decimal(0)
    )


def placing_hours(site: Site, doses: list[Dose], supply: Supply) -> Hours:
    """Return the hours to barrow, spread and dig in; a cut leaf's carrying is in its own cost."""
    hours = Hours()
    for dose in doses:
        if not isinstance(supply.way, Grow):
            hours += spreading(dose.loose, site.labour.push, site.labour.barrow)
        if dose.need.dug:
            hours += work("dig_in", dose.place.total_area)
    return hours


def options(site: Site, by_place: bool = False) -> Answer:
    """Return every option: a row for each need kind and way, or for each place too."""
    found: list[Option] = []
    ways = supplies(site)
    for kind in NEED_ORDER:
        if not by_place:
            found += _side_by_side(site, kind, ways, site.places)
            continue
        for place in site.places:
            found += _side_by_side(site, kind, ways, (place,))
    return Answer(site, tuple(found), ways)


def _side_by_side(site: Site, kind: str, ways: dict[str, Supply], among: tuple[Place, ...]) -> list[Option]:
    rows = []
    for supply in ways.values():
        places = [place for place in among if serves(supply.way, place, kind)]
        if places:
            rows.append(make_option(site, kind, supply, places, plan_for(site, kind, places, supply)))
    return beaten(rows)


def worth(option: Option) -> tuple[Decimal, float, date]:
    """Return cash, hours and date: what options are compared on."""
    return option.cash, option.hours.likely, option.plan.ready_on or date.max


def beaten(rows: list[Option]) -> list[Option]:
    """Mark each feasible row that another of the same places beats on cash, hours and date at once."""
    marked = []
    for row in rows:
        better = [
            other
            for other in rows
            if other is not row and other.places == row.places and row.feasible and other.feasible
            and _no_worse(worth(other), worth(row)) and worth(other) != worth(row)
        ]  # fmt: skip
        best = min(better, key=worth, default=None)
        marked.append(replace(row, beaten_by=best.way.name) if best else row)
    return marked


def _no_worse(one: tuple[Decimal, float, date], other: tuple[Decimal, float, date]) -> bool:
    return one[0] <= other[0] and one[1] <= other[1] and one[2] <= other[2]


def total_cost(cash: Decimal, hours: Hours, hourly: Decimal) -> Decimal:
    """Return cash and hours x an hour's value."""
    return cash + hourly * Decimal(str(round(hours.likely, 6)))


def barrows(option: Option) -> int:
    """Return whole barrow loads."""
    return round_up(option.loose / option.barrow)
