"""Harvests of what is grown: plants by date, yield by age, cuts in the growing season, frost."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from functools import cached_property

from barrowful.catalogue.figures import computed
from barrowful.catalogue.materials import Material
from barrowful.effort.labour import carrying, work
from barrowful.ground import growth
from barrowful.measures.dates import date_after, years_between
from barrowful.measures.money import rounded
from barrowful.plans.supply import YEAR, Cost, Lot, Supply, repeated
from barrowful.site.records import Grow, Site

#: Used where the catalogue has no figure for a plant (this project's judgement).
FIRST_CUT, FULL_YIELD, CUTS = 0.5, 1.0, 2


@dataclass(frozen=True)
class Harvest:
    """One cut: its day and its dry mass [kg]."""

    day: date
    dry: float


class Grown(Supply):
    """A hedge, patch or cover crop as a supply of fresh leaf, used when it is cut."""

    keeps = False

    def __init__(self, way: Grow, site: Site) -> None:
        self.way, self.site = way, site
        stuff = way.material
        if way.sample is not None and way.sample.nitrogen is not None:
            stuff = stuff.with_figures({"nitrogen": computed("nitrogen", "share", way.sample.nitrogen)})
        self.material: Material = stuff
        if not self.harvests:
            self.note = "gives no cut within the horizon"

    @property
    def terms(self) -> Grow:
        """Return the way as written."""
        assert isinstance(self.way, Grow)
        return self.way

    @cached_property
    def harvests(self) -> list[Harvest]:
        """Return every cut within the horizon."""
        if self.terms.plant.habit == "cover crop":
            return list(self._sown())
        return list(self._cuts())

    def _sown(self) -> Iterator[Harvest]:
        """Yield one cut a year, a full term after sowing."""
        way, figures = self.terms, self.terms.plant
        term = figures.get("full_term") or 0.25
        dry = way.sample.dry if way.sample else figures.get("dry_matter") or 0.0
        count = 0
        while (day := date_after(YEAR.times(count).after(way.planted), term)) <= self.site.end:
            if day >= self.site.start:
                yield Harvest(day, dry * (way.area or 0.0))
            count += 1

    def _cuts(self) -> Iterator[Harvest]:
        """Yield the cuts of a perennial, evenly through the growing season of each year."""
        cuts = round(self.terms.plant.get("cuts_per_year") or CUTS)
        for year in range(self.terms.planted.year, self.site.end.year + 1):
            for day in self._cutting_days(year, cuts):
                dry = self._dry_on(day) / cuts
                if dry > 0 and self.site.start <= day <= self.site.end:
                    yield Harvest(day, dry)

    def _cutting_days(self, year: int, cuts: int) -> list[date]:
        first, last = self._season(year)
        length = (last - first).days
        return [date_after(first, length / 365.25 * (cut + 1) / cuts) for cut in range(cuts)]

    def _season(self, year: int) -> tuple[date, date]:
        """Return the growing season: between the frosts given, else April to October, or all year."""
        climate = self.site.climate
        spring, autumn = climate.last_frost, climate.first_frost
        if spring is None or autumn is None:
            warm = min(climate.temperatures) >= 15
            north = self.site.hemisphere == "north"
            spring, autumn = (
                ((1, 1), (12, 31)) if warm else ((4, 1), (10, 31)) if north else ((10, 1), (4, 30))
            )
        first, last = date(year, *spring), date(year, *autumn)
        return first, last if last > first else date(year + 1, *autumn)

    def _dry_on(self, day: date) -> float:
        """Return the yearly dry yield [kg] at a day's age, for the plants that stand then."""
        figures = self.terms.plant
        age = years_between(self.terms.planted, day)
        first, full = figures.get("first_cut") or FIRST_CUT, figures.get("full_yield") or FULL_YIELD
        total, before = 0.0, 0
        for years, alive in self.plants:
            share = growth.share_of_full_yield.si(age - years, first, max(full, first))
            total += (alive - before) * self._yield_of_one * share
            before = alive
        return total

    @cached_property
    def plants(self) -> list[tuple[float, int]]:
        """Return (years since planting, plants alive): generations from cuttings up to the room."""
        way, figures = self.terms, self.terms.plant
        start = way.start_with or self.room
        strike, cuttings = figures.get("strike_rate") or 1.0, figures.get("cuttings_per_plant") or 0.0
        cycle = figures.get("cycle") or 1.0
        return list(growth.generations(start, strike, cuttings, cycle, max(self.room, 1)))

    @cached_property
    def room(self) -> int:
        """Return how many plants the land takes at the spacing."""
        way, spacing = self.terms, self.spacing
        if way.row is not None:
            return int(growth.plants_in_row.si(way.row, spacing))
        if way.area is not None:
            return int(growth.plants_on_area.si(way.area, spacing))
        return way.start_with or 1

    @property
    def spacing(self) -> float:
        """Return the distance from plant to plant [m]."""
        return self.terms.spacing or self.terms.plant.get("spacing") or 0.5

    @cached_property
    def _yield_of_one(self) -> float:
        """Return the full yearly dry yield of one plant [kg]."""
        way, figures = self.terms, self.terms.plant
        by_row, by_area = figures.get("dry_yield_per_metre"), figures.get("dry_yield_per_area")
        by_plant = figures.get("dry_yield_per_plant")
        if way.sample is not None:
            cuts = round(figures.get("cuts_per_year") or CUTS)
            return way.sample.dry * cuts * self.spacing**2
        if way.row is not None and by_row is not None:
            return by_row * way.row / max(1, self.room)
        if way.area is not None and by_area is not None:
            return by_area * way.area / max(1, self.room)
        return by_plant or (by_row or 0.0) * self.spacing or (by_area or 0.0) * self.spacing**2

    def lots(self, until: date) -> list[Lot]:
        fresh = [(one.day, one.dry / self.material.dry_share) for one in self.harvests]
        density = self.material.get("density") or math.nan
        return repeated([Lot(day, mass / density) for day, mass in fresh], self.site.end, until)

    def cost(self, draws: Mapping[date, float]) -> Cost:
        way = self.terms
        fresh = sum(draws.values()) * self.material["density"]
        hours = work("cut", fresh)
        if not way.in_place:
            hours += carrying(fresh, self.site.labour.push)
        seed = (way.plant.get("seed_rate") or 0.0) / 1000 * (way.area or 0.0)
        years = len({day.year for day in draws})
        cash = way.cost + way.displaces * years
        if way.plant.habit == "cover crop":
            cash += rounded(way.seed_price * Decimal(str(seed)) * years, self.site.currency)
            hours += work("sow", way.area or 0.0).times(years)
        elif way.planted >= self.site.start:
            hours += work("plant", self.plants[-1][1])
        return Cost(other_cash=cash, hours=hours) if draws else Cost()
