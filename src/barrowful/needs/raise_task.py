"""A raise need for each square metre, in the model's terms: what is missing, and what doses make of it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import date
from functools import cached_property, lru_cache
from typing import NamedTuple

from barrowful.catalogue.materials import Material
from barrowful.catalogue.rates import rate
from barrowful.ground.amount import depth, without_allowance
from barrowful.ground.soil import carbon_for, organic_matter
from barrowful.measures.dates import DAYS_PER_YEAR, Step
from barrowful.measures.elementwise import at_least
from barrowful.measures.fixed import fixed
from barrowful.needs.ceilings import Room
from barrowful.needs.doses import most_at_once
from barrowful.site.needs import Raise
from barrowful.site.records import Climate, Place, Site, Soil
from barrowful.soil.application import Application
from barrowful.soil.history import base, followed, still_counted
from barrowful.soil.present import FALLS, present_kept
from barrowful.soil.response import response_of
from barrowful.soil.turnover import Turnover, carbon_in, soil_mass
from barrowful.supplies.stock import Stock

#: Loose depths [m] by day number.
Pulses = list[tuple[int, float]]


class Earlier(NamedTuple):
    """What was dug in before: its day number, its carbon [kg/m2], and how it goes."""

    day: int
    carbon: float
    turnover: Turnover


class Falling(NamedTuple):
    """Ground on which the humus there was at the last soil test falls, and the day number of that test."""

    climate: Climate
    soil: Soil
    since: int


@fixed(eq=True)
class RaiseTask:
    """A raise need of each square metre: equal ground with equal needs makes equal tasks.

    Carbon is in kg/m2, doses are loose depths in m, days are day numbers.
    """

    begin: int  #: the start of the site
    by: int | None  #: as written
    target: float  #: share
    start: float  #: share, at the last soil test
    soil: float  #: kg/m2 of fine dry soil
    turnover: Turnover
    per_loose: float  #: kg of carbon that count for each m3 brought
    most: float  #: m, at one time
    hold: Step  #: how long it is held from the day it is due
    room: Room  #: what the ceilings leave
    past: tuple[Earlier, ...]  #: dug in since the soil test
    falling: Falling | None = None  #: None where the humus there was is held

    @cached_property
    def cap(self) -> float:
        """Return the deepest [m] that any one dose may ever be, by what goes on at once and by ceilings."""
        return min(self.most, self.room.most)

    def alone(self, stock: Stock) -> bool:
        """Say whether each dose keeps to the ceilings by itself, whatever the others are."""
        return not self.room.bounds or (self.room.alike and stock.lots.yearly)

    def held_to(self, by: int) -> int:
        """Return the last day it is held, from the day it is due."""
        return _held_to(by, self.hold)

    @cached_property
    def gap(self) -> float:
        """Return the carbon [kg/m2] from the last soil test to the target, below nothing above it."""
        return self._carbon_of(self.target - self.start)

    @cached_property
    def wanted(self) -> float:
        """Return the carbon [kg/m2] wanted above the last soil test."""
        return at_least(self.gap, 0.0)

    @cached_property
    def plain(self) -> bool:
        """Say whether the same is missing on every day: nothing was dug in, and the humus there is held."""
        return not self.past and self.falling is None

    @cached_property
    def utmost(self) -> float:
        """Return the most carbon [kg/m2] that can ever be missing: when all has fallen that falls."""
        return max(0.0, self.gap + self.all_fallen)

    @cached_property
    def all_fallen(self) -> float:
        """Return what the humus there was at the last soil test loses [kg C/m2] in the end."""
        return self.fallen(date.max.toordinal())

    def fallen(self, day: int) -> float:
        """Return what the humus there was at the last soil test has lost [kg C/m2] by a day."""
        if self.falling is None:
            return 0.0
        climate, soil, since = self.falling
        kept = present_kept(climate, soil, (day - since) / DAYS_PER_YEAR).likely
        return self._carbon_of(self.start * (1 - kept))

    def no_easier(self, other: RaiseTask) -> bool:
        """Say whether all that holds it would hold another task: where that is plain."""
        alike = (
            self.turnover is other.turnover
            and self.per_loose == other.per_loose
            and self.hold == other.hold
            and self.room == other.room
        )
        return alike and self.plain and other.plain and self.wanted >= other.wanted and self.cap <= other.cap

    def _carbon_of(self, matter: float) -> float:
        """Return the carbon [kg/m2] of a share of organic matter."""
        carbon: float = carbon_for(matter, self.soil, rate("matter_per_carbon"))
        return carbon

    def past_on(self, day: int) -> float:
        """Return what counts [kg C/m2] on a day of what was dug in since the soil test."""
        return sum(
            dose.carbon * dose.turnover.counted_by_days[day - dose.day]
            for dose in self.past
            if dose.day <= day
        )

    def missing(self, day: int) -> float:
        """Return what new doses must make up on a day: the whole less what the past still gives."""
        if self.plain:
            return self.wanted
        return at_least(self.gap + self.fallen(day) - self.past_on(day), 0.0)

    def least_missing(self, first: int, last: int) -> float:
        """Return no more than what is missing on any day from a first to a last one: on one day just that."""
        if self.plain:
            return self.wanted
        past = sum(
            dose.carbon * dose.turnover.most_counted(max(0, first - dose.day), last - dose.day)
            for dose in self.past
            if dose.day <= last
        )
        return max(0.0, self.gap + self.fallen(first) - past)

    def made(self, doses: Pulses, day: int) -> float:
        """Return what counts [kg C/m2] on a day from doses."""
        counted = self.turnover.counted_by_days
        return self.per_loose * sum([loose * counted[day - on] for on, loose in doses])

    def holds(self, doses: Pulses, day: int, slack: float = 1e-6) -> bool:
        """Say whether the target holds on a day."""
        return self.made(doses, day) >= self.missing(day) - slack * self.utmost

    def matter(self, doses: Pulses, day: int) -> float:
        """Return soil organic matter [share] on a day."""
        return self.with_carbon(self.past_on(day) + self.made(doses, day) - self.fallen(day))

    def with_carbon(self, carbon: float) -> float:
        """Return soil organic matter [share] with so much carbon [kg/m2] above the last soil test."""
        return float(organic_matter(self.start, carbon, self.soil, rate("matter_per_carbon")))


@lru_cache(maxsize=4096)
def _held_to(by: int, hold: Step) -> int:
    return hold.after(date.fromordinal(by)).toordinal()


def task_of(site: Site, place: Place, need: Raise, material: Material, room: Room) -> RaiseTask:
    """Return the task of raising a place with a material, within the room there is."""
    climate, known = site.climate, base(site, place, site.start)
    assert known.matter is not None, f"{place.name} is not raised from what is not known"
    most = most_at_once(place, need, need.depth * rate("most_of_depth"))
    return RaiseTask(
        begin=site.start.toordinal(),
        by=need.by.toordinal() if need.by else None,
        target=need.organic_matter,
        start=known.matter,
        soil=soil_mass(place, need),
        turnover=response_of(material, climate, place.soil, need.dug).turnovers.likely,
        per_loose=carbon_in(material, without_allowance(1.0, need.allowance)),
        most=depth(most, place.total_area),
        hold=need.hold,
        room=room,
        past=tuple(earlier(site, dose) for dose in still_counted(site, place)),
        falling=_falling(site, place, known.day or site.start),
    )


def in_time(site: Site, need: Raise) -> Raise:
    """Return a raise that is to be met by ``limits.by`` where that is sooner; its last day stays."""
    by, due = site.limits.by, need.by
    if by is None or due is None or by >= due:
        return need
    return replace(need, by=by, hold=Step(days=(need.hold.after(due) - by).days))


def _falling(site: Site, place: Place, since: date) -> Falling | None:
    """Return the ground of a place where its humus falls; of the soil only what that goes by."""
    if place.soil.managed not in FALLS:
        return None
    soil = Soil(clay=place.soil.clay, managed=place.soil.managed)
    return Falling(site.climate, soil, since.toordinal())


def dug_in(doses: Iterable[Application]) -> list[Application]:
    """Return those of some doses that raise a soil: dug in, of stuff that can be followed, and no fill."""
    return followed(dose for dose in doses if dose.dug)


def earlier(site: Site, dose: Application) -> Earlier:
    """Return a dose that is dug in as the model goes on with it."""
    return Earlier(dose.number, dose.carbon, dose.response(site).turnovers.likely)
