"""What a way can bring and when: lots of loose material, and what drawing on them costs."""

from __future__ import annotations

import math
from abc import ABC, abstractmethod
from bisect import bisect_right
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from decimal import Decimal

from barrowful.catalogue.materials import Material
from barrowful.effort.labour import Hours
from barrowful.effort.orders import Order, order
from barrowful.measures.dates import Step
from barrowful.site.records import Site
from barrowful.site.terms import Buy, Have, Way

YEAR = Step(months=12)
#: What is wanted of one seller within this time comes in one order (this project's judgement).
TOGETHER = timedelta(days=60)
#: What is left over of an order is good for this long (this project's judgement).
KEPT = timedelta(days=400)


@dataclass(frozen=True)
class Lot:
    """Loose material [m3] that is there from a day on; infinite when only money limits it."""

    day: date
    loose: float


@dataclass(frozen=True)
class Draw:
    """Loose material [m3] wanted of a seller on a day."""

    day: date
    way: Buy
    loose: float
    needs: tuple[str, ...] = ()


@dataclass(frozen=True)
class Payment:
    """Money that is no order of a way: seed, plants, ground taken, stuff for a heap; mass in kg."""

    day: date
    way: str
    what: str
    mass: float | None
    cash: Decimal


@dataclass(frozen=True)
class Cost:
    """What drawing on a supply costs beside spreading: what is bought, other payments, and hours."""

    bought: tuple[Draw, ...] = ()
    paid: tuple[Payment, ...] = ()
    hours: Hours = field(default_factory=Hours)

    def __add__(self, other: Cost) -> Cost:
        return Cost(self.bought + other.bought, self.paid + other.paid, self.hours + other.hours)


@dataclass(frozen=True)
class Placed:
    """An order of a seller for a day, and the needs it is for."""

    day: date
    way: Buy
    order: Order
    needs: tuple[str, ...] = ()


def place_orders(draws: Iterable[Draw], currency: str) -> list[Placed]:
    """Return the orders that bring what is drawn, by day.

    Draws on one seller within :data:`TOGETHER` of the first share an order on the first day: one
    load serves all the places, and the heap, that want it. What is left over serves the next draw
    within :data:`KEPT`.
    """
    groups: dict[str, list[list[Draw]]] = {}
    for draw in sorted(draws, key=lambda draw: draw.day):
        own = groups.setdefault(draw.way.name, [])
        if own and draw.day - own[-1][0].day <= TOGETHER:
            own[-1].append(draw)
        else:
            own.append([draw])
    placed = [one for own in groups.values() for one in _of_seller(own, currency)]
    return sorted(placed, key=lambda one: one.day)


def _of_seller(groups: list[list[Draw]], currency: str) -> list[Placed]:
    """Return one seller's orders, each less what the one before left over."""
    placed: list[Placed] = []
    left, since = 0.0, date.min
    for group in groups:
        day, way = group[0].day, group[0].way
        if placed and day - since > KEPT:
            left = 0.0
        wanted = sum(draw.loose for draw in group)
        made = order(way, wanted - left, currency) if wanted > left * (1 + 1e-9) else None
        if made is None:
            left = max(0.0, left - wanted)
            continue
        needs = tuple(dict.fromkeys(need for draw in group for need in draw.needs))
        placed.append(Placed(day, way, made, needs))
        left, since = made.leftover, day
    return placed


class Supply(ABC):
    """A way's material, its lots over time, and whether a lot keeps until it is used."""

    way: Way
    material: Material
    keeps = True
    note = ""

    @abstractmethod
    def lots(self, until: date) -> list[Lot]:
        """Return the lots up to and including a day, in order."""

    @abstractmethod
    def cost(self, draws: Mapping[date, float]) -> Cost:
        """Return what it costs to have drawn loose volumes [m3] by the day of their use."""

    def passed_on(self, draws: Mapping[date, float]) -> list[tuple[str, dict[date, float]]]:
        """Return what drawing on this way draws on others: a heap takes chip from a pile."""
        return []


class Bought(Supply):
    """A seller: as much as is ordered, first after the lead time and then each year that day."""

    def __init__(self, way: Buy, site: Site) -> None:
        self.way, self.material, self.site = way, way.material, site
        self.first = way.lead.after(site.start)

    def lots(self, until: date) -> list[Lot]:
        return yearly(self.first, until, math.inf)

    def cost(self, draws: Mapping[date, float]) -> Cost:
        assert isinstance(self.way, Buy)
        return Cost(tuple(Draw(day, self.way, loose) for day, loose in sorted(draws.items())))


class Held(Supply):
    """Stock on hand: one lot at the start that can be spread in later years too, or one each year."""

    def __init__(self, way: Have, site: Site) -> None:
        self.way, self.material, self.site = way, way.material, site

    def lots(self, until: date) -> list[Lot]:
        assert isinstance(self.way, Have)
        loose = self.way.amount.loose(self.material.get("density") or math.nan)
        days = yearly(self.site.start, until, loose)
        return days if self.way.per_year else [*days[:1], *(replace(lot, loose=0.0) for lot in days[1:])]

    def cost(self, draws: Mapping[date, float]) -> Cost:
        return Cost()


def yearly(first: date, until: date, loose: float) -> list[Lot]:
    """Return equal lots on the same day each year."""
    lots, count = [], 0
    while (day := YEAR.times(count).after(first)) <= until:
        lots.append(Lot(day, loose))
        count += 1
    return lots


def repeated(lots: list[Lot], horizon: date, until: date) -> list[Lot]:
    """Return lots known up to a horizon, with their last year repeated until a later day."""
    if until <= horizon or not lots:
        return [lot for lot in lots if lot.day <= until]
    start = Step(months=-12).after(horizon)
    pattern = [lot for lot in lots if lot.day > start]
    found, count = list(lots), 1
    while pattern and YEAR.times(count).after(start) <= until:
        found += [Lot(YEAR.times(count).after(lot.day), lot.loose) for lot in pattern]
        count += 1
    return [lot for lot in found if lot.day <= until]


class Stock:
    """What is left of a supply's lots while doses are taken from them."""

    def __init__(self, supply: Supply, until: date) -> None:
        lots = sorted(supply.lots(until), key=lambda lot: lot.day)
        self.days, self.left = [lot.day for lot in lots], [lot.loose for lot in lots]
        self.keeps, self.until = supply.keeps, until

    def take(self, day: date, wanted: float) -> float:
        """Take up to ``wanted`` [m3] on a day, from the latest lots first, and return what came.

        Taking the latest first leaves the early lots to early doses, which is what makes filling
        doses in order of worth give the least total.
        """
        taken = 0.0
        for index in range(bisect_right(self.days, day) - 1, -1, -1):
            if taken >= wanted or (self.days[index] < day and not self.keeps):
                break
            part = min(self.left[index], wanted - taken)
            self.left[index] -= part
            taken += part
        return taken
