"""Carbon, mulch and nitrogen of many applications, carried from day to day instead of added up anew."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from functools import lru_cache

from barrowful.ground import decay
from barrowful.measures.dates import DAYS_PER_YEAR, years_between
from barrowful.site.records import Site
from barrowful.soil.application import Application
from barrowful.soil.fading import Fading
from barrowful.soil.history import season_index
from barrowful.soil.nitrogen import season
from barrowful.soil.turnover import Range, half_depth_years, turnovers_of

#: Low, likely and high.
Triple = tuple[float, float, float]


@lru_cache(maxsize=4096)
def _passed(fading: Fading, days: int) -> tuple[float, ...]:
    return fading.passed(days / DAYS_PER_YEAR)


@dataclass
class FadingPool:
    """Carbon [kg/m2] of applications that fade alike, each part of their sum of exponentials by itself."""

    fading: Fading
    parts: list[float]

    @classmethod
    def empty(cls, fading: Fading) -> FadingPool:
        """Return a pool with nothing in it."""
        return cls(fading, [0.0] * len(fading.amounts))

    def add(self, carbon: float) -> None:
        """Put fresh carbon [kg/m2] on."""
        self.parts = [part + carbon * of for part, of in zip(self.parts, self.fading.amounts, strict=True)]

    def carry(self, days: int) -> None:
        """Let it go on for some days."""
        passed = _passed(self.fading, days)
        self.parts = [part * left for part, left in zip(self.parts, passed, strict=True)]

    @property
    def carbon(self) -> float:
        """Return the carbon [kg/m2] there is."""
        return max(0.0, sum(self.parts))


class CarbonPool:
    """Carbon [kg/m2] of applications that go alike: fresh and humus at each end of the range."""

    def __init__(self, turnovers: Range, dug: bool, day: date) -> None:
        self.turnovers, self.dug, self.day = turnovers, dug, day
        self._fresh = [FadingPool.empty(turnover.staying) for turnover in turnovers]
        self._humus = [FadingPool.empty(turnover.forming) for turnover in turnovers]

    def add(self, carbon: float) -> None:
        """Put fresh carbon [kg/m2] on, on the day it is carried to."""
        for pool in (*self._fresh, *self._humus):
            pool.add(carbon)

    def carry(self, day: date) -> None:
        """Let it go on to a day, no earlier than the last."""
        days = (day - self.day).days
        if days:
            for pool in (*self._fresh, *self._humus):
                pool.carry(days)
            self.day = day

    @property
    def fresh(self) -> float:
        """Return the fresh carbon that is likely left [kg/m2]."""
        return self._fresh[1].carbon

    @property
    def humus(self) -> Triple:
        """Return the humus carbon [kg/m2]: low, likely, high.

        Where fresh carbon goes fastest in the low course, that one has most humus at first.
        """
        low, likely, high = (pool.carbon for pool in self._humus)
        return min(low, likely, high), likely, max(low, likely, high)

    @property
    def whole(self) -> Triple:
        """Return all carbon there is [kg/m2], fresh and humus: low, likely, high."""
        low, likely, high = (
            fresh.carbon + humus.carbon for fresh, humus in zip(self._fresh, self._humus, strict=True)
        )
        return low, likely, high

    @property
    def counted(self) -> Triple:
        """Return what counts as soil organic carbon [kg/m2]: low, likely, high; on top nothing does."""
        if not self.dug:
            return 0.0, 0.0, 0.0
        return self.whole if self.turnovers.likely.counts_fresh else self.humus


class Carbon:
    """Carbon [kg/m2] of a place's applications, asked for on one day after another."""

    def __init__(self, site: Site, applications: Sequence[Application]) -> None:
        self.site = site
        self.coming = sorted(applications, key=lambda dose: dose.day, reverse=True)
        self.pools: dict[tuple[int, bool], CarbonPool] = {}

    def on(self, day: date) -> list[CarbonPool]:
        """Return the pools on a day, no earlier than the last one asked for."""
        while self.coming and self.coming[-1].day <= day:
            dose = self.coming.pop()
            pool = self._pool(dose)
            pool.carry(dose.day)
            pool.add(dose.carbon)
        for pool in self.pools.values():
            pool.carry(day)
        return list(self.pools.values())

    def _pool(self, dose: Application) -> CarbonPool:
        key = (id(dose.material), dose.dug)
        if key not in self.pools:
            turnovers = turnovers_of(dose.material, self.site.climate, dose.place.soil, dose.dug)
            self.pools[key] = CarbonPool(turnovers, dose.dug, dose.day)
        return self.pools[key]


class Mulch:
    """Settled depth [m] of what lies on top, asked for on one day after another."""

    def __init__(self, site: Site, applications: Sequence[Application]) -> None:
        self.site = site
        on_top = (dose for dose in applications if not dose.dug and not dose.material.lacks("lasts"))
        self.coming = sorted(on_top, key=lambda dose: dose.day, reverse=True)
        self.half = {id(dose.material): half_depth_years(dose.material, site.climate) for dose in self.coming}
        self.layers: dict[int, tuple[date, float]] = {}

    def on(self, day: date) -> float:
        """Return the depth on a day, no earlier than the last one asked for."""
        while self.coming and self.coming[-1].day <= day:
            dose = self.coming.pop()
            lies = self._left(id(dose.material), dose.day) + dose.depth(self.site, dose.day)
            self.layers[id(dose.material)] = dose.day, lies
        return sum((self._left(stuff, day) for stuff in self.layers), 0.0)

    def _left(self, stuff: int, day: date) -> float:
        since, depth = self.layers.get(stuff, (day, 0.0))
        return depth * float(decay.depth_left(self.half[stuff], years_between(since, day)))


class SeasonNitrogen:
    """Nitrogen [kg] plants can use in a season from everything put on by its end."""

    def __init__(self, site: Site, applications: Sequence[Application]) -> None:
        self.start = site.start
        self.dry: dict[tuple[int, bool, int], float] = defaultdict(float)
        self.materials = {id(dose.material): dose.material for dose in applications}
        self.known: dict[int, float] = {}
        for dose in applications:
            if not dose.material.lacks("nitrogen"):
                key = id(dose.material), dose.dug, season_index(site.start, dose.day)
                self.dry[key] += dose.material.dry_mass(dose.loose)

    def on(self, day: date) -> float:
        """Return what there is in the season of a day."""
        number = season_index(self.start, day)
        if number not in self.known:
            gives = (
                dry * season(self.materials[stuff], dug, number - put_on + 1).per_dry
                for (stuff, dug, put_on), dry in self.dry.items()
                if put_on <= number
            )
            self.known[number] = sum(gives, 0.0)
        return self.known[number]
