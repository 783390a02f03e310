"""One place's raise need in the model's terms: what is missing on a day, and what doses make of it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Any

from barrowful.catalogue.rates import rate
from barrowful.ground.amount import dose, without_allowance
from barrowful.ground.soil import carbon_for, organic_matter
from barrowful.needs.kind import most_at_once
from barrowful.site.records import Place, Raise, Site
from barrowful.soil.application import Application
from barrowful.soil.history import base, counted_carbon, still_counted
from barrowful.soil.turnover import Turnover, carbon_in, soil_mass, turnover_of
from barrowful.supplies.supply import Supply

#: Loose volumes [m3] by day.
Pulses = list[tuple[date, float]]


@dataclass(frozen=True, kw_only=True)
class RaiseTask:
    """One place's raise need in the model's terms; carbon in kg/m2, doses in m3 loose.

    ``wanted`` is the carbon above the last soil test; ``past`` is what was dug in since.
    """

    site: Site
    place: Place
    need: Raise
    turnover: Turnover
    start: float
    wanted: float
    per_loose: float
    most: float
    past: list[Application]

    def missing(self, day: date) -> float:
        """Return what new doses must make up on a day: the whole less what the past still gives."""
        if not self.past:
            return self.wanted
        return max(0.0, self.wanted - counted_carbon(self.site, self.past, day))

    def made(self, doses: Pulses, day: date) -> float:
        """Return what counts [kg C/m2] on a day from doses."""
        counted = self.turnover.counted_by_days
        return sum(loose * self.per_loose * counted[(day - on).days] for on, loose in doses if on <= day)

    def holds(self, doses: Pulses, day: date, slack: float = 1e-6) -> bool:
        """Say whether the target holds on a day."""
        return self.made(doses, day) >= self.missing(day) - slack * self.wanted

    def matter(self, doses: Pulses, day: date) -> float:
        """Return soil organic matter [share] on a day."""
        past = counted_carbon(self.site, self.past, day)
        return self.with_carbon(past + self.made(doses, day))

    def with_carbon(self, carbon: float) -> float:
        """Return soil organic matter [share] with so much carbon [kg/m2] above the last soil test."""
        soil = soil_mass(self.place, self.need)
        return float(organic_matter(self.start, carbon, soil, rate("matter_per_carbon")))


def task_of(site: Site, place: Place, need: Raise, supply: Supply[Any]) -> RaiseTask:
    """Return the task of raising a place with a supply's material."""
    start = base(site, place, site.start).matter
    gain = need.organic_matter - start
    wanted = float(carbon_for(gain, soil_mass(place, need), rate("matter_per_carbon")))
    carbon = carbon_in(supply.material, without_allowance(1.0, need.allowance))
    return RaiseTask(
        site=site,
        place=place,
        need=need,
        turnover=turnover_of(supply.material, site.climate, place.soil, need.dug),
        start=start,
        wanted=max(0.0, wanted),
        per_loose=dose(carbon, place.total_area),
        most=most_at_once(place, need, need.depth * rate("most_of_depth")),
        past=still_counted(site, place),
    )
