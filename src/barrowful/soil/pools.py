"""Carbon, mulch and nitrogen of many applications, carried from day to day instead of added up anew.

Days are day numbers here.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from functools import lru_cache
from itertools import accumulate, chain, pairwise
from operator import add, mul

from barrowful.measures.dates import DAYS_PER_YEAR
from barrowful.site.records import Site
from barrowful.soil.application import Application
from barrowful.soil.fading import Fading
from barrowful.soil.history import net_nitrogen
from barrowful.soil.seasons import season_of
from barrowful.soil.turnover import Range

#: Low, likely and high.
Triple = tuple[float, float, float]


class _Parts:
    """The parts of fresh carbon and of humus at each end of a range, side by side in one list."""

    def __init__(self, turnovers: Range) -> None:
        fadings = [
            *(turnover.staying for turnover in turnovers),
            *(turnover.forming for turnover in turnovers),
        ]
        self.amounts = tuple(chain.from_iterable(fading.amounts for fading in fadings))
        self.rates = tuple(chain.from_iterable(fading.rates for fading in fadings))
        ends = list(accumulate((len(fading.amounts) for fading in fadings), initial=0))
        places = [slice(start, end) for start, end in pairwise(ends)]
        self.fresh, self.humus = places[: len(turnovers)], places[len(turnovers) :]
        self._passed: dict[int, tuple[float, ...]] = {}

    def passed(self, days: int) -> tuple[float, ...]:
        """Return what some days leave of each part."""
        if days not in self._passed:
            self._passed[days] = Fading(self.amounts, self.rates).passed(days / DAYS_PER_YEAR)
        return self._passed[days]


_parts = lru_cache(maxsize=4096)(_Parts)


class CarbonPool:
    """Carbon [kg/m2] of applications that go alike: fresh and humus at each end of the range."""

    def __init__(self, turnovers: Range, dug: bool, day: int) -> None:
        self.turnovers, self.dug, self.day = turnovers, dug, day
        self._of = _parts(turnovers)
        self._carbon = [0.0] * len(self._of.amounts)

    def add(self, carbon: float) -> None:
        """Put fresh carbon [kg/m2] on, on the day it is carried to."""
        parts = zip(self._carbon, self._of.amounts, strict=True)
        self._carbon = [there + carbon * amount for there, amount in parts]

    def carry(self, day: int) -> None:
        """Let it go on to a day, no earlier than the last."""
        if day != self.day:
            self._carbon = list(map(mul, self._carbon, self._of.passed(day - self.day)))
            self.day = day

    def _sums(self, places: Sequence[slice]) -> Triple:
        low, likely, high = (max(0.0, sum(self._carbon[place])) for place in places)
        return low, likely, high

    @property
    def fresh(self) -> float:
        """Return the fresh carbon that is likely left [kg/m2]."""
        return max(0.0, sum(self._carbon[self._of.fresh[1]]))

    @property
    def humus(self) -> Triple:
        """Return the humus carbon [kg/m2]: low, likely, high.

        Where fresh carbon goes fastest in the low course, that one has most humus at first.
        """
        low, likely, high = self._sums(self._of.humus)
        return min(low, likely, high), likely, max(low, likely, high)

    @property
    def whole(self) -> Triple:
        """Return all carbon there is [kg/m2], fresh and humus: low, likely, high."""
        low, likely, high = map(add, self._sums(self._of.fresh), self._sums(self._of.humus))
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
        self.coming = sorted(applications, key=lambda dose: dose.number, reverse=True)
        self.pools: dict[tuple[int, bool], CarbonPool] = {}

    def on(self, day: int) -> list[CarbonPool]:
        """Return the pools on a day, no earlier than the last one asked for."""
        while self.coming and self.coming[-1].number <= day:
            dose = self.coming.pop()
            pool = self._pool(dose)
            pool.carry(dose.number)
            pool.add(dose.carbon)
        for pool in self.pools.values():
            pool.carry(day)
        return list(self.pools.values())

    def _pool(self, dose: Application) -> CarbonPool:
        key = (id(dose.material), dose.dug)
        if key not in self.pools:
            self.pools[key] = CarbonPool(dose.response(self.site).turnovers, dose.dug, dose.number)
        return self.pools[key]


class Mulch:
    """Settled depth [m] of what lies on top, asked for on one day after another."""

    def __init__(self, site: Site, applications: Sequence[Application]) -> None:
        self.site = site
        on_top = (dose for dose in applications if not dose.dug and not dose.material.lacks("lasts"))
        self.coming = sorted(on_top, key=lambda dose: dose.number, reverse=True)
        self.responses = {id(dose.material): dose.response(site) for dose in self.coming}
        self.layers: dict[int, tuple[int, float]] = {}

    def on(self, day: int) -> float:
        """Return the depth on a day, no earlier than the last one asked for."""
        while self.coming and self.coming[-1].number <= day:
            dose = self.coming.pop()
            lies = self._left(id(dose.material), dose.number) + dose.depth(self.site, dose.day)
            self.layers[id(dose.material)] = dose.number, lies
        return sum((self._left(stuff, day) for stuff in self.layers), 0.0)

    def _left(self, stuff: int, day: int) -> float:
        since, depth = self.layers.get(stuff, (day, 0.0))
        return depth * self.responses[stuff].depth[day - since]


class SeasonNitrogen:
    """Net nitrogen [kg] plants can use in a season from everything put on by its end."""

    def __init__(self, site: Site, applications: Sequence[Application]) -> None:
        self.site, self.applications = site, _put_together(site, applications)
        self.known: dict[int, float] = {}

    def on(self, day: date) -> float:
        """Return what there is in the season of a day of the calendar."""
        number = season_of(self.site, day)
        if number not in self.known:
            self.known[number] = net_nitrogen(self.site, self.applications, number)
        return self.known[number]


def _put_together(site: Site, applications: Sequence[Application]) -> list[Application]:
    """Return applications of which those that give nitrogen alike, season by season, are one."""
    alike: dict[tuple[object, ...], list[Application]] = {}
    for dose in applications:
        key = season_of(site, dose.day), dose.time_of_year(site), id(dose.material), dose.dug
        alike.setdefault(key, []).append(dose)
    return [
        doses[0] if len(doses) == 1 else replace(doses[0], loose=sum(dose.loose for dose in doses))
        for doses in alike.values()
    ]
