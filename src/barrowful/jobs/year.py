"""The year of a site: its frosts and rains, and which days are open to a job."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from datetime import date, timedelta
from functools import cached_property, lru_cache
from typing import Any, NamedTuple

from barrowful.catalogue.judgements import judgement, usual_frosts
from barrowful.catalogue.materials import Material
from barrowful.catalogue.windows import Edge, Span, Window, windows_of
from barrowful.jobs.tender import is_tender
from barrowful.measures.dates import FEBRUARY, SHORTEST_MONTH, Step
from barrowful.needs.harvests import NEVER, Wait, waited
from barrowful.site.records import Place, Site
from barrowful.soil.nitrogen import Lying, first_season
from barrowful.supplies.supply import Supply

#: Days in which an open day for a job is looked for.
LOOKED_AHEAD = 3 * 366
HALF_YEAR = 6
ONE_DAY = timedelta(days=1)


#: The words of jobs that are done together.
Words = tuple[str, ...]


class Scene(NamedTuple):
    """What a job handles and where: the conditions of windows are asked of it."""

    site: Site
    supply: Supply[Any]
    material: Material
    place: Place | None = None
    wait: Wait | None = None  #: for a harvest

    @property
    def sort(self) -> tuple[object, ...]:
        """Return all of the place that bears on when a job is done."""
        place = self.place
        if place is None:
            return ()
        return place.soil.clay, place.limits.farm, self.wait, is_tender(self.site, place)


class Opening(NamedTuple):
    """The window of a job: its days, and what is to be said of it."""

    first: date
    last: date
    told: tuple[str, ...] = ()
    barred: tuple[str, ...] = ()  #: what barred the days before


class Year:
    """The turns of the year on a site."""

    def __init__(self, site: Site) -> None:
        self.site, self.climate = site, site.climate

    @cached_property
    def frosts(self) -> tuple[tuple[int, int], tuple[int, int]] | None:
        """Return last and first frost as (month, day), or the usual ones; None where it does not freeze."""
        climate = self.climate
        if climate.last_frost is not None and climate.first_frost is not None:
            return climate.last_frost, climate.first_frost
        warmest = judgement("no_frost" if self._by_month else "no_frost_annual")
        return None if min(climate.temperatures) >= warmest else usual_frosts(self.site.hemisphere)

    @property
    def _by_month(self) -> bool:
        """Say whether the mean of each month is known, and not one for all."""
        return len(set(self.climate.temperatures)) > 1

    def _mean(self, month: int) -> float:
        return self.climate.temperatures[month - 1]

    @cached_property
    def cold_months(self) -> frozenset[int]:
        """Return the months in which rain stands: those that are cool, or lie between the frosts."""
        if self._by_month:
            return frozenset(month for month in range(1, 13) if self._mean(month) < judgement("cold_rain"))
        if self.frosts is None:
            return frozenset()
        (last, _), (first, _) = self.frosts
        return frozenset((first - 1 + later) % 12 + 1 for later in range((last - first) % 12 + 1))

    @cached_property
    def frozen_months(self) -> frozenset[int]:
        """Return the months with frozen ground, where the mean of each month is known."""
        cold = judgement("frozen_ground")
        return frozenset(month for month in range(1, 13) if self._by_month and self._mean(month) < cold)

    @cached_property
    def _rains(self) -> dict[str, list[tuple[int, int]]]:
        """Return (month, 1) of each begin of the rains, and of the month after each end."""
        rains = self.climate.rain_months
        begins = [month for month in sorted(rains) if (month - 2) % 12 + 1 not in rains]
        after = [month for month in range(1, 13) if month not in rains and (month - 2) % 12 + 1 in rains]
        return {"rains begin": [(month, 1) for month in begins], "rains end": [(month, 1) for month in after]}

    def intervals(self, span: Span, year: int) -> Iterator[tuple[date, date]]:
        """Yield the first and the last day of a span that begins in a year."""
        for first in self._days(span.first, year):
            following = (*self._days(span.last, year), *self._days(span.last, year + 1))
            yield first, min(last for last in following if last >= first)

    def _days(self, edge: Edge, year: int) -> tuple[date, ...]:
        """Return the days of an end of a span in a year."""
        if edge.day is not None:
            day = date(year, *edge.day)
            return (day if self.site.hemisphere == "north" else Step(months=HALF_YEAR).after(day),)
        if edge.turn in self._rains:
            turns = self._rains[edge.turn]
        elif self.frosts is None:
            turns = []
        else:
            turns = [self.frosts[0 if edge.turn == "last frost" else 1]]
        return tuple(_in_year(turn, year) + timedelta(weeks=edge.weeks) for turn in turns)


def _barred_told(why: Sequence[str], first: date | None) -> str:
    """Return what barred some days, and the first open one; None where no day is."""
    reasons = ", then ".join(why)
    return f"{reasons[0].upper()}{reasons[1:]}: {f'not before {first}' if first else 'no day is open'}."


def _in_year(day: tuple[int, int], year: int) -> date:
    """Return a day of the year, by month and number, in a year; 29 February as 28 where there is none."""
    month, number = day
    return date(year, month, min(number, SHORTEST_MONTH) if month == FEBRUARY else number)


def _ready_nitrogen(scene: Scene) -> bool:
    """Say whether stuff is manure of which so much nitrogen is ready that closed periods hold."""
    available = scene.material.get("available_nitrogen") or 0.0
    return scene.material.is_fresh_manure and available > judgement("ready_nitrogen")


def _is_quick(stuff: Material) -> bool:
    """Say whether much of a stuff is nitrogen that a season's plants can use."""
    return first_season(stuff, Lying(dug=True)).per_dry >= judgement("rich_in_nitrogen")


