"""The records of ways: what a seller, a stock, a heap or a plant offers. SI floats, as in records."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from barrowful.catalogue.materials import Material
from barrowful.catalogue.plants import Plant
from barrowful.ground import amount
from barrowful.measures.dates import Step


@dataclass(frozen=True)
class Selling:
    """What the price is for: its word, and its size by volume [m3] or mass [kg]."""

    word: str
    volume: float | None
    mass: float | None


@dataclass(frozen=True)
class Size:
    """An amount by volume [m3] or by mass [kg], whichever was written."""

    volume: float | None
    mass: float | None

    def loose(self, density: float) -> float:
        """Return the loose volume [m3] at a density [kg/m3]."""
        return self.volume if self.volume is not None else amount.loose_volume(self.mass or 0.0, density)

    def wet(self, density: float | None) -> float:
        """Return the wet mass [kg]; a volume needs the density [kg/m3]."""
        if self.mass is not None:
            return self.mass
        if density is None:
            raise ValueError("a volume needs a density")
        return amount.mass(self.volume or 0.0, density)


@dataclass(frozen=True)
class Way:
    """What every way has in common."""

    name: str

    @property
    def kind(self) -> str:
        """Return the word of the site file: buy, have, make or grow."""
        return type(self).__name__.lower()


@dataclass(frozen=True)
class Buy(Way):
    """Material bought: the seller's terms."""

    material: Material
    price: Decimal
    selling: Selling
    whole_loads: bool
    step: Size | None
    minimum: Size | None
    delivery: Decimal
    truck: float | None
    payload: float | None
    box: float | None
    tax: float
    lead: Step
    drop: str
    bag_mass: float | None
    notes: str


@dataclass(frozen=True)
class Have(Way):
    """Stock on hand."""

    material: Material
    amount: Size
    per_year: bool
    notes: str
    from_site: bool


@dataclass(frozen=True)
class Ingredient:
    """Something for a heap: a material, or a way's; one lot, weekly, or without limit."""

    material: Material
    way: str
    once: Size | None
    weekly: Size | None
    months: frozenset[int]
    price: Decimal
    selling: Selling | None
    from_site: bool


@dataclass(frozen=True)
class Reading:
    """A core temperature [degC] on a day, and whether the heap was turned that day."""

    day: date
    temperature: float
    turned: bool


@dataclass(frozen=True)
class Make(Way):
    """A heap: bays of a volume [m3], a recipe to aim for, and how it is looked after."""

    material: Material
    bays: int
    bay: float
    height: float | None
    target_cn: float
    target_moisture: float
    turn_every: Step | None
    chopped: bool
    ingredients: tuple[Ingredient, ...]
    readings: tuple[Reading, ...]


@dataclass(frozen=True)
class Sample:
    """A weighed cut: dry mass for each area [kg/m2] and nitrogen [share] if known."""

    dry: float
    nitrogen: float | None


@dataclass(frozen=True)
class Grow(Way):
    """Biomass grown on the site: the plant, the land there is for it, and what it costs."""

    plant: Plant
    material: Material
    start_with: int | None
    area: float | None
    row: float | None
    planted: date
    spacing: float | None
    rests: frozenset[int]
    ended: date | None
    next_planting: date | None
    around: str
    cost: Decimal
    seed_price: Decimal
    sample: Sample | None
    fixed_share: float
    in_place: bool
    displaces: Decimal
