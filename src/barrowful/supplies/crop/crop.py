"""What is grown as a supply: each cut is a lot of fresh leaf on the day it is cut."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date
from decimal import Decimal
from functools import cached_property
from typing import Any

from barrowful.catalogue.figures import Figure
from barrowful.catalogue.judgements import judged_months, judgement
from barrowful.catalogue.materials import Material
from barrowful.costs.labour import Hours, carrying, work
from barrowful.costs.order import Order
from barrowful.ground import amount
from barrowful.measures.dates import date_after
from barrowful.measures.money import rounded
from barrowful.measures.telling import MASS, measured
from barrowful.site.carried import AS_IT_IS, Carried
from barrowful.site.job_names import ORDERED, PLANTED, first_word
from barrowful.site.records import Place, Site
from barrowful.site.ways import Grow
from barrowful.soil.application import Application
from barrowful.supplies.crop.cover_crop import Sowing, sowings
from barrowful.supplies.crop.stand import Stand
from barrowful.supplies.flow import AIR, Flow, nutrients_in, place_key
from barrowful.supplies.lot import Lot, LotsRange, repeated
from barrowful.supplies.supply import Cost, Land, Payment, Supply
from barrowful.supplies.task import Task


class Crop(Supply[Grow]):
    """A hedge, patch or cover crop; leaf is used when it is cut, it does not keep."""

    keeps = False
    lots_by = "dry mass"
    carried = True
    zone = "strip"
    hazard_words = Supply.hazard_words | {"nesting season", "cover crop", "living cover"}

    def carried_on(self, day: date) -> Carried:
        """Return the day it was planted on as it was logged, else as it was to be.

        Of what nothing was done, and what stood there before the start, the file says enough.
        """
        done = [of for of in self.site.done_by(self.name) if first_word(of.job) not in ORDERED]
        if not done or self.way.planted < self.site.start:
            return AS_IT_IS
        logged = (of.day for of in done if first_word(of.job) in PLANTED)
        return Carried(keys={"planted": next(logged, self.way.planted).isoformat()})

    def __init__(self, way: Grow, site: Site, drawn: Mapping[str, Supply[Any]]) -> None:
        super().__init__(way, site, drawn)
        self.material: Material = way.material
        self.habit = way.plant.habit
        self.hardwood = self.habit == "hedge" and not way.plant.frost_tender
        if not self.harvests and not self.stands:
            self.note = "gives no cut within the horizon"

    @property
    def rests_on(self) -> Mapping[str, Mapping[str, Figure]]:
        """Return the figures of its leaf and of the plant."""
        return {**super().rests_on, f"plant {self.way.plant.name}": self.way.plant.figures}

    @property
    def stands(self) -> bool:
        """Say whether it is a living cover round trees, which brings nothing."""
        return self.place is not None

    def serves(self, place: Place, kind: str) -> bool:
        """Say whether it may serve a need; a living cover serves the trees it stands round, no more.

        What is cut and dropped where it grows serves that place.
        """
        if self.way.around and (kind != "cover" or place.name != self.way.around):
            return False
        if self.way.dropped_on and place.name != self.way.dropped_on:
            return False
        return super().serves(place, kind)

    @property
    def is_sown(self) -> bool:
        """Say whether it is a cover crop."""
        return self.way.plant.habit == "cover crop"

    @cached_property
    def place(self) -> Place | None:
        """Return the trees it stands round, if it does."""
        return next((place for place in self.site.places if place.name == self.way.around), None)

    @cached_property
    def stand(self) -> Stand:
        """Return the stand of a perennial or hedge."""
        return Stand(self.way, self.site, self.place)

    @cached_property
    def sowings(self) -> list[Sowing]:
        """Return the sowings of a cover crop that is ended; a living cover is sown once, and stands."""
        return sowings(self.way, self.site) if self.is_sown and not self.stands else []

    @property
    def sown_area(self) -> float:
        """Return the area sown each time [m2]: that of the trees it stands round, where it does."""
        return self.place.total_area if self.place is not None else self.way.area or 0.0

    @cached_property
    def harvests(self) -> list[tuple[date, float]]:
        """Return every cut within the horizon with its dry mass [kg]; a living cover gives none."""
        if self.is_sown:
            return [(sowing.ended, sowing.dry) for sowing in self.sowings if sowing.dry > 0]
        return [] if self.stands else self.stand.harvests()

    @property
    def closes_on(self) -> date | None:
        """Return the day a living cover has closed the ground round its trees."""
        full = self.stand.full_on if self.place is not None else None
        return date_after(full, self.stand.figure("full_yield", judgement("full_yield"))) if full else None

    def lots(self, until: date) -> list[Lot]:
        density = self.material.get("density") or math.nan
        lots = [
            Lot(day, amount.loose_volume(self.material.wet_of(dry), density)) for day, dry in self.harvests
        ]
        return repeated(lots, self.site.end, until)

    @property
    def lots_range(self) -> LotsRange | None:
        """Return the range of the plant's yield; of what was weighed as a sample there is none."""
        name = "dry_matter" if self.is_sown else self.stand.yield_figure
        figure = self.way.plant.figures.get(name)
        if figure is None or not figure.likely or self.way.sample is not None:
            return None
        low, high = figure.low / figure.likely, figure.high / figure.likely
        return LotsRange(f"plant {self.way.plant.name}", name, low, high)

    def cost(self, draws: Mapping[date, float]) -> Cost:
        if not draws:
            return Cost()
        hours = self._cutting(sum(draws.values()))
        return self.founding(len({day.year for day in draws}), self.sown_for(draws)) + Cost(hours=hours)

    def _cutting(self, loose: float) -> Hours:
        """Return the hours to cut a loose volume [m3], and to carry it where it is not left in its place."""
        fresh = self.material.wet_mass(loose)
        carried = Hours() if self.way.dropped_on else carrying(fresh, self.site.labour.push)
        return work("cut", fresh) + carried

    def tasks(self, draws: Mapping[date, float]) -> list[Task]:
        cut = [
            Task(job="end" if self.is_sown else "cut", day=day, hours=self._cutting(loose), loose=loose)
            for day, loose in sorted(draws.items())
        ]
        if not self.is_sown or self.stands:
            return [*self.founding_tasks(), *cut]
        ends = {task.day: task for task in cut}
        sown = [sowing for sowing in self.sowings if sowing.ended in ends]
        return [task for sowing in sown for task in self._sown(sowing, ends[sowing.ended])]

    def _sown(self, sowing: Sowing, end: Task) -> Iterator[Task]:
        """Yield the tasks of a sowing: its seed, sowing it, its end, and the wait before planting."""
        if sowing.sown >= self.site.start:
            yield from self._sown_on(sowing.sown)
        yield end
        yield Task(job="wait", day=sowing.ended, until=sowing.plant_from)

    def _sown_on(self, day: date) -> Iterator[Task]:
        """Yield the tasks of sowing on a day: its seed, where that is bought, and sowing it."""
        seed = f"{measured(self.seed_mass, MASS, 2)} of seed" if self.seed_mass else "seed"
        if self.way.seed_price:
            yield Task(job="order", day=day, what=seed)
        yield Task(job="sow", day=day, hours=work("sow", self.sown_area), what=seed)

    def founding_tasks(self) -> list[Task]:
        if self.way.planted < self.site.start or (self.is_sown and not self.stands):
            return []
        if self.is_sown:
            return list(self._sown_on(self.way.planted))
        before, tasks = 0, []
        for number, (years, alive) in enumerate(self.stand.plants):
            day, new = date_after(self.way.planted, years), alive - before
            if new > 0 and day <= self.site.end:
                if number == 0 and self.way.cost:
                    tasks.append(Task(job="order", day=day, what=f"{new} plants or cuttings"))
                word = "strike" if number else "plant"
                tasks.append(Task(job=word, day=day, hours=work("plant", new), what=f"{new} plants"))
            before = alive
        return tasks

    def founding(self, years: int, sown: int | None = None) -> Cost:
        """Return what it takes to have the stand: plants or seed, planting or sowing, and the land.

        What was planted or sown before the start takes no more; nor do cuttings struck after the horizon.
        """
        sown = years if sown is None else sown
        if self.stands:
            sown = int(self.way.planted >= self.site.start)
        if self.is_sown:
            return Cost(paid=self._payments(years, sown), hours=work("sow", self.sown_area).times(sown))
        planting = sum((task.hours for task in self.founding_tasks() if task.hours), Hours())
        return Cost(paid=self._payments(years, sown), hours=planting)

    def sown_for(self, days: Iterable[date]) -> int:
        """Return how many sowings since the start end on some days; years of draws on a stand."""
        if not self.is_sown:
            return super().sown_for(days)
        ends = set(days)
        return sum(sowing.ended in ends and sowing.sown >= self.site.start for sowing in self.sowings)

    def _payments(self, years: int, sown: int) -> tuple[Payment, ...]:
        way, day = self.way, max(self.way.planted, self.site.start)
        mass = round(self.seed_mass, 6) * sown if self.is_sown else None
        seed = rounded(way.seed_price * Decimal(str(mass or 0.0)), self.site.currency)
        found = (
            Payment(day, way.name, "planting", None, way.cost if way.planted >= day else Decimal(0)),
            Payment(day, way.name, "what the ground would have brought", None, way.displaces * years),
            Payment(day, way.name, "seed", mass, seed),
        )
        return tuple(one for one in found if one.cash)

    @property
    def seed_mass(self) -> float:
        """Return the seed for one sowing [kg]."""
        return (self.way.plant.get("seed_rate") or 0.0) / 1000 * self.sown_area

    def hazards(self, doses: Sequence[Application], orders: Sequence[Order]) -> Iterator[str]:
        yield from super().hazards(doses, orders)
        if self.stands:
            yield "living cover"
        elif self.is_sown:
            yield "cover crop"
        months = judged_months("nesting_from", "nesting_to", self.site.hemisphere)
        if self.way.plant.habit == "hedge" and any(dose.day.month in months for dose in doses):
            yield "nesting season"

    @property
    def land(self) -> Land:
        """Return the land there is: an area [m2], a row [m], or plants."""
        plants = None if self.is_sown else self.stand.room
        if self.way.row is not None:
            return Land(self.way.row, "m", plants)
        if self.way.area is not None:
            return Land(self.way.area, "m2", plants)
        return Land(float(self.stand.room), "plants", plants)

    @property
    def area(self) -> float | None:
        return self.way.area

    @property
    def source(self) -> str:
        return place_key(self.way.grows_on) if self.way.grows_on else super().source

    def inflows(self, draws: Mapping[date, float]) -> list[Flow]:
        cut = sum(nutrients_in(self.material, loose)[0] for loose in draws.values())
        return self.fixed(cut)

    def fixed(self, nitrogen: float) -> list[Flow]:
        """Return what a legume took from the air: only that share of its nitrogen is new here."""
        fixed = nitrogen * self.way.fixed_share
        return [Flow(AIR, self.source, (fixed, 0.0, 0.0))] if fixed > 0 else []


def crops_of(supplies: Iterable[Supply[Any]]) -> list[Crop]:
    """Return those of some supplies that are grown."""
    return [supply for supply in supplies if isinstance(supply, Crop)]