def rich_in_nitrogen(stuff: Material) -> bool:
    """Say whether a winter would wash much nitrogen out of stuff: of manure it always would."""
    return stuff.is_fresh_manure or _is_quick(stuff)


def _quick_for_tender(year: Year, scene: Scene) -> bool:
    """Say whether quick nitrogen that keeps, and need not go on early as manure, is for a tender crop."""
    quick = _is_quick(scene.material) and scene.supply.keeps and not scene.material.is_fresh_manure
    return quick and scene.place is not None and is_tender(scene.site, scene.place)


def _on_farm(scene: Scene) -> bool:
    return scene.place is not None and scene.place.limits.farm and _ready_nitrogen(scene)


def _sandy(scene: Scene) -> bool:
    clay = scene.place.soil.clay if scene.place is not None else None
    return clay is not None and clay < judgement("sandy")


def _holds_water(scene: Scene) -> bool:
    clay = scene.place.soil.clay if scene.place is not None else scene.site.soil.clay
    return clay is None or clay >= judgement("holds_water")


def _is_heavy(scene: Scene) -> bool:
    clay = scene.place.soil.clay if scene.place is not None else scene.site.soil.clay
    return clay is not None and clay >= judgement("heavy_in_rains")


#: Conditions of windows, and whether they hold at a scene.
CONDITIONS: dict[str, Callable[[Year, Scene], bool]] = {
    "frosts": lambda year, scene: year.frosts is not None,
    "rains": lambda year, scene: year.frosts is None and bool(scene.site.climate.rain_months),
    "quick nitrogen for a tender crop": _quick_for_tender,
    "rich in nitrogen": lambda year, scene: year.frosts is not None and rich_in_nitrogen(scene.material),
    "manure on a farm": lambda year, scene: _on_farm(scene),
    "manure on a sandy farm": lambda year, scene: _on_farm(scene) and _sandy(scene),
    "hedge": lambda year, scene: year.frosts is not None and scene.supply.habit == "hedge",
    "hedge of a farm": lambda year, scene: (
        year.frosts is not None and scene.site.limits.farm and scene.supply.habit == "hedge"
    ),
    "hardwood cuttings": lambda year, scene: year.frosts is not None and scene.supply.hardwood,
    "frozen ground": lambda year, scene: bool(year.frozen_months),
    "wet ground": lambda year, scene: _holds_water(scene),
    "heavy clay in rains": lambda year, scene: (
        year.frosts is None and bool(scene.site.climate.rain_months) and _is_heavy(scene)
    ),
}


