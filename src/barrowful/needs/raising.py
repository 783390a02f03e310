"""Raising soil organic matter: the least doses that reach a share by a day, or why none do."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta
from functools import lru_cache
from math import inf
from typing import Any

from barrowful.catalogue.judgements import judged_time, judgement
from barrowful.catalogue.materials import Material
from barrowful.catalogue.rates import later, rate
from barrowful.ground.amount import volume
from barrowful.measures.dates import year_after
from barrowful.measures.draws import AtLeast, met_by, resized
from barrowful.needs.anew import Anew, Sized
from barrowful.needs.carrying import gone, since_start
from barrowful.needs.ceilings import NO_CEILING
from barrowful.needs.decision import CannotServe, Decision, Gain, Judged, Serving, of_servings
from barrowful.needs.doses import doses_for, most_at_once
from barrowful.needs.harvests import wait_of
from barrowful.needs.kind import NeedKind
from barrowful.needs.raise_holding import judged, too_late
from barrowful.needs.raise_later import GivenUp
from barrowful.needs.raise_rows import raise_manners
from barrowful.needs.raise_search import looks
from barrowful.needs.raise_task import dug_in, earlier, in_time, task_of
from barrowful.needs.raise_there import there_already
from barrowful.needs.raise_waits import once_a_year, once_open, opening
from barrowful.needs.raise_work import Raised, source_of
from barrowful.needs.rows import Asked, Manner
from barrowful.needs.settled import IfLate, Settled
from barrowful.needs.turns import served_in_turn
from barrowful.site.carried import AS_IT_IS, Carried
from barrowful.site.needs import Raise
from barrowful.site.records import Place, Site
from barrowful.soil.application import Application
from barrowful.soil.history import base, still_counted
from barrowful.supplies.joint import Source
from barrowful.supplies.lot import YEAR, Lot
from barrowful.supplies.stock import MOST_KEPT, Lots, Opens, Stock
from barrowful.supplies.supply import Supply

NOTHING_DUG = "nothing is dug in that could be followed"


class Raising(NeedKind[Raise]):
    """Soil organic matter to a share in a depth of soil by a day."""

    kind = "raise"
    goes_on_once = True
    part_comes_last = True
    figures = ("density", "moisture", "carbon", "decay", "humus")

    def check(self, material: Material) -> None:
        """Refuse a material that lacks a figure the need takes, or holds no carbon."""
        super().check(material)
        if material["carbon"] <= 0:
            raise CannotServe(f"{material.name} holds no carbon")

    def bare_loose(self, site: Site, place: Place, material: Material) -> float:
        raise CannotServe("what a raise takes depends on when it comes")

    def size(self, site: Site, place: Place, supply: Supply[Any]) -> float:
        return volume(place.total_area, sum(depth for _, depth in self._wanted(site, place, supply).doses))

    def sizing(self, site: Site, place: Place, supply: Supply[Any]) -> list[Application]:
        return self._doses(place, self._wanted(site, place, supply), supply)

    def _wanted(self, site: Site, place: Place, supply: Supply[Any]) -> Raised:
        """Return how the raise of a place comes out of a supply without end; refuse where it never does."""
        self.fit(place, supply.material)
        raised = self._raised(site, place, supply, _without_end(supply), place.total_area, GivenUp())
        if raised.day is None:
            raise CannotServe(raised.why_not())
        return raised

    def decide(
        self, site: Site, places: Sequence[Place], source: Source, settled: Settled | None = None
    ) -> Decision:
        """Return the doses that raise every place by its day, each drawing on the supply in its turn."""
        [supply] = source.parts
        share_out = self._share_out if supply.limited else super().decide
        decision = share_out(site, places, supply, settled)
        if decision.ready_on is None or decision.feasible:
            return decision
        late = too_late(self.of(decision.short_of[0].place).by)
        return replace(decision, late=late, why_not=f"{late}: {decision.why_not}, ready {decision.ready_on}")

    def _share_out(
        self, site: Site, places: Sequence[Place], supply: Supply[Any], settled: Settled | None
    ) -> Decision:
        """Return what each place gets of what has an end, and what its share of it tends to."""
        beside = settled.branch() if settled else Settled(site)
        whole, given_up = sum(place.total_area for place in places), GivenUp()

        def serve(place: Place) -> Serving:
            without = self.without_doses(site, place, supply)
            if without is not None:
                return without
            raised = self._raised(site, place, supply, beside, whole, given_up)
            return self._serving(site, place, supply, raised)

        by_place = served_in_turn(places, supply, beside, serve)
        return of_servings([by_place[place.name] for place in places], site.start, parted=True)

    def serve(self, site: Site, place: Place, supply: Supply[Any], beside: Settled) -> Serving:
        """Return the doses that raise a place by its day."""
        raised = self._raised(site, place, supply, beside, place.total_area, GivenUp())
        return self._serving(site, place, supply, raised)

    def anew(self, ask: Anew) -> Sized:
        """Return the doses that hold the target while the likely ones do; where they never do, the most."""
        site, place, days = ask.site, ask.place, [dose.number for dose in ask.doses]
        seen = [*still_counted(site, place, ask.past), *dug_in(ask.beside)]
        past = tuple(earlier(site, dose) for dose in seen)
        need = in_time(site, self.of(place))
        task = replace(task_of(site, place, need, ask.material, NO_CEILING), past=past)
        lots = Lots((Lot(dose.day, dose.loose) for dose in ask.doses), True, days[-1])
        each, loose = 1 / place.total_area, [dose.loose for dose in ask.doses]
        if ask.ready_on is None:
            return Sized(_most(ask), 0.0)
        due = max(task.by or year_after(days[0]), ask.ready_on.toordinal())
        rows = [
            AtLeast([task.made([(on, each)], day) for on in days], task.missing(day))
            for day in looks(task, due, lots)
        ]
        amounts = resized(loose, rows, ask.limits)
        return Sized(amounts, met_by(amounts, rows))

    def judge(self, site: Site, place: Place, doses: Sequence[Application]) -> Judged:
        """Return how far doses raise a place by its day, and hold it: all that is dug in counts.

        Without a date it is a year after its own first dose; after the first of all where it has none.
        """
        need, dug = self.of(place), dug_in(doses)
        if not dug and (past := still_counted(site, place)):
            task = task_of(site, place, need, past[0].material, NO_CEILING)
            return judged(task, task, need.by or site.start)
        if not dug:
            there = there_already(site, place, need)
            return Judged(1.0, ready_on=site.start) if there else Judged(0.0, NOTHING_DUG)
        before = task_of(site, place, need, dug[0].material, NO_CEILING)
        after = replace(before, past=(*before.past, *(earlier(site, dose) for dose in dug)))
        begun = [dose for dose in dug if dose.kind == self.kind] or dug
        return judged(before, after, need.by or YEAR.after(min(dose.day for dose in begun)))

    def manners(self, asked: Asked) -> list[Manner]:
        """Return the manners of raising a place: by its date, or a year after each day it may begin on."""
        return raise_manners(asked, self.of(asked.place))

    def carried_on(self, old: Site, new: Site, place: Place) -> Carried:
        """Return a raise with the day it is due; one that was held to its end goes."""
        need, start = self.of(place), new.start
        dug = [dose for dose in since_start(old, place) if dose.dug]
        if need.by is None and not dug:
            return AS_IT_IS
        due = need.by or YEAR.after(min(dose.day for dose in dug))
        last = need.hold.after(due)
        if start < due:
            return AS_IT_IS if need.by else Carried(keys={"by": due.isoformat()})
        tomorrow = start + timedelta(days=1)
        gained = self._gained(new, place, min(tomorrow, last))
        if start < last and max(gained, self._gained(new, place, due)) >= 1:
            kept = gained >= 1 and self._gained(new, place, last) >= 1
            comes = min(last, start + judged_time("job_waits"))  # what is wanted has to come
            by = tomorrow if kept else comes
            keys = {"by": by.isoformat(), "hold": f"{(last - by).days} days"}
            told = f"the raise is reached; to be held to {last} it says by: {by}, hold: {keys['hold']}"
            return Carried(keys=keys, told=f"{place.name}: {told}")
        if gained >= judgement("as_good_as_done") and start >= last:
            return gone(gained, f"{place.name}: {gained:.0%} of the raise is there")
        told = f"{place.name}: {gained:.0%} of the raise is there, due on {due}"
        return Carried(keys={"by": None}, told=f"{told}; give it a new day, or leave it out")

    def _gained(self, site: Site, place: Place, day: date) -> float:
        """Return the share of a raise, from the last soil test to its target, that was there on a day."""
        need, dug = self.of(place), still_counted(site, place)
        if not dug:
            there, told = base(site, place, site.start).matter or 0.0, place.soil.organic_matter or 0.0
            rise = need.organic_matter - told
            return (
                1.0 if there >= need.organic_matter else max(0.0, (there - told) / rise) if rise > 0 else 0.0
            )
        task = task_of(site, place, need, dug[0].material, NO_CEILING)
        there = task.matter([], day.toordinal())
        return 1.0 if task.holds([], day.toordinal()) else (there - task.start) / (task.target - task.start)

    def at_once(self, place: Place) -> float:
        need = self.of(place)
        return most_at_once(place, need, need.depth * rate("most_of_depth"))

    def begins_on(self, serving: Serving) -> date:
        return min(dose.day for dose in serving.doses)

    def _raised(
        self,
        site: Site,
        place: Place,
        supply: Supply[Any],
        beside: Settled,
        whole: float,
        given_up: GivenUp,
    ) -> Raised:
        """Return how the raise of a place comes out beside what is settled; a supply is for a whole [m2]."""
        need = in_time(site, self.of(place))
        if not need.dug:
            raise CannotServe("what is left on top raises nothing in the soil below: dig it in")
        stock = beside.stock(supply)
        begins = beside.begins(place, self.kind, supply.material)
        wait = wait_of(site, place, self.kind, need.dug, supply.material)
        waits = begins > site.start or wait is not None or beside.day is not None
        task = task_of(site, place, need, supply.material, beside.room(place, need, supply.material))
        if dug := dug_in(beside.on(place)):
            task = replace(task, past=(*task.past, *(earlier(site, dose) for dose in dug)))

        def of_stock(kept: Stock, tried: GivenUp, if_late: IfLate = beside.if_late) -> Raised:
            """Return how it comes out of a stock, which is one place's own where it waits."""
            source = source_of(supply, kept, apart=kept is not stock)
            return source.raised(task, place.total_area, whole, tried, if_late)

        def on_days(more: Stock) -> Raised:
            return of_stock(more.waiting(opens), GivenUp())

        def yearly_on(days: Opens) -> Raised:
            return of_stock(stock.waiting(days), GivenUp(), "nothing")

        before, opens = stock.state, opening(wait, begins)
        raised = on_days(stock) if waits else of_stock(stock, given_up)
        if beside.day is None and (sooner := once_open(raised, stock, before, on_days)):
            raised, waits = sooner, True
        if yearly := once_a_year(raised, stock, before, opens, yearly_on):
            raised, waits = yearly, True
        for day, loose in raised.doses if waits and supply.limited else ():
            stock.take(day, volume(place.total_area, loose))
        return raised

    def _serving(self, site: Site, place: Place, supply: Supply[Any], raised: Raised) -> Serving:
        """Return what a place gets, as its raise comes out."""
        ready = raised.ready
        stopped = raised.most if raised.stopped else None
        doses, reached = self._doses(place, raised, supply), raised.reached
        return Serving(
            place=place,
            doses=tuple(dose for dose in doses if dose.number <= reached),
            later=tuple(dose for dose in doses if dose.number > reached),
            why_not=raised.why_not(),
            share=raised.met_share,
            ceiling=raised.stopped,
            possible=None if stopped is None else volume(place.total_area, sum(of for _, of in stopped)),
            ready_on=None if ready is None else max(site.start, date.fromordinal(ready)),
            gain=later(_gain, raised),
            times_needed=raised.times_needed,
        )

    def _doses(self, place: Place, raised: Raised, supply: Supply[Any]) -> list[Application]:
        area = place.total_area
        parts = [(date.fromordinal(day), volume(area, depth)) for day, depth in sorted(raised.doses)]
        wanted = sum(loose for _, loose in parts)
        at_once = min(wanted, volume(area, raised.task.cap))
        return doses_for(place, self.of(place), supply, parts, wanted, at_once)


def _gain(raised: Raised) -> Gain:
    return Gain(raised.levels_off, raised.matter, raised.holds_with, raised.not_humus)


def _most(ask: Anew) -> list[Any]:
    """Return the most that doses may be, the first first; as much as is likely where there is no end."""
    amounts: list[Any] = []
    for dose in ask.doses:
        left = ask.left(amounts)
        amounts.append(dose.loose if left is inf else left)
    return amounts


@lru_cache(maxsize=MOST_KEPT)
def _without_end(supply: Supply[Any]) -> Settled:
    """Return what is settled where it is asked how much of a supply is wanted: nothing."""
    return Settled(supply.site, without_end=True)
