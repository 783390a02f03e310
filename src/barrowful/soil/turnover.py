"""How a material goes on a site: decay rates there, and what one dose has become by a day."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache, lru_cache

from barrowful.catalogue.materials import Material
from barrowful.catalogue.rates import rate
from barrowful.ground import climate as weather
from barrowful.ground import decay
from barrowful.ground.soil import bulk_density_from_carbon, layer_mass
from barrowful.measures.dates import DAYS_PER_YEAR
from barrowful.site.records import Climate, Place, Raise, Soil


@cache
def fresh_factor(climate: Climate) -> float:
    """Return the factor on the decay of fresh material: warmth averaged over months, and moisture."""
    warmth = weather.mean_temperature_factor(climate.temperatures)
    return warmth * (1.0 if climate.balance is None else float(weather.moisture_factor(climate.balance)))


@cache
def humus_factor(climate: Climate, clay: float | None) -> float:
    """Return the factor on the decay of humus: as for fresh material, and clay."""
    return fresh_factor(climate) * (1.0 if clay is None else float(weather.clay_factor(clay)))


@dataclass(frozen=True)
class Turnover:
    """A material in a soil: fresh rate, humus rate [a year], humification, does fresh count."""

    fresh: float
    humus: float
    share: float
    counts_fresh: bool

    def left(self, years: float) -> float:
        """Return the fresh share left."""
        return float(decay.fresh_left(years, self.fresh)) if years > 0 else 1.0

    def formed(self, years: float) -> float:
        """Return humus for each fresh carbon added."""
        return float(decay.humus_formed(years, self.fresh, self.humus, self.share)) if years > 0 else 0.0

    def counted(self, years: float) -> float:
        """Return what counts as soil organic matter for each fresh carbon added; nothing before."""
        if years < 0:
            return 0.0
        return self.formed(years) + (self.left(years) if self.counts_fresh else 0.0)

    def counted_forever(self, age: float) -> float:
        """Return what counts of yearly additions of one carbon made for ever, the last ``age`` ago."""
        humus = decay.humus_of_ages(age, self.fresh, self.humus, self.share)
        return float(humus + (decay.fresh_of_ages(age, self.fresh) if self.counts_fresh else 0.0))


class CountedByDays:
    """What counts of one carbon, so many days after it was put on; each number of days is reckoned once."""

    def __init__(self, turnover: Turnover) -> None:
        self.turnover = turnover
        self._known: dict[int, float] = {}

    def __call__(self, days: int) -> float:
        """Return what counts as soil organic matter for each fresh carbon added; nothing before."""
        counted = self._known.get(days)
        if counted is None:
            counted = self._known[days] = self.turnover.counted(days / DAYS_PER_YEAR)
        return counted


@lru_cache(maxsize=256)
def counted_by_days(turnover: Turnover) -> CountedByDays:
    """Return what counts of one carbon by days; equal turnovers share it, as equal beds do."""
    return CountedByDays(turnover)


def turnover_of(material: Material, climate: Climate, soil: Soil, dug: bool) -> Turnover:
    """Return how a material goes in a soil and climate, dug in or left on top."""
    return Turnover(
        material["decay"] * fresh_factor(climate),
        rate("humus_rate") * humus_factor(climate, soil.clay),
        material["humus"],
        material.finished and dug,
    )


def carbon_in(material: Material, loose: float) -> float:
    """Return the carbon [kg] in a loose volume [m3]."""
    return material.holds(loose, "carbon")


def soil_mass(place: Place, need: Raise) -> float:
    """Return the fine dry soil [kg/m2] of a raise need's depth."""
    return soil_mass_at(place, need.depth)


def soil_mass_at(place: Place, depth: float) -> float:
    """Return the fine dry soil [kg/m2] of a depth [m]; bulk density is reckoned where none is given."""
    density = place.soil.bulk_density
    if density is None:
        density = float(bulk_density_from_carbon((place.soil.organic_matter or 0.0) / 2))
    return float(layer_mass(depth, density, place.soil.stones))


def half_depth_years(material: Material, climate: Climate) -> float:
    """Return the time in which a settled layer halves [years]: the figure is for 15 degC, moist."""
    factor = fresh_factor(climate)
    return material["lasts"] / factor if factor > 0 else math.inf
