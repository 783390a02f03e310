"""Kinds of place: equal ground is planned as one, and what may be put on it."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import field, replace
from datetime import date
from functools import cached_property
from itertools import product
from math import inf
from typing import Any

from barrowful.answers.options import Answer
from barrowful.measures.fixed import fixed
from barrowful.needs.ceilings import room, unsuited
from barrowful.needs.decision import CannotServe
from barrowful.needs.harvests import wait_of, waited
from barrowful.needs.registry import NEEDS, decide
from barrowful.needs.rows import Asked, Manner, Portion, Row
from barrowful.needs.settled import Settled
from barrowful.planning.calendar import Calendar
from barrowful.planning.lime_apart import Apart, Offer
from barrowful.planning.row_days import RowDays
from barrowful.site.needs import Need
from barrowful.site.records import Place, Site
from barrowful.soil.history import done
from barrowful.supplies.supply import Supply


@fixed
class Ground:
    """Places of one kind, as one place of all their area, with what may be put on it."""

    places: tuple[Place, ...]
    kind: int  #: of places that are alike the same number, in whichever plots they are
    asked: Asked
    manners: Mapping[str, Sequence[Manner]]  #: by kind of need: those in which it may be met
    standing: Mapping[str, tuple[tuple[str, int], ...]]  #: ways that meet it by standing there, and from when

    @property
    def place(self) -> Place:
        """Return all of them as one place."""
        return self.asked.place

    def share(self, place: Place) -> float:
        """Return the share of what is put on that one of the places gets."""
        return place.total_area / self.place.total_area if len(self.places) > 1 else 1.0

    @cached_property
    def most(self) -> list[float]:
        """Return the most [m3] of each portion that can be of use, or may be put on.

        Where some tie up what others give, more of these may be of use.
        """
        ties_up = any(each < 0 for row in self._asking for each in row.each.values())
        times = 2.0 if ties_up else 1.0
        return [
            min(times * useful, self._let_on(of), self._limit(number)) if self._is_used(number) else 0.0
            for number, (of, useful) in enumerate(zip(self.asked.portions, self._useful, strict=True))
        ]

    @cached_property
    def _useful(self) -> list[float]:
        """Return how much of each portion alone gives all that any row asks for."""
        useful = [0.0] * len(self.asked.portions)
        for row in self._asking:
            for number, each in row.each.items():
                if each > 0:
                    useful[number] = max(useful[number], row.least / each)
        return useful

    @cached_property
    def _asking(self) -> list[Row]:
        """Return the rows that ask for something, of those of the same amounts the one that asks for most."""
        most = dict[int, Row]()
        for row in (row for of in self.manners.values() for manner in of for row in manner.rows):
            key = id(row.each)
            if row.least > 0 and (key not in most or row.least > most[key].least):
                most[key] = row
        return list(most.values())

    def _is_used(self, number: int) -> bool:
        """Say whether a portion is used in any manner of its need."""
        manners = self.manners[self.asked.portions[number].kind]
        return any(number not in manner.without for manner in manners)

    def _limit(self, number: int) -> float:
        """Return the most of a portion that the rows of its need let on in any manner."""
        return max(of.get(number, inf) for of in self._limits[self.asked.portions[number].kind])

    @cached_property
    def _limits(self) -> dict[str, list[dict[int, float]]]:
        """Return the most of each portion that the rows of each manner let on, where they do limit it."""
        limits = dict[str, list[dict[int, float]]]()
        for kind, manners in self.manners.items():
            every = {tuple(map(id, rows)): rows for rows in map(_letting, manners)}
            limits[kind] = [_least_of(rows) for rows in every.values()]
        return limits

    def _let_on(self, portion: Portion) -> float:
        """Return the most [m3] that may ever go on at once, and is there."""
        site, place, need = self.asked.site, self.place, portion.need
        ceilings = room(place, need, portion.material, done(site, place)).most * place.total_area
        at_once = NEEDS[need.kind].at_once(place)
        return min(ceilings, at_once, _whole_stock(portion.supply, site))


def _letting(manner: Manner) -> list[Row]:
    """Return the rows of a manner that let no more than so much on, whatever else there is."""
    return [row for row in manner.rows if row.most < inf and min(row.each.values(), default=0.0) >= 0]


def _least_of(rows: Iterable[Row]) -> dict[int, float]:
    least = dict[int, float]()
    for row in rows:
        for number, each in row.each.items():
            if each > 0:
                least[number] = min(least.get(number, inf), row.most / each)
    return least


def _whole_stock(supply: Supply[Any], site: Site) -> float:
    return sum(lot.loose for lot in supply.lots(site.end)) if supply.limited else inf


@fixed
class Looked:
    """How ground is looked at: by when all is to be ready, what may be put off, and in which plots."""

    ready_by: date | None = None
    put_off_to: date | None = None  #: day until which a need may be put off, where it may
    bare: bool = False  #: may a cover be, which leaves the ground bare until then?
    plots: Mapping[str, int] = field(default_factory=dict)  #: of places that are not planned with all alike


def grounds_of(answer: Answer, calendar: Calendar, looked: Looked) -> list[Ground]:
    """Return the kinds of place with needs, in an order of their own whatever that of the file is."""
    site, ways = answer.site, sorted(answer.supplies.values(), key=lambda way: way.name)
    kinds: dict[object, list[Place]] = {}
    for place in site.places:
        if place.needs:
            kinds.setdefault(_sort(site, place, ways), []).append(place)
    rows, grounds = RowDays(answer), list[Ground]()
    for number, alike in enumerate(kinds.values()):
        kind, plots = _Kind(number, alike, ways, calendar, rows, looked), dict[int, list[Place]]()
        for place in alike:
            plots.setdefault(looked.plots.get(place.name, 0), []).append(place)
        grounds += [kind.ground(places) for places in plots.values()]
    return sorted(grounds, key=lambda ground: min(place.name for place in ground.places))


def _sort(site: Site, place: Place, ways: Iterable[Supply[Any]]) -> object:
    """Return what places share that are planned as one; what is filled, or served apart, is by itself."""
    alone = any(NEEDS[need.kind].makes_ground for need in place.needs)
    served = tuple(way.name for way in ways if any(way.serves(place, need.kind) for need in place.needs))
    return (place.name,) if alone else (site.sorts[place.name], served)


@fixed(kw_only=False)
class _Kind:
    """Places that are alike, and what is known of what may be put on them."""

    number: int
    alike: Sequence[Place]
    ways: Sequence[Supply[Any]]
    calendar: Calendar
    rows: RowDays
    looked: Looked

    def ground(self, places: Sequence[Place]) -> Ground:
        """Return some of them as one place."""
        site, ready_by = self.calendar.answer.site, self.looked.ready_by
        in_order = sorted(places, key=lambda place: place.name)
        whole = in_order[0]
        if len(places) > 1:
            whole = replace(whole, area=sum(place.total_area for place in in_order), count=1)
        needs = sorted(whole.needs, key=lambda need: list(NEEDS).index(need.kind))
        offered = [
            (need, way)
            for need, way in product(needs, self.ways)
            if way.serves(in_order[0], need.kind) and not way.stands and fits(whole, need, way)
        ]
        apart = Apart(site, whole, self.calendar, offered)
        portions = [of for need, way in offered for of in self._portions(whole, need, way, apart)]
        soonest = self.rows.soonest(self.alike)
        asked = Asked(
            site=site,
            place=whole,
            portions=portions,
            soonest=apart.put_off_each(soonest, self.ways),
            latest=apart.put_off_last(self._latest(offered, soonest), self.ways),
            ready_by=None if ready_by is None else ready_by.toordinal(),
        )
        return Ground(
            places=tuple(in_order),
            kind=self.number,
            asked=asked,
            manners={need.kind: [*_manners(asked, need), *self._put_off(asked, need)] for need in needs},
            standing={need.kind: self.rows.standing(in_order[0], need.kind, ready_by) for need in needs},
        )

    def _latest(self, offered: Iterable[Offer], in_rows: Collection[tuple[str, str]]) -> Mapping[str, int]:
        """Return the last day on which a need is to be met first, by kind: that of rows, or of other ways.

        What no row puts on here, as other places come first there or fail beside it, counts by the day on
        which it would meet the need were there no other place.
        """
        site, latest = self.calendar.answer.site, self.rows.latest(self.alike)
        for need, way in offered:
            kind = need.kind
            if kind in latest and (kind, way.name) not in in_rows:  # else any day does, or a row says which
                [serving] = decide(site, kind, self.alike[:1], way, Settled(site)).servings
                if serving.met and serving.doses:
                    latest[kind] = max(latest[kind], NEEDS[kind].begins_on(serving).toordinal())
        return latest

    def _portions(self, place: Place, need: Need, way: Supply[Any], apart: Apart) -> Iterator[Portion]:
        """Yield a portion of a way for a need on each day, or the first after it on which it may go on."""
        site = self.calendar.answer.site
        wait = wait_of(site, place, need.kind, need.dug, way.material)
        days = self._days(need, way)
        every = {waited(wait, of(way, day)) for day in days for of in (apart.put_off, apart.let_pass)}
        for day in sorted(every):
            if day <= site.end and apart.put_off(way, day) == day:
                yield Portion(need, way, day.toordinal())

    def _days(self, need: Need, way: Supply[Any]) -> list[date]:
        """Return the days on which a way may go on for a need; with the one to which needs are put off."""
        days, put_off_to = self.calendar.days(need.kind, way), self.looked.put_off_to
        if put_off_to is None or not way.keeps or not days or put_off_to < days[0]:
            return days
        return sorted({*days, put_off_to})

    def _put_off(self, asked: Asked, need: Need) -> list[Manner]:
        """Return the manners in which a need may be met where it may be put off, and else not.

        A way is then waited for until the first day on or after that one on which it may go on.
        """
        if self.looked.put_off_to is None or (NEEDS[need.kind].is_kept_up and not self.looked.bare):
            return []
        first = dict[tuple[str, str], int]()
        for _, of in asked.of(need.kind):
            if of.number >= self.looked.put_off_to.toordinal():
                key = need.kind, of.supply.name
                first[key] = min(first.get(key, of.number), of.number)
        last = asked.last(need.kind)
        waiting = replace(
            asked,
            soonest={
                **asked.soonest,
                **{of: max(day, asked.soonest.get(of, last)) for of, day in first.items()},
            },
            latest={**asked.latest, need.kind: max([last, *first.values()])},
        )
        prompt = _manners(asked, need)
        return [replace(manner, put_off=True) for manner in _manners(waiting, need) if manner not in prompt]


def _manners(asked: Asked, need: Need) -> list[Manner]:
    try:
        return NEEDS[need.kind].manners(asked)
    except CannotServe:
        return []


def fits(place: Place, need: Need, way: Supply[Any]) -> bool:
    """Say whether the stuff of a way may serve a need of a place at all."""
    try:
        NEEDS[need.kind].fit(place, way.material)
    except CannotServe:
        return False
    return not unsuited(place, need, way.material)
