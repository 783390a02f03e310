"""How a material goes on a site: decay rates there, and what one dose has become by a day."""

from __future__ import annotations

from bisect import bisect_left
from functools import cache, cached_property, lru_cache
from typing import NamedTuple

from barrowful.catalogue.materials import Material
from barrowful.catalogue.rates import rates
from barrowful.ground import climate as weather
from barrowful.ground.soil import bulk_density_from_carbon, layer_mass
from barrowful.measures.dates import DAYS_PER_YEAR
from barrowful.measures.fixed import fixed
from barrowful.site.needs import Raise
from barrowful.site.records import Climate, Place, Soil
from barrowful.soil.fading import ByDays, Fading, fresh_fading, humus_fading

#: Days by which whatever is put on has passed its peak, in the coldest ground: a limit of the search.
LONGEST = 400_000


@cache
def fresh_factor(climate: Climate) -> float:
    """Return the factor on the decay of fresh material: warmth averaged over months, and moisture."""
    warmth = weather.mean_temperature_factor(climate.temperatures)
    return warmth * (1.0 if climate.balance is None else float(weather.moisture_factor(climate.balance)))


@cache
def humus_factor(climate: Climate, clay: float | None) -> float:
    """Return the factor on the decay of humus: as for fresh material, and clay."""
    return fresh_factor(climate) * (1.0 if clay is None else float(weather.clay_factor(clay)))


@fixed
class Turnover:
    """A material in a soil, in its manner; rates are a year.

    Equal ones are the same object (see :func:`turnover`), so that equal places share what is reckoned
    of it, and which it is need not be compared by its figures.
    """

    fresh: float  #: rate of fresh carbon
    humus: float  #: rate of active humus
    slow: float  #: rate of slow humus
    share: float  #: of the fresh carbon that goes, what becomes humus
    slow_share: float  #: of that humus, what is slow
    counts_fresh: bool  #: does fresh carbon count as soil organic matter?

    @cached_property
    def staying(self) -> Fading:
        """Return the fresh share left, by years."""
        return fresh_fading(self.fresh)

    @cached_property
    def forming(self) -> Fading:
        """Return the humus for each fresh carbon added, by years."""
        active = humus_fading(self.fresh, self.humus, self.share * (1 - self.slow_share))
        return active + humus_fading(self.fresh, self.slow, self.share * self.slow_share)

    @cached_property
    def counting(self) -> Fading:
        """Return what counts as soil organic matter for each fresh carbon added, by years."""
        return self.forming + self.staying if self.counts_fresh else self.forming

    @cached_property
    def after_year(self) -> float:
        """Return fresh and humus left together a year after, for each fresh carbon added."""
        return self.left(1.0) + self.formed(1.0)

    @cached_property
    def counted_by_days(self) -> ByDays:
        """Return what counts as soil organic matter for each fresh carbon added, by days; nothing before."""
        return ByDays(self.counting.at)

    @cached_property
    def peak_days(self) -> int:
        """Return the days after which it counts most; before it counts less, and after it less again.

        Where nothing goes the oldest are as good as any.
        """
        if self.fresh <= 0:
            return LONGEST
        counted = self.counted_by_days
        return bisect_left(range(LONGEST), True, key=lambda days: counted[days + 1] <= counted[days])

    def most_counted(self, fewest: int, most: int) -> float:
        """Return the most that one carbon put on counts after so few days at least and so many at most."""
        return self.counted_by_days[min(max(self.peak_days, fewest), most)]

    def left(self, years: float) -> float:
        """Return the fresh share left."""
        return self.staying.at(years) if years > 0 else 1.0

    def formed(self, years: float) -> float:
        """Return humus for each fresh carbon added."""
        return self.forming.at(years) if years > 0 else 0.0

    def counted(self, years: float) -> float:
        """Return what counts as soil organic matter for each fresh carbon added; nothing before."""
        return self.counting.at(years) if years >= 0 else 0.0

    def counted_forever(self, age: float) -> float:
        """Return what counts of yearly additions of one carbon made for ever, the last ``age`` ago."""
        return _forever(self, age)


@lru_cache(maxsize=65536)
def passed(turnover: Turnover, days: int) -> tuple[float, ...]:
    """Return what is left of each part of what counts, so many days later."""
    return turnover.counting.passed(days / DAYS_PER_YEAR)


@lru_cache(maxsize=65536)
def _forever(turnover: Turnover, age: float) -> float:
    return turnover.counting.of_ages(age)


#: The one object of each turnover.
turnover = lru_cache(maxsize=4096)(Turnover)


class Range(NamedTuple):
    """How a material goes at the ends of the model's range and likely.

    A low course has little humus formed, little of it slow, and both parts lost fast; a high one the
    reverse. The fresh rate goes with the rates of humus where fresh carbon counts; elsewhere it moves only
    the timing and stays likely, so that low, likely and high keep their order at every lag.
    """

    low: Turnover
    likely: Turnover
    high: Turnover


def turnovers_of(material: Material, climate: Climate, soil: Soil, dug: bool) -> Range:
    """Return how a material goes in a soil and climate, dug in or left on top, with its range."""
    known = rates()
    lies = fresh_factor(climate) * (1.0 if dug else known[material.sort.on_top].likely)
    clayey, counts = humus_factor(climate, soil.clay), material.finished and dug
    decays, humified = material.figures["decay"], material.figures["humus"]

    def at(end: str, lost: str) -> Turnover:
        terms = {
            "fresh": getattr(decays, lost if counts else "likely") * lies,
            "humus": getattr(known["humus_rate"], lost) * clayey,
            "slow": getattr(known["slow_humus_rate"], lost) * clayey,
            "share": getattr(humified, end),
            "slow_share": getattr(known["slow_humus_share"], end),
        }
        plain = all(isinstance(term, float) for term in terms.values())
        make = turnover if plain else Turnover  # arrays are not looked up
        return make(**terms, counts_fresh=counts)

    return Range(low=at("low", "high"), likely=at("likely", "likely"), high=at("high", "low"))


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
