"""The records of ways: what a seller, a stock, a heap or a plant offers, units beside the fields."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields, replace
from datetime import date
from decimal import Decimal
from types import MappingProxyType
from typing import ClassVar

from barrowful.catalogue.figures import Figure, computed
from barrowful.catalogue.materials import Material
from barrowful.catalogue.plants import Plant
from barrowful.ground.sizes import Selling, Size
from barrowful.measures.dates import Step
from barrowful.measures.fixed import fixed

__all__ = ["WAYS", "Buy", "Grow", "Have", "Ingredient", "Make", "Reading", "Sample", "Selling", "Size", "Way"]

#: What stands between the names of ways that serve a need jointly; no name may have it.
JOINS = " + "
EVERY_MONTH = frozenset(range(1, 13))
AT_ONCE = Step()


@fixed(eq=True, frozen=True)
class Way:
    """What every way has in common."""

    #: Whether it is made of what other ways bring; then they are read before it.
    draws_on_ways: ClassVar[bool] = False
    #: Fields that say what it costs, or anything else but what it brings and when.
    terms: ClassVar[frozenset[str]] = frozenset()

    name: str  #: the grower's name for it
    material: Material  #: what it brings

    @property
    def kind(self) -> str:
        """Return the word of the site file: buy, have, make or grow."""
        return type(self).__name__.lower()

    @property
    def draws_from(self) -> frozenset[str]:
        """Return the names of the ways it draws on."""
        return frozenset()

    @property
    def lies_there(self) -> float:
        """Return what is left [loose m3] of what came of it before the start, where it is bought."""
        return 0.0

    @property
    def stands_on(self) -> str:
        """Return the name of the place it stands on, nothing where it stands on none of the places."""
        return ""

    @property
    def provenance(self) -> str:
        """Return what is said of where its stuff comes from."""
        return ""

    def brings_as(self, other: Way) -> bool:
        """Say whether it brings just what another does, whatever either costs."""
        if type(self) is not type(other):
            return False
        return replace(self, **{term: getattr(other, term) for term in self.terms}) == other

    def with_more_room(self) -> Way | None:
        """Return the way with more room to make its stuff in, where it takes any."""
        return None

    @property
    def by_mass(self) -> bool:
        """Say whether any of its terms is told by mass, so that it needs the density of its material."""
        terms = (getattr(self, field.name) for field in fields(self))
        return any(isinstance(term, Size | Selling) and term.mass is not None for term in terms)

    @property
    def by_volume(self) -> bool:
        """Say whether any of its terms is told by volume."""
        terms = (getattr(self, field.name) for field in fields(self))
        return any(isinstance(term, Size | Selling) and term.volume is not None for term in terms)


@fixed(eq=True, frozen=True)
class Buy(Way):
    """Material bought: the seller's terms."""

    terms: ClassVar[frozenset[str]] = frozenset(
        {"price", "selling", "whole_loads", "step", "minimum", "delivery", "truck", "payload", "box", "trip"}
        | {"tax", "tax_included", "drop", "drop_at", "bag_mass", "seller", "origin", "notes"}
        | {"left", "left_on"}
    )

    price: Decimal  #: money for one of ``selling``
    selling: Selling  #: what the price is for
    whole_loads: bool  #: are only whole loads brought?
    step: Size | None = None  #: orders are rounded up to it
    minimum: Size | None = None  #: least that is brought
    delivery: Decimal = Decimal(0)  #: money for each trip
    truck: float | None = None  #: m3, one trip
    payload: float | None = None  #: kg, one trip
    box: float | None = None  #: m3, own trailer or truck bed
    trip: float | None = None  #: h, one round of own collection
    tax: float = 0.0  #: share of price and delivery
    tax_included: bool  #: do price and delivery hold the tax already?
    lead: Step = AT_ONCE  #: from ordering to delivery
    left: Size | None = None  #: what is left of what came before the start
    left_on: date | None = None  #: the day that came, as far as is known; else the start
    drop: str  #: yard, road or pavement, where it is tipped
    drop_at: str = ""  #: the place, in the grower's words
    bag_mass: float | None = None  #: kg, one bag where its mass is known
    seller: str = ""  #: who sells it, where several ways are of one seller
    origin: str = ""  #: where it comes from, as the seller says
    notes: str = ""  #: anything to remember about the seller

    @property
    def sold_by(self) -> tuple[str, str]:
        """Return who brings it: the seller named, else the way itself."""
        return (self.seller, "") if self.seller else ("", self.name)

    @property
    def provenance(self) -> str:
        return "; ".join(filter(None, (self.origin, self.notes)))

    @property
    def collected(self) -> bool:
        """Say whether one fetches it oneself."""
        return self.box is not None or self.trip is not None

    @property
    def lies_there(self) -> float:
        """Return what is left [loose m3] of what came before the start."""
        if self.left is None:
            return 0.0
        return self.material.loose_of(self.left.mass or 0.0) if self.left.volume is None else self.left.volume

    @property
    def on_public_ground(self) -> bool:
        """Say whether it is tipped where others pass."""
        return self.drop != "yard"

    @property
    def by_mass(self) -> bool:
        """Say whether any of its terms is told by mass; what a trip carries is."""
        return self.payload is not None or super().by_mass


