"""What is grown as a supply: each cut is a lot of fresh leaf on the day it is cut."""

from __future__ import annotations

import math
from collections.abc import Mapping
from datetime import date
from decimal import Decimal
from functools import cached_property

from barrowful.catalogue.figures import computed
from barrowful.catalogue.judgements import judgement
from barrowful.catalogue.materials import Material
from barrowful.costs.labour import Hours, carrying, work
from barrowful.measures.dates import date_after
from barrowful.measures.money import rounded
from barrowful.site.records import Place, Site
from barrowful.site.ways import Grow
from barrowful.supplies.crop.cover_crop import Sowing, terms
from barrowful.supplies.crop.stand import Stand
from barrowful.supplies.supply import Cost, Lot, Payment, Supply, repeated


class Crop(Supply):
    """A hedge, patch or cover crop; leaf is used when it is cut, it does not keep."""

    keeps = False

    def __init__(self, way: Grow, site: Site) -> None:
        self.way, self.site = way, site
        stuff = way.material
        if way.sample is not None and way.sample.nitrogen is not None:
            stuff = stuff.with_figures({"nitrogen": computed("nitrogen", "share", way.sample.nitrogen)})
        self.material: Material = stuff
        if not self.harvests and self.place is None:
            self.note = "gives no cut within the horizon"

    @property
    def terms(self) -> Grow:
        """Return the way as written."""
        assert isinstance(self.way, Grow)
        return self.way

    @property
    def is_sown(self) -> bool:
        """Say whether it is a cover crop."""
        return self.terms.plant.habit == "cover crop"

    @cached_property
    def place(self) -> Place | None:
        """Return the trees it stands round, if it does."""
        return next((place for place in self.site.places if place.name == self.terms.around), None)

    @cached_property
    def stand(self) -> Stand:
        """Return the stand of a perennial or hedge."""
        return Stand(self.terms, self.site, self.place)

    @cached_property
    def sowings(self) -> list[Sowing]:
        """Return the terms of a cover crop."""
        return terms(self.terms, self.site) if self.is_sown else []

    @cached_property
    def harvests(self) -> list[tuple[date, float]]:
        """Return every cut within the horizon with its dry mass [kg]; a living cover gives none."""
        if self.is_sown:
            return [(term.ended, term.dry) for term in self.sowings if term.dry > 0]
        return [] if self.place is not None else self.stand.harvests()

    @property
    def closes_on(self) -> date | None:
        """Return the day a living cover has closed the ground round its trees."""
        full = self.stand.full_on if self.place is not None else None
        return date_after(full, self.stand.figure("full_yield", judgement("full_yield"))) if full else None

    def lots(self, until: date) -> list[Lot]:
        density = self.material.get("density") or math.nan
        lots = [Lot(day, dry / self.material.dry_share / density) for day, dry in self.harvests]
        return repeated(lots, self.site.end, until)

    def cost(self, draws: Mapping[date, float]) -> Cost:
        if not draws:
            return Cost()
        fresh = sum(draws.values()) * self.material["density"]
        hours = work("cut", fresh)
        if not self.terms.in_place:
            hours += carrying(fresh, self.site.labour.push)
        return self.founding(len({day.year for day in draws})) + Cost(hours=hours)

    def founding(self, years: int) -> Cost:
        """Return what it takes to have the stand: plants or seed, planting or sowing, and the land."""
        way = self.terms
        if self.is_sown:
            return Cost(paid=self._payments(years), hours=work("sow", way.area or 0.0).times(years))
        planting = work("plant", self.stand.plants[-1][1]) if way.planted >= self.site.start else Hours()
        return Cost(paid=self._payments(years), hours=planting)

    def _payments(self, years: int) -> tuple[Payment, ...]:
        way, day = self.terms, max(self.terms.planted, self.site.start)
        mass = round(self.seed_mass, 6) * years if self.is_sown else None
        seed = rounded(way.seed_price * Decimal(str(mass or 0.0)), self.site.currency)
        found = (
            Payment(day, way.name, "planting", None, way.cost),
            Payment(day, way.name, "what the ground would have brought", None, way.displaces * years),
            Payment(day, way.name, "seed", mass, seed),
        )
        return tuple(one for one in found if one.cash)

    @property
    def seed_mass(self) -> float:
        """Return the seed for one sowing [kg]."""
        return (self.terms.plant.get("seed_rate") or 0.0) / 1000 * (self.terms.area or 0.0)

    @property
    def land(self) -> tuple[float, str]:
        """Return the land there is: an area [m2], a row [m], or plants, and which."""
        way = self.terms
        if way.row is not None:
            return way.row, "m"
        return (way.area, "m2") if way.area is not None else (float(self.stand.room), "plants")
