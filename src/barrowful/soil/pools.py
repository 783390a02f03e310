"""Carbon, mulch and nitrogen of many applications, carried from day to day instead of added up anew."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from functools import lru_cache

from barrowful.catalogue.materials import Material
from barrowful.catalogue.rates import rate, rates
from barrowful.ground import decay
from barrowful.measures.dates import DAYS_PER_YEAR, years_between
from barrowful.site.records import Site
from barrowful.soil.application import Application
from barrowful.soil.history import season_index
from barrowful.soil.nitrogen import season
from barrowful.soil.turnover import Turnover, half_depth_years

ENDS = ("low", "likely", "high")
#: Low, likely and high.
Triple = tuple[float, float, float]


def with_ends(material: Material, end: str) -> tuple[Material, float]:
    """Return a material with humification at an end, and the humus rate of the other end.

    A low course has little humus formed and much lost, a high one the reverse; the fresh rate moves
    only the timing and stays likely.
    """
    share = material.figures["humus"]
    stuff = material.with_figures({"humus": replace(share, likely=getattr(share, end))})
    opposite = {"low": "high", "likely": "likely", "high": "low"}[end]
    return stuff, getattr(rates()["humus_rate"], opposite) / rate("humus_rate")


def turnover_at(dose: Application, site: Site, end: str) -> Turnover:
    """Return how an application goes at an end of the model's range."""
    stuff, faster = with_ends(dose.material, end)
    turnover = replace(dose, material=stuff).turnover(site)
    return replace(turnover, humus=turnover.humus * faster)


@lru_cache(maxsize=4096)
def _passage(turnover: Turnover, days: int) -> tuple[float, float, float]:
    """Return what some days leave of fresh carbon and of humus, and the humus made of each fresh carbon."""
    years = days / DAYS_PER_YEAR
    return turnover.left(years), float(decay.fresh_left(years, turnover.humus)), turnover.formed(years)


@dataclass
class CarbonPool:
    """Carbon [kg/m2] of applications that go alike: fresh, and humus at each end of the range."""

    turnovers: tuple[Turnover, Turnover, Turnover]
    dug: bool
    day: date
    fresh: float = 0.0
    humus: list[float] = field(default_factory=lambda: [0.0, 0.0, 0.0])

    def carry(self, day: date) -> None:
        """Let it go on to a day, no earlier than the last."""
        days = (day - self.day).days
        if not days:
            return
        left = 1.0
        for end, turnover in enumerate(self.turnovers):
            left, kept, formed = _passage(turnover, days)
            self.humus[end] = self.humus[end] * kept + self.fresh * formed
        self.fresh, self.day = self.fresh * left, day

    def counted(self, end: int) -> float:
        """Return what counts as soil organic carbon [kg/m2] at an end; on top nothing does."""
        fresh = self.fresh if self.turnovers[end].counts_fresh else 0.0
        return self.humus[end] + fresh if self.dug else 0.0


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
            pool.fresh += dose.carbon
        for pool in self.pools.values():
            pool.carry(day)
        return list(self.pools.values())

    def _pool(self, dose: Application) -> CarbonPool:
        key = (id(dose.material), dose.dug)
        if key not in self.pools:
            low, likely, high = (turnover_at(dose, self.site, end) for end in ENDS)
            self.pools[key] = CarbonPool((low, likely, high), dose.dug, dose.day)
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
