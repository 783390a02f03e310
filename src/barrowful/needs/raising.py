"""Raising soil organic matter: the least doses that reach a share by a day, or why none do."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from functools import lru_cache
from typing import Any

from barrowful.catalogue.materials import Material
from barrowful.measures.dates import Step, years_between
from barrowful.needs.decision import CannotServe, Decision
from barrowful.needs.kind import NeedKind, doses_for
from barrowful.needs.raise_search import FAR_YEARS, first_day, least_doses, ready_day
from barrowful.needs.raise_task import Pulses, RaiseTask, task_of
from barrowful.site.records import Place, Raise, Site
from barrowful.soil.application import Application
from barrowful.soil.turnover import Turnover
from barrowful.supplies.supply import YEAR, Stock, Supply


@dataclass(frozen=True, kw_only=True)
class PlaceRaised:
    """How one place's raise comes out; ``day`` is when the doses reach it, None where they never do.

    ``by`` is the day wanted; where no date is written, a year after the first dose there can be.
    """

    task: RaiseTask
    by: date
    day: date | None
    doses: Pulses
    level: float | None  #: share; where the most that comes tends to, when it is never reached
    holds_with: float  #: kg/m2 a year as delivered
    times_needed: float | None

    @property
    def due(self) -> date:
        """Return the day the target is due: as written, or a year after the first dose."""
        if self.task.need.by or not self.doses:
            return self.by
        return max(self.by, YEAR.after(min(day for day, _ in self.doses)))

    @property
    def judged(self) -> date:
        """Return the day it is judged on: when it is reached, but no later than it is due."""
        return self.due if self.day is None else min(self.day, self.due)

    @property
    def in_time(self) -> bool:
        """Say whether the target is reached by the day it is due, that day included."""
        return self.day is not None and self.day <= self.due

    @property
    def matter(self) -> float:
        """Return soil organic matter [share] on the day it is judged on."""
        return self.task.matter(self.doses, self.judged)

    @property
    def why_not(self) -> str:
        """Return why the target is not reached in time, or nothing."""
        where = self.task.place.name
        if self.in_time:
            return ""
        if self.day is not None:
            return f"{where}: {self.matter:.1%} on {self.judged}"
        if self.levels_off is None:
            return f"not within {FAR_YEARS} years in {where}"
        return f"never: levels off at {self.levels_off:.1%} in {where}"

    @property
    def levels_off(self) -> float | None:
        """Return the level that lies below the target for ever, where one does."""
        below = self.level is not None and self.level < self.task.need.organic_matter
        return self.level if below else None


class Raising(NeedKind[Raise]):
    """Soil organic matter to a share in a depth of soil by a day."""

    kind = "raise"
    figures = ("density", "moisture", "carbon", "decay", "humus")

    def check(self, material: Material) -> None:
        """Refuse a material that lacks a figure the need takes, or holds no carbon."""
        super().check(material)
        if material["carbon"] <= 0:
            raise CannotServe(f"{material.name} holds no carbon")

    def bare_loose(self, site: Site, place: Place, material: Material) -> float:
        raise CannotServe("what a raise takes depends on when it comes")

    def size(self, site: Site, place: Place, supply: Supply[Any]) -> float:
        decision = self.decide(site, [place], supply)
        if not decision.doses and not decision.feasible:
            raise CannotServe(decision.why_not)
        return sum(dose.loose for dose in decision.doses)

    def decide(self, site: Site, places: Sequence[Place], supply: Supply[Any]) -> Decision:
        """Return the doses that raise every place by its day, sharing the supply in file order."""
        self.check(supply.material)
        first = next(iter(supply.lots(site.end)), None)
        if first is None:
            return Decision(feasible=False, why_not=supply.note or "brings nothing within the horizon")
        stock = Stock(supply, Step(months=12 * FAR_YEARS).after(site.start))
        area = sum(place.total_area for place in places)
        raised = [
            self._raise(site, place, supply, stock, first.day, place.total_area / area) for place in places
        ]
        held = sum(one.holds_with * one.task.place.total_area / area for one in raised)
        return _together(site, supply, raised, held)

    def _raise(
        self, site: Site, place: Place, supply: Supply[Any], stock: Stock, first: date, part: float
    ) -> PlaceRaised:
        """Return how one place's raise comes out with its part of the supply, which it takes."""
        task = task_of(site, place, self.of(place), supply)
        by = task.need.by or YEAR.after(first)
        times = _times_needed(task, by, supply, part)
        doses = _doses_by(task, by, stock)
        day: date | None = by
        if doses is None:
            day = first_day(task, stock, by)
            doses = (least_doses(task, day, stock) if day else None) or []
        return PlaceRaised(
            task=task,
            by=by,
            day=day,
            doses=doses,
            level=None if day else task.with_carbon(_level(task, supply, part)),
            holds_with=_holding(task, supply, doses, day or by, reached=day is not None),
            times_needed=times,
        )


def _doses_by(task: RaiseTask, by: date, stock: Stock) -> Pulses | None:
    """Return the least doses that reach the task on a day.

    Where no date is written the day is a year after the first dose: one on the day itself, which
    would make itself the first, is a last resort.
    """
    early = None if task.need.by else least_doses(task, by, stock, by - timedelta(days=1))
    return early or least_doses(task, by, stock)