class Days:
    """The days that are open to the jobs of a site, each way of asking looked up once."""

    def __init__(self, site: Site) -> None:
        self.year = Year(site)
        self.barred = lru_cache(maxsize=4096)(self._barred)
        self._known: dict[tuple[object, ...], Opening] = {}

    def opening(
        self,
        jobs: Words,
        scene: Scene,
        day: date,
        waits: timedelta,
        latest: date,
        for_best: bool = False,
    ) -> Opening:
        """Return the window of a job, or of jobs done together; worked out once for those that are alike.

        It waits longer ``for_best``: up to its latest day for the best time of the year.
        """
        key = (jobs, day, waits, latest, for_best, scene.supply.name, *scene.sort)
        if key not in self._known:
            self._known[key] = self._opening(jobs, scene, day, waits, latest, for_best)
        return self._known[key]

    def _opening(
        self, jobs: Words, scene: Scene, day: date, waits: timedelta, latest: date, for_best: bool
    ) -> Opening:
        """Return the window of a job: open days from a day on, as long as it may wait and to the latest.

        Where no day up to the latest is open, it is the first that is. It may wait as long from what is best.
        """
        first, why = self._first(jobs, scene, day)
        last = self._last_open(jobs, scene, first, min(first + waits, latest))
        told = [_barred_told(why, first if first > day else None)] if why else []
        for window in windows_of(jobs):
            if not window.bars and CONDITIONS[window.condition](self.year, scene):
                best = self._best(window, first, last)
                if for_best and not best and (later := self._best(window, first, latest)):
                    best = later if self._open(jobs, scene, later[0]) else None
                if best:
                    first, latest = best[0], min(best[1], latest)
                    last = self._last_open(jobs, scene, first, min(first + waits, latest))
                else:
                    told.append(f"{window.text[0].upper()}{window.text[1:]}.")
        return Opening(first, last, tuple(told), why)

    def _last_open(self, jobs: Words, scene: Scene, first: date, end: date) -> date:
        """Return the last of the open days from a first one on, up to an end."""
        last = first
        while last < end and self._open(jobs, scene, last + ONE_DAY):
            last += ONE_DAY
        return last

    def _best(self, window: Window, first: date, last: date) -> tuple[date, date] | None:
        """Return the best time of the year that a window meets first, from the day on that it does."""
        spans = sorted(
            interval
            for year in range(first.year - 1, last.year + 1)
            for span in window.spans
            for interval in self.year.intervals(span, year)
        )
        parts = ((max(first, start), end) for start, end in spans)
        return next((part for part in parts if part[0] <= min(part[1], last)), None)

    def _first(self, jobs: Words, scene: Scene, day: date) -> tuple[date, tuple[str, ...]]:
        """Return the first open day from a day on, else the day itself, and what barred the days before."""
        wanted, reasons = day, dict[str, None]()
        for _ in range(LOOKED_AHEAD):
            barred = self._why_barred(jobs, scene, wanted)
            if not barred:
                break
            reasons[barred], wanted = None, wanted + ONE_DAY
        else:
            wanted = day
        return wanted, tuple(reasons)

    def _open(self, jobs: Words, scene: Scene, day: date) -> bool:
        return not self._why_barred(jobs, scene, day)

    def _why_barred(self, jobs: Words, scene: Scene, day: date) -> str:
        """Return what bars a job on a day, or nothing."""
        wait = scene.wait
        if wait is not None and waited(wait, day) not in {day, NEVER}:
            return wait.told
        for window in windows_of(jobs):
            if window.bars and CONDITIONS[window.condition](self.year, scene) and self.barred(window, day):
                return window.text
        return ""

    def _barred(self, window: Window, day: date) -> bool:
        """Say whether a day lies in the time that a window bars where its condition holds."""
        if window.condition == "frozen ground":
            return day.month in self.year.frozen_months
        if window.condition == "wet ground":
            return day.month in self.year.cold_months & self.year.climate.rain_months
        return any(
            first <= day <= last
            for span in window.spans
            for year in (day.year - 1, day.year)
            for first, last in self.year.intervals(span, year)
        )
