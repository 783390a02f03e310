"""A pile of chip or leaves left to rot: no C:N aim, ready when half its fresh carbon is gone."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import NamedTuple

from barrowful.catalogue.judgements import judged_time, judgement, judgement_figure
from barrowful.catalogue.materials import Material
from barrowful.catalogue.rates import rate
from barrowful.ground.decay import Rotting, fresh_left, years_to_lose_of_several
from barrowful.ground.heap import nitrogen_lost
from barrowful.measures.dates import MOST_YEARS
from barrowful.site.records import Climate, Site
from barrowful.site.ways import Make
from barrowful.soil.turnover import fresh_factor
from barrowful.supplies.heap.batch import Batch, Three, days_after
from barrowful.supplies.heap.batches import Yard, equal_parts
from barrowful.supplies.heap.recipe import Offer, Recipe

#: How a pile is looked after.
LEFT, TURNED = "left", "turned"


class Corner(Yard):
    """The weekly run of piles left to rot: a pile is closed when it is full, or when no more comes.

    What is not full rots from the day the last of it came.
    """

    def run(self) -> list[Batch]:
        self.came = self.free_since = self.site.start
        return super().run()

    def built(self, day: date, volume: float) -> Batch:
        recipe = equal_parts(self.endless_offers, volume)
        return make_pile(recipe, day, self.way, self.site, (0.0,) * len(self.way.ingredients))

    def _arrive(self, day: date) -> None:
        before = sum(self.stock)
        super()._arrive(day)
        if sum(self.stock) > before:
            self.came = day

    def _empty(self, day: date) -> None:
        was_full = len(self.busy) >= self.way.bays
        super()._empty(day)
        if was_full and len(self.busy) < self.way.bays:
            self.free_since = day

    def _next(self, before: Batch | None, day: date) -> Batch | None:
        recipe, built = self._gathered(day), day
        if recipe is None:
            return None
        if recipe.volume < judgement("full_bay") * self.way.bay:
            enough = recipe.volume >= judgement("least_fill") * self.way.bay
            if not enough or day - self.came < judged_time("waits_for_full"):
                return None
            built = max(self.came, self.free_since)
        put_back = self._take(recipe)
        if before is not None and (before.recipe, before.put_back) == (recipe, put_back):
            return before
        return make_pile(recipe, built, self.way, self.site, put_back)

    def _gathered(self, day: date) -> Recipe | None:
        """Return all there is of everything, as far as there is room; None where nothing new is there.

        Of what is bought there is as much as there is room beside the rest, of each as much by volume.
        """
        offers = [offer for offer in self.offers(day) if offer.most > 0]
        endless = [offer for offer in offers if offer.most == float("inf")]
        if not endless and not any(self.stock):
            return None
        there = sum(offer.loose_of(offer.most) for offer in offers if offer not in endless)
        part = min(1.0, self.way.bay / there) if there else 0.0
        room = max(0.0, self.way.bay - there) / max(1, len(endless))
        masses = [offer.wet_mass(room) if offer in endless else offer.most * part for offer in offers]
        used = [(offer, mass) for offer, mass in zip(offers, masses, strict=True) if mass > 0]
        return Recipe(tuple(offer for offer, _ in used), tuple(mass for _, mass in used), 0.0)


class Rotted(NamedTuple):
    """A stuff in a pile that is ready: dry mass [kg] as built, share of fresh carbon left, overs [kg wet]."""

    offer: Offer
    dry: float
    left: float
    overs: float

    def kept(self, end: str) -> float:
        """Return the share of its carbon that is left, fresh or humus, at an end of the range of humus."""
        humus: float = getattr(self.offer.material.figures["humus"], end)
        return 1 - (1 - self.left) * (1 - humus)

    def through(self, share: str, end: str = "likely") -> float:
        """Return the mass [kg] of its carbon or organic matter that passes the screen."""
        stuff = self.offer.material
        return stuff[share] * (self.dry * self.kept(end) - stuff.dry_of(self.overs))

    def dry_through(self, end: str) -> float:
        """Return its dry mass [kg] that passes the screen: ash stays, organic matter goes as carbon goes."""
        stuff = self.offer.material
        ash = (1 - stuff["organic_matter"]) * (self.dry - stuff.dry_of(self.overs))
        return self.through("organic_matter", end) + ash


def make_pile(recipe: Recipe, day: date, way: Make, site: Site, put_back: tuple[float, ...]) -> Batch:
    """Return what a pile built on a day becomes: when it is ready, how it shrinks, what it holds."""
    alone = rotting_years(recipe, site.climate)
    years = _turned_years(alone) if is_turned(way) else alone
    parts = _rotted(recipe, site.climate, alone[1])
    overs = [0.0] * len(way.ingredients)
    for part in parts:
        overs[part.offer.number] += part.overs
    dry = _three([sum(part.dry_through(end) for part in parts) for end in ("low", "likely", "high")])
    held, lost = recipe.total("nitrogen") - recipe.held_in(overs, "nitrogen"), nitrogen_lost(recipe.cn)
    turned = is_turned(way) and way.turn_every is not None
    return Batch(
        built=day,
        ready=days_after(day, years),
        recipe=recipe,
        aim=None,
        care=TURNED if turned else LEFT,
        turns=int(years[1] / way.turn_every.years) if turned and way.turn_every else 0,
        volume=_three([_loose(way.material, each) for each in dry]),
        dry=dry,
        nitrogen=(held * (1 - lost[2]), held * (1 - lost[1]), held * (1 - lost[0])),
        put_back=put_back,
        overs=tuple(overs),
        carbon=sum(part.through("carbon") for part in parts),
        matter=sum(part.through("organic_matter") for part in parts),
    )


def rotting_years(recipe: Recipe, climate: Climate) -> Three:
    """Return low, likely and high years until half the fresh carbon of a pile is gone, left alone.

    In frozen ground that is never; a thousand years stand for it.
    """
    left, held = judgement("pile_half_gone"), list(zip(recipe.offers, recipe.masses, strict=True))

    def years(end: str) -> float:
        stuffs = [
            Rotting(stuff.dry_of(mass) * stuff["carbon"], _rate(stuff, climate, end))
            for stuff, mass in ((offer.material, mass) for offer, mass in held)
        ]
        return min(years_to_lose_of_several(left, stuffs), MOST_YEARS)

    return years("high"), years("likely"), years("low")


def is_turned(way: Make) -> bool:
    """Say whether a pile is turned often enough to rot the faster for it."""
    return way.turn_every is not None and way.turn_every.years <= judgement("pile_turned_at_all")


def _turned_years(years: Three) -> Three:
    share = judgement_figure("pile_turned")
    return years[0] * share.low, years[1] * share.likely, years[2] * share.high


def _rate(stuff: Material, climate: Climate, end: str) -> float:
    """Return the yearly rate at which the fresh carbon of a stuff goes in a pile: as of what lies on top."""
    decay: float = getattr(stuff.figures["decay"], end)
    return decay * fresh_factor(climate) * rate(stuff.sort.on_top)


def _rotted(recipe: Recipe, climate: Climate, years: float) -> list[Rotted]:
    """Return each stuff of a pile after so many years."""
    parts = []
    for offer, mass in zip(recipe.offers, recipe.masses, strict=True):
        stuff = offer.material
        left = float(fresh_left(years, _rate(stuff, climate, "likely")))
        overs = mass * left * rate("pile_oversize") if stuff.sort.screened else 0.0
        parts.append(Rotted(offer, stuff.dry_of(mass), left, overs))
    return parts


def _loose(material: Material, dry: float) -> float:
    return material.loose_of(material.wet_of(dry))


def _three(values: Sequence[float]) -> Three:
    low, likely, high = values
    return low, likely, high
