"""A raise need for each square metre, in the model's terms: what is missing, and what doses make of it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Any, NamedTuple

from barrowful.catalogue.rates import rate
from barrowful.ground.amount import depth, without_allowance
from barrowful.ground.soil import carbon_for, organic_matter
from barrowful.needs.kind import most_at_once
from barrowful.site.records import Place, Raise, Site
from barrowful.soil.application import Application
from barrowful.soil.history import base, still_counted
from barrowful.soil.turnover import Turnover, carbon_in, soil_mass, turnover_of
from barrowful.supplies.supply import Supply

#: Loose depths [m] by day number.
Pulses = list[tuple[int, float]]


class Earlier(NamedTuple):
    """What was dug in before: its day number, its carbon [kg/m2], and how it goes."""

    day: int
    carbon: float
    turnover: Turnover


@dataclass(frozen=True, kw_only=True)
class RaiseTask:
    """A raise need of each square metre: equal ground with equal needs makes equal tasks.

    Carbon is in kg/m2, doses are loose depths in m, days are day numbers.
    """

    begin: int  #: the start of the site
    by: int | None  #: as written
    target: float  #: share
    start: float  #: share, at the last soil test
    soil: float  #: kg/m2 of fine dry soil
    turnover: Turnover
    per_loose: float  #: kg of carbon that count for each m3 brought
    most: float  #: m, at one time
    past: tuple[Earlier, ...]  #: dug in since the soil test

    @cached_property
    def wanted(self) -> float:
        """Return the carbon [kg/m2] wanted above the last soil test."""
        return max(0.0, float(carbon_for(self.target - self.start, self.soil, rate("matter_per_carbon"))))

    def past_on(self, day: int) -> float:
        """Return what counts [kg C/m2] on a day of what was dug in since the soil test."""
        return sum(dose.carbon * dose.turnover.counted_by_days[day - dose.day] for dose in self.past)

    def missing(self, day: int) -> float:
        """Return what new doses must make up on a day: the whole less what the past still gives."""
        return max(0.0, self.wanted - self.past_on(day)) if self.past else self.wanted

    def made(self, doses: Pulses, day: int) -> float:
        """Return what counts [kg C/m2] on a day from doses."""
        counted = self.turnover.counted_by_days
        return self.per_loose * sum(loose * counted[day - on] for on, loose in doses)

    def holds(self, doses: Pulses, day: int, slack: float = 1e-6) -> bool:
        """Say whether the target holds on a day."""
        return self.made(doses, day) >= self.missing(day) - slack * self.wanted

    def matter(self, doses: Pulses, day: int) -> float:
        """Return soil organic matter [share] on a day."""
        return self.with_carbon(self.past_on(day) + self.made(doses, day))

    def with_carbon(self, carbon: float) -> float:
        """Return soil organic matter [share] with so much carbon [kg/m2] above the last soil test."""
        return float(organic_matter(self.start, carbon, self.soil, rate("matter_per_carbon")))


def task_of(site: Site, place: Place, need: Raise, supply: Supply[Any]) -> RaiseTask:
    """Return the task of raising a place with a supply's material."""
    material, climate = supply.material, site.climate
    most = most_at_once(place, need, need.depth * rate("most_of_depth"))
    return RaiseTask(
        begin=site.start.toordinal(),
        by=need.by.toordinal() if need.by else None,
        target=need.organic_matter,
        start=base(site, place, site.start).matter,
        soil=soil_mass(place, need),
        turnover=turnover_of(material, climate, place.soil, need.dug),
        per_loose=carbon_in(material, without_allowance(1.0, need.allowance)),
        most=depth(most, place.total_area),
        past=tuple(_earlier(site, dose) for dose in still_counted(site, place)),
    )


def _earlier(site: Site, dose: Application) -> Earlier:
    return Earlier(dose.day.toordinal(), dose.carbon, dose.turnover(site))
