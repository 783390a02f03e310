"""The main job: each way applied to the needs it can serve, side by side."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from decimal import Decimal
from typing import Any

from barrowful.catalogue.materials import Material
from barrowful.costs.labour import Hours, spreading, work
from barrowful.costs.order import Order, round_up
from barrowful.needs.decision import Decision
from barrowful.needs.outcome import Outcome, outcome_of
from barrowful.needs.registry import NEEDS, decide
from barrowful.site.records import Place, Site
from barrowful.site.ways import Way
from barrowful.soil.application import Application, draws_of
from barrowful.supplies.purchase import PlacedOrder, place_orders
from barrowful.supplies.registry import supplies
from barrowful.supplies.supply import Cost, Supply


@dataclass(frozen=True, kw_only=True)
class Option:
    """One way applied to one kind of need in some places: order, cash, hours, waiting, result."""

    need: str
    way: Way
    material: Material
    places: tuple[Place, ...]
    decision: Decision
    orders: tuple[PlacedOrder, ...]
    cash: Decimal
    hours: Hours
    barrow: float
    outcome: Outcome
    beaten_by: str = ""

    @property
    def loose(self) -> float:
        """Return the loose volume brought to the places [m3]."""
        return sum(dose.loose for dose in self.decision.doses)

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
    def acts(self) -> bool:
        """Say whether anything is put on or sown."""
        return bool(self.decision.doses or self.decision.founds)

    @property
    def feasible(self) -> bool:
        """Say whether the need is met in every place in time."""
        return self.decision.feasible

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


@dataclass(frozen=True, eq=False)
class Answer:
    """All options of a site, in need and file order."""

    site: Site
    options: tuple[Option, ...]
    supplies: dict[str, Supply[Any]] = field(default_factory=dict)
    #: By kind of need and place, the options that meet it there, once they were asked for.
    met_here: dict[tuple[str, str], tuple[Option, ...]] = field(default_factory=dict)


def make_option(
    site: Site, kind: str, supply: Supply[Any], places: Sequence[Place], decision: Decision
) -> Option:
    """Return the option a decision makes: what it costs, how long it takes and what it leaves."""
    draws = draws_of(decision.doses)
    cost = supply.cost(draws) if draws else Cost()
    if decision.founds:
        cost = supply.founding(1)
    orders = tuple(place_orders(cost.bought, site.currency))
    return Option(
        need=kind,
        way=supply.way,
        material=supply.material,
        places=tuple(places),
        decision=decision,
        orders=orders,
        cash=cash_of(orders, cost),
        hours=cost.hours + placing_hours(site, decision.doses, supply),
        barrow=site.labour.barrow,
        outcome=outcome_of(site, decision.doses, supply.material),
    )


def cash_of(orders: Iterable[PlacedOrder], cost: Cost) -> Decimal:
    """Return the money for orders and everything else."""
    return sum((placed.order.cash for placed in orders), Decimal(0)) + sum(
        (one.cash for one in cost.paid), Decimal(0)
    )


def placing_hours(site: Site, doses: Iterable[Application], supply: Supply[Any]) -> Hours:
    """Return the hours to barrow, spread and dig in where it goes; some stuff is carried in its own cost."""
    loose = dug = 0.0
    for dose in doses:
        loose += dose.loose
        dug += dose.share * dose.place.total_area if dose.dug else 0.0
    hours = work("dig_in", dug)
    return hours if supply.carried else hours + spreading(loose, site.labour.push, site.labour.barrow)


def options(site: Site, by_place: bool = False) -> Answer:
    """Return every option: a row for each need kind and way, or for each place too."""
    found: list[Option] = []
    ways = supplies(site)
    for kind in NEEDS:
        if not by_place:
            found += _side_by_side(site, kind, ways, site.places)
            continue
        for place in site.places:
            found += _side_by_side(site, kind, ways, (place,))
    return Answer(site, tuple(found), ways)


def _side_by_side(
    site: Site, kind: str, ways: dict[str, Supply[Any]], among: tuple[Place, ...]
) -> list[Option]:
    rows = []
    for supply in ways.values():
        places = [place for place in among if supply.serves(place, kind)]
        if places:
            rows.append(make_option(site, kind, supply, places, decide(site, kind, places, supply)))
    return beaten(rows)


def worth(option: Option) -> tuple[Decimal, float, date]:
    """Return cash, hours and date: what options are compared on."""
    return option.cash, option.hours.compared, option.decision.ready_on or date.max


def beaten(rows: list[Option]) -> list[Option]:
    """Mark each feasible row that another of the same places beats on cash, hours and date at once."""
    marked = []
    for row in rows:
        better = [
            other for other in rows if other is not row and other.places == row.places and _beats(other, row)
        ]
        best = min(better, key=worth, default=None)
        marked.append(replace(row, beaten_by=best.way.name) if best else row)
    return marked


def _beats(one: Option, other: Option) -> bool:
    """Say whether a feasible option is no worse than another in anything and better in something."""
    both = one.feasible and other.feasible
    return both and worth(one) != worth(other) and _no_worse(worth(one), worth(other))


def _no_worse(one: tuple[Decimal, float, date], other: tuple[Decimal, float, date]) -> bool:
    return one[0] <= other[0] and one[1] <= other[1] and one[2] <= other[2]


def total_cost(cash: Decimal, hours: Hours, hourly: Decimal) -> Decimal:
    """Return cash and hours x an hour's value."""
    return cash + hourly * Decimal(str(hours.compared))


def barrows(option: Option) -> int:
    """Return whole barrow loads."""
    return round_up(option.loose / option.barrow)
