"""What a way can bring and when: lots of loose material, and what drawing on them costs."""

from __future__ import annotations

from abc import ABC, abstractmethod
from bisect import bisect_right
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal

from barrowful.catalogue.materials import Material
from barrowful.costs.labour import Hours
from barrowful.measures.dates import Step
from barrowful.site.ways import Buy, Way

YEAR = Step(months=12)


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
