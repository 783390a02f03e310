"""What to put on a heap: the most stuff, or the cheapest, within C:N, moisture and what there is."""

from __future__ import annotations

from dataclasses import dataclass

from barrowful.catalogue.judgements import judgement, judgement_figure
from barrowful.catalogue.materials import Material
from barrowful.ground.heap import Part, blend_cn, blend_moisture, water_to_add
from barrowful.ground.linear import NoAnswer, maximise
from barrowful.supplies.supply import density_of, loose_of, wet_of


@dataclass(frozen=True)
class Offer:
    """A material there is for a heap: the most of it [kg wet], its price [money for each kg], its number."""

    material: Material
    most: float
    price: float = 0.0
    number: int = 0

    @property
    def density(self) -> float:
        """Return the density, or the assumed one where it is not known [kg/m3]."""
        return density_of(self.material)

    def loose_of(self, mass: float) -> float:
        """Return the loose volume [m3] of a wet mass [kg] of it."""
        return loose_of(self.material, mass)

    def wet_mass(self, loose: float) -> float:
        """Return the wet mass [kg] of a loose volume [m3] of it."""
        return wet_of(self.material, loose)

    def part(self, mass: float) -> Part:
        """Return a mass [kg] of it as a part of a mix."""
        stuff = self.material
        return Part(mass, stuff["moisture"], stuff["carbon"], stuff["nitrogen"])


@dataclass(frozen=True)
class Recipe:
    """Wet masses [kg] in the order of the offers, and water to add [kg]."""

    offers: tuple[Offer, ...]
    masses: tuple[float, ...]
    water: float

    @property
    def parts(self) -> list[Part]:
        """Return the parts without the water added."""
        return [offer.part(mass) for offer, mass in zip(self.offers, self.masses, strict=True) if mass > 0]

    def mass_of(self, number: int) -> float:
        """Return the wet mass [kg] of the offer with a number; offers not used are left out."""
        pairs = zip(self.offers, self.masses, strict=True)
        return sum(mass for offer, mass in pairs if offer.number == number)

    @property
    def volume(self) -> float:
        """Return the sum of the loose volumes [m3]; a real mix settles to a little less."""
        return sum(offer.loose_of(mass) for offer, mass in zip(self.offers, self.masses, strict=True))

    def volume_with(self, flag: str) -> float:
        """Return the loose volume [m3] of the materials that have a flag."""
        pairs = zip(self.offers, self.masses, strict=True)
        return sum(offer.loose_of(mass) for offer, mass in pairs if offer.material.has(flag))

    @property
    def cn(self) -> float:
        """Return the C:N."""
        return blend_cn(self.parts)

    @property
    def moisture(self) -> float:
        """Return the moisture with the water added."""
        mass = sum(self.masses)
        return (blend_moisture(self.parts) * mass + self.water) / (mass + self.water)

    @property
    def dry(self) -> float:
        """Return the dry mass [kg]."""
        return sum(part.dry for part in self.parts)

    def total(self, nutrient: str) -> float:
        """Return the mass [kg] of a nutrient in it."""
        return sum(
            offer.material.dry_of(mass) * (offer.material.get(nutrient) or 0.0)
            for offer, mass in zip(self.offers, self.masses, strict=True)
        )


def near(target: float) -> tuple[float, float]:
    """Return from which to which C:N a heap heats as well as at a target, in the proportions judged.

    >>> near(30.0)
    (25.0, 35.0)
    """
    band = judgement_figure("heating_cn")
    return target * (band.low / band.likely), target * (band.high / band.likely)


def best_recipe(
    offers: list[Offer], room: float, cn: tuple[float, float], moisture: float, cheapest: bool = False
) -> Recipe | None:
    """Return the recipe that fills most of a room [m3], or None when nothing meets the limits.

    A mix without nitrogen has no C:N and meets none. ``cn`` are the bounds of its C:N. The mix must
    not be wetter than the target, or the usual upper limit where that is higher; water is added up to
    the target. With ``cheapest``, the cost is least among the recipes that fill as much.
    """
    usable = [offer for offer in offers if offer.most > 0]
    if not usable:
        return None
    rows, limits = _limits(usable, room, cn, max(moisture, judgement("too_wet")))
    volumes = [offer.loose_of(1.0) for offer in usable]
    try:
        masses = maximise(volumes, rows, limits)
        if cheapest:
            filled = sum(mass * volume for mass, volume in zip(masses, volumes, strict=True))
            rows, limits = [*rows, [-volume for volume in volumes]], [*limits, -filled]
            masses = maximise([-offer.price for offer in usable], rows, limits)
    except NoAnswer:
        return None
    if sum(masses) <= 1e-9:
        return None
    parts = [offer.part(mass) for offer, mass in zip(usable, masses, strict=True)]
    if sum(part.dry * part.nitrogen for part in parts) <= 0:
        return None  # ashes and the like have no C:N
    return Recipe(tuple(usable), tuple(masses), max(0.0, water_to_add(parts, moisture)))


def _limits(
    offers: list[Offer], room: float, cn: tuple[float, float], wettest: float
) -> tuple[list[list[float]], list[float]]:
    """Return the rows and limits of the linear programme over wet masses."""
    stuffs = [offer.material for offer in offers]
    least, most = cn
    rows = [
        [offer.loose_of(1.0) for offer in offers],
        [stuff.dry_of(1.0) * (stuff["carbon"] - most * stuff["nitrogen"]) for stuff in stuffs],
        [stuff.dry_of(1.0) * (least * stuff["nitrogen"] - stuff["carbon"]) for stuff in stuffs],
        [stuff["moisture"] - wettest for stuff in stuffs],
    ]
    limits = [room, 0.0, 0.0, 0.0]
    for index, offer in enumerate(offers):
        if offer.most != float("inf"):
            rows.append([1.0 if other == index else 0.0 for other in range(len(offers))])
            limits.append(offer.most)
    return rows, limits