def _together(site: Site, supply: Supply[Any], raised: list[PlaceRaised], held: float) -> Decision:
    """Return the decision that the raises of several places make."""
    levels = [place.levels_off for place in raised if place.levels_off is not None]
    times = [place.times_needed for place in raised if place.times_needed is not None]
    feasible, ready = all(place.in_time for place in raised), _ready(site, raised)
    why_not = _why_not(raised)
    return Decision(
        doses=tuple(_doses(raised, supply)),
        feasible=feasible,
        why_not=why_not if feasible or ready is None else f"too late: {why_not}, ready {ready}",
        ready_on=ready,
        levels_off=min(levels, default=None),
        matter=min((place.matter for place in raised), default=math.inf),
        holds_with=held,
        times_needed=max(times, default=None),
    )


def _doses(raised: list[PlaceRaised], supply: Supply[Any]) -> list[Application]:
    doses = []
    for place in raised:
        parts = sorted(place.doses)
        wanted, task = sum(loose for _, loose in parts), place.task
        doses += doses_for(task.place, task.need, supply, parts, wanted, min(wanted, task.most))
    return doses


def _ready(site: Site, raised: list[PlaceRaised]) -> date | None:
    """Return the day the last place is ready; None when one never is."""
    days = [ready_day(place.task, place.doses, place.day) for place in raised if place.day is not None]
    return max([site.start, *days]) if len(days) == len(raised) else None


def _why_not(raised: list[PlaceRaised]) -> str:
    """Return why the last place that never reaches its target does not, else why the first is late."""
    late = [place for place in raised if not place.in_time]
    never = [place for place in late if place.day is None]
    return never[-1].why_not if never else late[0].why_not if late else ""


def _times_needed(task: RaiseTask, by: date, supply: Supply[Any], part: float) -> float | None:
    """Return how many times the place's part of every lot until a day would reach the task on it."""
    lots = supply.lots(by)
    if not lots or math.isinf(lots[0].loose):
        return None
    made = task.made([(lot.day, lot.loose * part) for lot in lots], by)
    return task.missing(by) / made if made > 0 else None


def _level(task: RaiseTask, supply: Supply[Any], part: float) -> float:
    """Return the carbon [kg/m2] that the most the way brings each year tends to, lowest in the year."""
    end = task.site.end
    before = Step(months=-12).after(end)
    year: dict[date, float] = {}
    for lot in supply.lots(end):
        if lot.day > before:
            year[lot.day] = year.get(lot.day, 0.0) + lot.loose * part
    doses = [
        (years_between(before, day), min(loose, task.most) * task.per_loose) for day, loose in year.items()
    ]
    return min((_steady(task.turnover, doses, phase) for phase, _ in doses), default=0.0)


def _steady(turnover: Turnover, doses: list[tuple[float, float]], phase: float) -> float:
    """Return what counts just before a phase of the year when doses have come every year for ever."""
    return sum(dose * turnover.counted_forever((phase - when) % 1.0 or 1.0) for when, dose in doses)


@lru_cache(maxsize=256)
def years_after(day: date) -> tuple[date, ...]:
    """Return the yearly returns of a day, as far as is looked ahead."""
    return tuple(YEAR.times(year).after(day) for year in range(1, FAR_YEARS + 1))


@lru_cache(maxsize=256)
def _counted_yearly(turnover: Turnover) -> tuple[float, ...]:
    """Return what counts of one carbon after each full year that is looked ahead."""
    return tuple(turnover.counted(float(year)) for year in range(1, FAR_YEARS + 1))


def _holding(task: RaiseTask, supply: Supply[Any], doses: Pulses, by: date, reached: bool) -> float:
    """Return the yearly dose [kg/m2 as delivered], from ``by`` on, that never lets the target drop.

    Each year's end until then asks for (what is missing) / (what so many yearly doses have become).
    Of a target that is not reached it is the dose that levels off there.
    """
    forever = task.turnover.counted_forever(1.0)
    if not reached:
        most = task.wanted / forever if forever > 0 else 0.0
        return most / supply.material.in_each_wet("carbon")
    most, sum_of = 0.0, 0.0
    for counted, day in zip(_counted_yearly(task.turnover), years_after(by), strict=True):
        sum_of += counted
        missing = task.missing(day) - task.made(doses, day)
        if sum_of > 0:
            most = max(most, missing / sum_of)
    return most / supply.material.in_each_wet("carbon")


def larger(site: Site, supply: Supply[Any], groups: list[list[Application]]) -> list[Application]:
    """Return what a place gets of one stuff that several needs want: the larger doses, not the sum.

    Where the larger are another need's, they are dug in if the raise among them is met so; if not, the
    raise keeps its own and what the other need lacks in the first season is added to it.
    """
    raising = next((group for group in groups if group[0].kind == Raising.kind), None)
    largest = max(groups, key=_loose, default=[])
    if raising is None or largest is raising or not largest:
        return largest
    need = raising[0].need
    dug = [replace(dose, need=need, dug=raising[0].dug) for dose in largest]
    if _raises(site, supply, dug, raising):
        return dug
    season = [dose for dose in raising if dose.day < YEAR.after(site.start)]
    lacking = _loose(largest) - _loose(season)
    return [*raising, replace(largest[0], loose=lacking)] if lacking > 0 else raising


def _loose(doses: Sequence[Application]) -> float:
    return sum(dose.loose for dose in doses)


def _raises(site: Site, supply: Supply[Any], dug: list[Application], raising: list[Application]) -> bool:
    """Say whether doses dug in meet a raise on its day: its date, or a year after its first dose."""
    place = raising[0].place
    task = task_of(site, place, Raising().of(place), supply)
    by = task.need.by or YEAR.after(min(dose.day for dose in raising))
    return task.holds([(dose.day, dose.loose) for dose in dug], by)
