"""A stand over time: the plants there are, the days it is cut, and what a full stand yields."""

from __future__ import annotations

import math
from datetime import date, timedelta
from functools import cached_property

from barrowful.catalogue.judgements import judgement
from barrowful.catalogue.plants import Plant
from barrowful.ground import growth
from barrowful.measures.dates import date_after, years_between
from barrowful.measures.fixed import fixed
from barrowful.site.records import Place, Site
from barrowful.site.ways import Grow


@fixed(kw_only=False)
class Stand:
    """A perennial or hedge on a site; ``end`` picks the low, likely or high figures."""

    way: Grow
    site: Site
    place: Place | None = None
    end: str = "likely"

    def figure(self, name: str, otherwise: float) -> float:
        """Return a figure of the plant at this end of its range, or what stands in for it."""
        figure = self.plant.figures.get(name)
        return otherwise if figure is None else float(getattr(figure, self.end))

    @property
    def plant(self) -> Plant:
        """Return the plant."""
        return self.way.plant

    @property
    def spacing(self) -> float:
        """Return the distance from plant to plant [m]."""
        return self.way.spacing or self.plant.get("spacing") or judgement("plant_spacing")

    @property
    def each(self) -> int:
        """Return how many plants close one tree's ring, where it stands round trees; else nothing."""
        if self.place is None or self.place.ring is None:
            return 0
        shade = self.plant.get("shade_diameter") or self.spacing
        return int(growth.plants_round_tree(*self.place.ring, shade))

    @cached_property
    def room(self) -> int:
        """Return how many plants the land takes."""
        if self.place is not None:
            return self.each * self.place.count
        if self.way.row is not None:
            return int(growth.plants_in_row(self.way.row, self.spacing))
        if self.way.area is not None:
            return int(growth.plants_on_area(self.way.area, self.spacing))
        return self.way.start_with or 1

    @cached_property
    def plants(self) -> list[tuple[float, int]]:
        """Return (years since planting, plants alive): generations of cuttings up to the room."""
        strike, cuttings = self.figure("strike_rate", 1.0), self.figure("cuttings_per_plant", 0.0)
        start = self.way.start_with or math.ceil(self.room / strike - 1e-9)
        cycle = self.figure("cycle", 1.0)
        return list(growth.generations(start, strike, cuttings, cycle, max(self.room, 1)))

    @property
    def full_on(self) -> date | None:
        """Return the day the room is planted full; None when it never is."""
        years, alive = self.plants[-1]
        return date_after(self.way.planted, years) if alive >= self.room else None

    @property
    def surplus(self) -> int:
        """Return the cuttings a full stand gives in each cycle beyond the room."""
        return math.floor(self.plants[-1][1] * self.figure("cuttings_per_plant", 0.0))

    @property
    def cuts(self) -> float:
        """Return the cuts a year; less than one is a cut every few years."""
        return self.figure("cuts_per_year", judgement("cuts_per_year"))

    @property
    def yield_figure(self) -> str:
        """Return the name of the figure of the plant that its yield goes by."""
        names = [f"dry_yield_per_{what}" for what in ("metre", "area", "plant")]
        by_row, by_area, by_plant = names
        known = [name for name in names if self.figure(name, 0.0)]
        first = by_row if self.way.row is not None else by_area if self.way.area is not None else by_plant
        order = [first, by_plant, by_row, by_area]
        return next((name for name in order if name in known), by_plant)

    @cached_property
    def yield_of_one(self) -> float:
        """Return the full yearly dry yield of one plant [kg]."""
        way = self.way
        by_row, by_area, by_plant = (
            self.figure(f"dry_yield_per_{what}", 0.0) for what in ("metre", "area", "plant")
        )
        if way.sample is not None:
            return way.sample.dry * max(1.0, self.cuts) * self.spacing**2
        if way.row is not None and by_row:
            return by_row * way.row / max(1, self.room)
        if way.area is not None and by_area:
            return by_area * way.area / max(1, self.room)
        return by_plant or by_row * self.spacing or by_area * self.spacing**2

    def yearly(self, day: date) -> float:
        """Return the yearly dry yield [kg] at a day's age, for the plants that stand then."""
        age = years_between(self.way.planted, day)
        first, full = (self.figure(name, judgement(name)) for name in ("first_cut", "full_yield"))
        total, before = 0.0, 0
        for years, alive in self.plants:
            share = growth.share_of_full_yield(age - years, first, max(full, first))
            total += (alive - before) * self.yield_of_one * share
            before = alive
        return total

    def growing_days(self, year: int) -> list[date]:
        """Return the days of a year on which it grows: not resting, warm enough, between frosts."""
        day, last = date(year, 1, 1), date(year, 12, 31)
        stops = self.plant.get("stops_below")
        stops = judgement("growth_stops") if stops is None else stops
        warm = {month + 1 for month, one in enumerate(self.site.climate.temperatures) if one >= stops}
        found = []
        while day <= last:
            if day.month in warm and day.month not in self.way.rests and self._frost_free(day):
                found.append(day)
            day += timedelta(days=1)
        return found

    def _frost_free(self, day: date) -> bool:
        climate = self.site.climate
        if climate.last_frost is None or climate.first_frost is None:
            return True
        here = (day.month, day.day)
        if climate.last_frost <= climate.first_frost:
            return climate.last_frost < here <= climate.first_frost
        return here > climate.last_frost or here <= climate.first_frost

    def cutting_days(self) -> list[tuple[date, float]]:
        """Return the days it is cut within the horizon, with the share of a year each takes."""
        if self.cuts < 1:
            return self._long_rotation()
        found = []
        cuts = round(self.cuts)
        for year in range(self.way.planted.year, self.site.end.year + 1):
            days = self.growing_days(year)
            for cut in range(cuts if days else 0):
                found.append((days[math.ceil(len(days) * (cut + 1) / cuts) - 1], 1 / cuts))
        return found

    def _long_rotation(self) -> list[tuple[date, float]]:
        years = round(1 / self.cuts)
        found, count = [], 1
        while (day := date_after(self.way.planted, years * count)) <= self.site.end:
            found.append((day, float(years)))
            count += 1
        return found

    def harvests(self) -> list[tuple[date, float]]:
        """Return every cut within the horizon with its dry mass [kg]."""
        cuts = [(day, self.yearly(day) * share) for day, share in self.cutting_days()]
        return [(day, dry) for day, dry in cuts if dry > 0 and self.site.start <= day <= self.site.end]
