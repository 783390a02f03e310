"""Raising soil organic matter: the least doses that reach a share by a day, or why none do."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from typing import Any

from barrowful.catalogue.materials import Material
from barrowful.ground.amount import depth, volume
from barrowful.needs.decision import CannotServe, Decision
from barrowful.needs.kind import NeedKind, doses_for
from barrowful.needs.raise_task import task_of
from barrowful.needs.raise_work import Raised, source_of
from barrowful.site.records import Place, Raise, Site
from barrowful.soil.application import Application
from barrowful.supplies.supply import YEAR, Supply


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
        [raised], area = self._raised(site, [place], supply), place.total_area
        if not raised.doses and not raised.in_time:
            raise CannotServe(raised.why_not(place.name))
        return volume(area, sum(depth for _, depth in raised.doses))

    def decide(self, site: Site, places: Sequence[Place], supply: Supply[Any]) -> Decision:
        """Return the doses that raise every place by its day, sharing the supply in file order."""
        raised = self._raised(site, places, supply)
        return self._together(site, supply, list(zip(places, raised, strict=True)))

    def _raised(self, site: Site, places: Sequence[Place], supply: Supply[Any]) -> list[Raised]:
        """Return how the raise of each of some places comes out, in file order."""
        self.check(supply.material)
        source = source_of(site, supply)
        area = sum(place.total_area for place in places)
        return [
            source.raised(task_of(site, place, self.of(place), supply), place.total_area, area)
            for place in places
        ]

    def _together(self, site: Site, supply: Supply[Any], raised: list[tuple[Place, Raised]]) -> Decision:
        """Return the decision that the raises of several places make."""
        each, area = [of for _, of in raised], sum(place.total_area for place, _ in raised)
        levels = [of.levels_off for of in each if of.levels_off is not None]
        times = [of.times_needed for of in each if of.times_needed is not None]
        holds = [of.holds_with * place.total_area for place, of in raised if of.holds_with is not None]
        feasible, ready, why_not = all(of.in_time for of in each), _ready(each), _why_not(raised)
        return Decision(
            doses=tuple(dose for place, of in raised for dose in self._doses(place, of, supply)),
            feasible=feasible,
            why_not=why_not if feasible or ready is None else f"too late: {why_not}, ready {ready}",
            ready_on=max(site.start, ready) if ready else None,
            levels_off=min(levels, default=None),
            matter=min((of.matter for of in each), default=math.inf),
            holds_with=sum(holds) / area if len(holds) == len(raised) else None,
            times_needed=max(times, default=None),
        )

    def _doses(self, place: Place, raised: Raised, supply: Supply[Any]) -> list[Application]:
        area = place.total_area
        parts = [(date.fromordinal(day), volume(area, depth)) for day, depth in sorted(raised.doses)]
        wanted = sum(loose for _, loose in parts)
        at_once = min(wanted, volume(area, raised.task.most))
        return doses_for(place, self.of(place), supply, parts, wanted, at_once)


def _ready(raised: list[Raised]) -> date | None:
    """Return the day the last place is ready; None when one never is."""
    days = [of.ready for of in raised if of.ready is not None]
    return date.fromordinal(max(days)) if days and len(days) == len(raised) else None


def _why_not(raised: list[tuple[Place, Raised]]) -> str:
    """Return why the last place that never reaches its target does not, else why the first is late."""
    late = [(place, of) for place, of in raised if not of.in_time]
    never = [(place, of) for place, of in late if of.day is None]
    place, of = never[-1] if never else late[0] if late else (None, None)
    return of.why_not(place.name) if place and of else ""


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
    by = task.by or YEAR.after(min(dose.day for dose in raising)).toordinal()
    return task.holds([(dose.number, depth(dose.loose, place.total_area)) for dose in dug], by)
