"""What to put on a heap: the most stuff, or the cheapest, within C:N, moisture and what there is."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from barrowful.catalogue.judgements import judgement, judgement_figure
from barrowful.catalogue.materials import Material
from barrowful.ground.heap import Part, blend_cn, blend_moisture, water_to_add
from barrowful.ground.linear import NoAnswer, maximise
from barrowful.supplies.heap.shares import Share, shares_of
from barrowful.supplies.supply import density_of, loose_of, wet_of


class Offer(NamedTuple):
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

    @property
    def cn(self) -> float:
        """Return its C:N by itself."""
        return blend_cn([self.part(1.0)])

    def part(self, mass: float) -> Part:
        """Return a mass [kg] of it as a part of a mix."""
        stuff = self.material
        return Part(mass, stuff["moisture"], stuff["carbon"], stuff["nitrogen"])


class Recipe(NamedTuple):
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

    def share_of(self, share: Share) -> float:
        """Return what share of it is of what a ceiling limits: of the weight before watering or by volume."""
        sizes = [
            mass if share.by_weight else offer.loose_of(mass)
            for offer, mass in zip(self.offers, self.masses, strict=True)
        ]
        held = [share.holds(offer.material) for offer in self.offers]
        return sum(size for size, holds in zip(sizes, held, strict=True) if holds) / sum(sizes)

    def shares(self, lifted: frozenset[str] = frozenset()) -> tuple[Share, ...]:
        """Return the ceilings on its stuffs, but for those that are lifted."""
        return shares_of((offer.material for offer in self.offers), lifted)

    def volume_of(self, masses: Sequence[float]) -> float:
        """Return the loose volume [m3] of wet masses [kg] by the number of the offer."""
        stuffs = self._stuffs
        return sum(loose_of(stuffs[number], mass) for number, mass in enumerate(masses) if mass)

    def dry_in(self, masses: Sequence[float]) -> float:
        """Return the dry mass [kg] of wet masses [kg] by the number of the offer."""
        stuffs = self._stuffs
        return sum(stuffs[number].dry_of(mass) for number, mass in enumerate(masses) if mass)

    def held_in(self, masses: Sequence[float], share: str) -> float:
        """Return the mass [kg] of a share of the dry mass in wet masses [kg] by the number of the offer."""
        stuffs = self._stuffs
        return sum(
            stuffs[number].dry_of(mass) * (stuffs[number].get(share) or 0.0)
            for number, mass in enumerate(masses)
            if mass
        )

    @property
    def _stuffs(self) -> dict[int, Material]:
        return {offer.number: offer.material for offer in self.offers}

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


def workable(target: float, offers: Iterable[Offer]) -> tuple[float, float]:
    """Return from which to which C:N a heap of what is offered still works, slower than near the target.

    With wood among them it is more than without: much of its carbon is out of reach while the heap works.
    """
    low, high = near(target)
    if any(offer.material.sort.screened for offer in offers):
        high = target * judgement("woody_cn") / judgement("heating_cn")
    return low, high


class Aim(NamedTuple):
    """What a recipe keeps to: the room [m3], bounds of its C:N, the moisture aimed for, ceilings lifted."""

    room: float
    cn: tuple[float, float]
    moisture: float
    lifted: frozenset[str] = frozenset()

    @property
    def wettest(self) -> float:
        """Return the moisture above which a mix is not built: the usual limit, or a wetter aim."""
        return max(self.moisture, judgement("too_wet"))


class Rule(NamedTuple):
    """A row of the linear programme over wet masses, and what it is about."""

    about: str
    row: list[float]
    limit: float = 0.0


#: What rules are about.
ROOM, TOO_MUCH_CARBON, TOO_MUCH_NITROGEN, TOO_WET, SHARES, THERE_IS = (
    "room",
    "too much carbon",
    "too much nitrogen",
    "too wet",
    "shares",
    "there is",
)


def rules(offers: Sequence[Offer], aim: Aim) -> list[Rule]:
    """Return the rules that a mix of the offers keeps to; what there is of each comes last."""
    stuffs = [offer.material for offer in offers]
    volumes, (least, most) = [offer.loose_of(1.0) for offer in offers], aim.cn

    def over(ratio: float) -> list[float]:
        return [stuff.dry_of(1.0) * (stuff["carbon"] - ratio * stuff["nitrogen"]) for stuff in stuffs]

    found = [
        Rule(ROOM, volumes, aim.room),
        Rule(TOO_MUCH_CARBON, over(most)),
        Rule(TOO_MUCH_NITROGEN, [-value for value in over(least)]),
        Rule(TOO_WET, [stuff["moisture"] - aim.wettest for stuff in stuffs]),
    ]
    for share in shares_of(stuffs, aim.lifted):
        sizes = [1.0] * len(stuffs) if share.by_weight else volumes
        row = [size * (share.holds(stuff) - share.most) for size, stuff in zip(sizes, stuffs, strict=True)]
        found.append(Rule(SHARES, row))
    for index, offer in enumerate(offers):
        if offer.most != float("inf"):
            row = [1.0 if other == index else 0.0 for other in range(len(offers))]
            found.append(Rule(THERE_IS, row, offer.most))
    return found


def best_recipe(offers: Sequence[Offer], aim: Aim, cheapest: bool = False) -> Recipe | None:
    """Return the recipe that fills most of a room, or None when nothing meets the limits.

    A mix without nitrogen has no C:N and meets none. The mix must not be wetter than the moisture aimed
    for, or the usual upper limit where that is higher; water is added up to the aim. With ``cheapest``,
    the cost is least among the recipes that fill as much.
    """
    usable = [offer for offer in offers if offer.most > 0]
    if not usable:
        return None
    kept = rules(usable, aim)
    rows, limits = [rule.row for rule in kept], [rule.limit for rule in kept]
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
    return Recipe(tuple(usable), tuple(masses), max(0.0, water_to_add(parts, aim.moisture)))