@fixed(eq=True, frozen=True)
class Have(Way):
    """Stock on hand."""

    terms: ClassVar[frozenset[str]] = frozenset({"origin"})

    amount: Size  #: how much of it
    per_year: bool  #: does that much come every year?
    comes: tuple[int, int] | None = None  #: month and day it comes; None for the start's
    left: Size | None = None  #: what is left besides, of years before
    origin: str = ""  #: where it comes from
    from_site: bool  #: did it grow here?

    @property
    def provenance(self) -> str:
        return self.origin


@fixed(eq=True, frozen=True)
class Ingredient:
    """Something for a heap: a material, or a way's; one lot, weekly, or without limit."""

    material: Material  #: what it is
    way: str = ""  #: name of the way it is drawn from, nothing where there is none
    once: Size | None = None  #: one lot
    weekly: Size | None = None  #: what comes in each week
    months: frozenset[int] = EVERY_MONTH  #: months it comes in
    price: Decimal = Decimal(0)  #: money for one of ``selling``
    selling: Selling | None = None  #: what the price is for, None where there is none
    from_site: bool  #: did it grow here?


@fixed(eq=True, frozen=True)
class Reading:
    """A temperature read in a heap's core."""

    day: date  #: day it was read
    temperature: float  #: degC
    turned: bool  #: was the heap turned that day?


@fixed(eq=True, frozen=True)
class Make(Way):
    """A heap: a recipe to aim for, and how it is looked after; or a pile left to rot, without an aim."""

    draws_on_ways: ClassVar[bool] = True

    bays: int  #: that can stand at once
    bay: float  #: m3, of one
    height: float | None = None  #: m, of a full heap
    left: bool  #: is it a pile of chip or leaves that is left to rot?
    target_cn: float  #: ratio of carbon to nitrogen to aim for
    target_moisture: float  #: share of the wet mass to aim for
    turn_every: Step | None = None  #: None where it is not turned
    chopped: bool  #: are the pieces smaller than 5 cm?
    ingredients: tuple[Ingredient, ...]  #: what goes in
    readings: tuple[Reading, ...] = ()  #: a log of core temperatures
    turned_on: tuple[date, ...] = ()  #: days it was turned on which no temperature was read

    @property
    def draws_from(self) -> frozenset[str]:
        """Return the names of the ways that its ingredients are drawn from."""
        return frozenset(part.way for part in self.ingredients if part.way)

    def with_more_room(self) -> Way:
        """Return the heap with a bay more."""
        return replace(self, bays=self.bays + 1)


@fixed(eq=True, frozen=True)
class Sample:
    """A weighed cut."""

    dry: float  #: kg/m2, dry mass
    moisture: float | None = None  #: share of the fresh mass
    nitrogen: float | None = None  #: share of the dry mass

    @property
    def figures(self) -> dict[str, Figure]:
        """Return what was measured of the stuff itself, over what a table has of it."""
        measured = {"moisture": self.moisture, "nitrogen": self.nitrogen}
        return {name: computed(name, "share", each) for name, each in measured.items() if each is not None}


@fixed(eq=True, frozen=True)
class Grow(Way):
    """Biomass grown on the site: the plant, the land there is for it, and what it costs."""

    terms: ClassVar[frozenset[str]] = frozenset({"cost", "seed_price", "displaces"})

    plant: Plant  #: what grows
    start_with: int | None = None  #: plants or cuttings
    area: float | None = None  #: m2, land for it
    row: float | None = None  #: m, row or fence for it
    planted: date  #: day planted or sown
    spacing: float | None = None  #: m, plant to plant; None for the catalogue's
    rests: frozenset[int] = frozenset()  #: months in which it does not grow
    ended: date | None = None  #: day a cover crop is ended
    next_planting: date | None = None  #: day the ground is wanted again
    around: str = ""  #: name of a place of trees it stands round
    grows_on: str = ""  #: name of a place whose ground it stands on
    cost: Decimal = Decimal(0)  #: money for plants or seed, once
    seed_price: Decimal = Decimal(0)  #: money for each kg of seed
    sample: Sample | None = None  #: a weighed cut, over the table's yield
    fixed_share: float  #: share of its nitrogen from the air
    in_place: bool  #: cut and dropped where it grows?
    displaces: Decimal = Decimal(0)  #: money, worth of the crop it keeps off the ground, each year

    @property
    def stands_on(self) -> str:
        """Return the name of the place of trees it stands round, or of the place it grows on."""
        return self.around or self.grows_on

    @property
    def dropped_on(self) -> str:
        """Return the name of the place it is cut and dropped on, nothing where it is carried."""
        return self.grows_on if self.in_place else ""


#: Every kind of way by its word in the site file.
WAYS: Mapping[str, type[Way]] = MappingProxyType(
    {way.__name__.lower(): way for way in (Buy, Make, Grow, Have)}
)
