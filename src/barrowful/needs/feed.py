"""Feeding: nutrients plants can use in each season, net of what else comes and what ties nitrogen up."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from types import MappingProxyType
from typing import Any

from barrowful.catalogue.ceilings import most
from barrowful.catalogue.crops import crop
from barrowful.catalogue.materials import Material
from barrowful.ground.amount import mass_on
from barrowful.ground.nutrients import dry_dose_for
from barrowful.needs.decision import Serving
from barrowful.needs.kind import DUST, SLACK_SHARE, NeedKind
from barrowful.needs.meal import Fed, Meal, net_of, share_given, sizing
from barrowful.needs.settled import Settled
from barrowful.site.records import Feed, Place, Site
from barrowful.soil.application import Application
from barrowful.soil.nitrogen import usable
from barrowful.soil.response import response_of
from barrowful.soil.seasons import growing_seasons, season_of, spring_from
from barrowful.supplies.supply import YEAR, Supply


class Feeding(NeedKind[Feed]):
    """Nitrogen, phosphorus, potassium for each season; nitrogen, or else the first wanted, sizes the dose."""

    kind = "feed"
    hazard_words = frozenset({"bulky feed"})
    figures = ("density", "moisture")

    def bare_loose(self, site: Site, place: Place, material: Material) -> float:
        """Return the first season's dose in spring, whatever ceilings there are."""
        need, season = self.of(place), season_of(site, site.start)
        net = net_of(site, place, Settled(site).there(place), season)
        nutrient = sizing(need)
        lacking = max(0.0, mass_on(place.total_area, getattr(need, nutrient)) - net[nutrient])
        response = response_of(material, site.climate, place.soil, need.dug)
        dry = dry_dose_for(lacking, share_given(material, response, nutrient, "spring"))
        return material.loose_of(material.wet_of(dry))

    def _would_do(self, site: Site, place: Place, material: Material, loose: float) -> bool:
        need, dry = self.of(place), material.dry_mass(loose)
        net = net_of(site, place, Settled(site).there(place), season_of(site, site.start))
        others = (name for name in ("phosphorus", "potassium") if name != sizing(need))
        brings = all(
            net[name] + dry * usable(material, name) >= mass_on(place.total_area, getattr(need, name)) - DUST
            for name in others
        )
        response = response_of(material, site.climate, place.soil, need.dug)
        gives = net["nitrogen"] + dry * response.nitrogen(1).per_dry
        most_of_it = mass_on(
            place.total_area, max(need.nitrogen, most("available_nitrogen", "unwanted") or 0.0)
        )
        too_much = gives > most_of_it * (1 + SLACK_SHARE)
        return brings and not too_much and super()._would_do(site, place, material, loose)

    def hazards(self, dose: Application) -> Iterator[str]:
        if dose.material.sort.bulky and not dose.place.limits.farm:
            yield "bulky feed"

    def until(self, site: Site) -> date:
        return YEAR.after(site.start)

    def deadline(self, site: Site) -> str:
        return "in the first season"

    def serve(self, site: Site, place: Place, supply: Supply[Any], beside: Settled) -> Serving:
        """Return the doses of every season within the horizon, each sized by what is lacking in it."""
        meal = Meal(site, place, self.of(place), supply, beside)
        meal.gives(meal.nutrient, "spring")
        feeds = [meal.of_season(number) for number in _seasons(site)]
        first, worst = feeds[0], next((fed for fed in feeds if fed.why_not), None)
        return Serving(
            place=place,
            doses=tuple(first.doses),
            later=tuple(dose for fed in feeds[1:] for dose in fed.doses),
            why_not=worst.why_not + _on_average([fed.share for fed in feeds]) if worst else "",
            share=_mean([fed.share for fed in feeds]) if worst else 1.0,
            ceiling=worst.ceiling if worst else "",
            possible=worst.given if worst else None,
            short=first.short,
            ready_on=None if worst else max((dose.day for dose in first.doses), default=site.start),
            times_needed=_times(first),
            binding=meal.nutrient if first.doses else "",
            credit=max(0.0, first.credit),
            wanted=MappingProxyType(meal.wanted),
        )

    def _shortage(self, site: Site, supply: Supply[Any], servings: Sequence[Serving]) -> str:
        short, seasons = super()._shortage(site, supply, servings), len(_seasons(site))
        area = sum(serving.place.total_area for serving in servings)
        if not short or seasons == 1 or not area:
            return short
        met = sum(serving.share * serving.place.total_area for serving in servings) / area
        return f"{short}; {_over_all(seasons, met)}"


def _seasons(site: Site) -> list[int]:
    """Return the numbers of the growing seasons that are fed."""
    return growing_seasons(site, spring_from(site, site.start))


def _mean(shares: Sequence[float]) -> float:
    return sum(shares) / len(shares)


def _on_average(shares: Sequence[float]) -> str:
    """Return what is met over all seasons, to add to what is met in one; nothing where all are alike."""
    if len({f"{share:.0%}" for share in shares}) == 1:
        return ""
    return f"; {_over_all(len(shares), _mean(shares))}"


def _over_all(seasons: int, share: float) -> str:
    return f"on average over {seasons} seasons {share:.0%} is met"


def _times(fed: Fed) -> float | None:
    """Return how many times what came in the first season would have done; None where enough came."""
    if fed.short <= 0 or not fed.given:
        return None
    return (fed.given + fed.short) / fed.given


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
    nitrogen, phosphorus, potassium = (mass_on(place.total_area, taken) for taken in need.taken)
    return nitrogen, phosphorus, potassium
