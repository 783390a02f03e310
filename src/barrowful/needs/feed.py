"""Feeding: nutrients plants can use in the season, brought by the first season's doses."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from types import MappingProxyType
from typing import Any

from barrowful.catalogue.crops import crop
from barrowful.catalogue.materials import Material
from barrowful.catalogue.vocabulary import NUTRIENTS
from barrowful.ground.amount import mass_on
from barrowful.ground.nutrients import dry_dose_for
from barrowful.needs.decision import CannotServe, Decision
from barrowful.needs.kind import NeedKind
from barrowful.site.records import Feed, Place, Site
from barrowful.soil.history import nitrogen_credit
from barrowful.soil.nitrogen import first_season
from barrowful.supplies.supply import YEAR, Supply


class Feeding(NeedKind[Feed]):
    """Nitrogen, phosphorus, potassium for each season; the nutrient that asks for most sizes the dose."""

    kind = "feed"
    figures = ("density", "moisture", "nitrogen", "phosphorus", "potassium")

    def bare_loose(self, site: Site, place: Place, material: Material) -> float:
        doses = feed_doses(self.of(place), material, nitrogen_credit(site, place))
        wet = material.wet_of(max(doses.values(), default=0.0))
        return material.loose_of(mass_on(place.total_area, wet))

    def until(self, site: Site) -> date:
        return YEAR.after(site.start)

    def deadline(self, site: Site) -> str:
        return "in the first season"

    def decide(self, site: Site, places: Sequence[Place], supply: Supply[Any]) -> Decision:
        """Return the first season's doses, the nutrient that sizes each, and what need not be brought."""
        decision = super().decide(site, places, supply)
        binding, credit = {}, 0.0
        for place in places:
            need = self.of(place)
            still = min(nitrogen_credit(site, place), need.nitrogen)
            doses = feed_doses(need, supply.material, still)
            credit += mass_on(place.total_area, still)
            if doses:
                binding[place.name] = _largest(doses)
        return replace(decision, binding=MappingProxyType(binding), credit=credit)


def _largest(doses: dict[str, float]) -> str:
    return max(doses, key=lambda nutrient: doses[nutrient])


def feed_doses(need: Feed, material: Material, credit: float = 0.0) -> dict[str, float]:
    """Return the dry dose [kg/m2] each nutrient wanted asks for; the largest one binds.

    ``credit`` is nitrogen [kg/m2] still to come from earlier seasons.
    """
    doses = {}
    if need.nitrogen > credit:
        available = first_season(material, need.dug)
        if available.per_dry <= 0:
            raise CannotServe("gives no nitrogen in the first season")
        doses["nitrogen"] = dry_dose_for(need.nitrogen - credit, available.per_dry)
    for nutrient in ("phosphorus", "potassium"):
        wanted = getattr(need, nutrient)
        if not wanted:
            continue
        if material.lacks(nutrient):
            raise CannotServe(f"{material.name} has no figure for {nutrient}")
        if material[nutrient] <= 0:
            raise CannotServe(f"{material.name} holds no {nutrient}")
        doses[nutrient] = dry_dose_for(wanted, material[nutrient])
    return doses


def harvest_of(place: Place) -> tuple[float, float, float] | None:
    """Return the nutrients [kg] that one season of the crop named takes from a place; None without one.

    What a tree is fed is advice, not what its fruit takes away.
    """
    feeding = Feeding()
    if place.need(feeding.kind) is None:
        return None
    need = feeding.of(place)
    demand = crop(need.crop)
    if demand is None or demand.per_tree:
        return None
    nitrogen, phosphorus, potassium = (mass_on(place.total_area, getattr(need, name)) for name in NUTRIENTS)
    return nitrogen, phosphorus, potassium
