"""Liming: the pH of a soil raised to a value, by the table for its texture, over the years it takes."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, timedelta
from heapq import heappop, heappush
from math import floor
from typing import Any

from barrowful.catalogue.judgements import judgement
from barrowful.catalogue.materials import Material
from barrowful.catalogue.rates import rate
from barrowful.ground.amount import mass_on
from barrowful.ground.lime import lime_for
from barrowful.measures.dates import year_after
from barrowful.measures.elementwise import at_least, likely, per, where
from barrowful.needs.anew import Anew, Sized
from barrowful.needs.ceilings import Room
from barrowful.needs.decision import CannotServe, Serving
from barrowful.needs.doses import SLACK_SHARE, Taken, dose_for, most_at_once
from barrowful.needs.harvests import wait_of, waited
from barrowful.needs.kind import NeedKind
from barrowful.needs.settled import Settled, times_of
from barrowful.site.carried import AS_IT_IS, Carried
from barrowful.site.needs import Lime
from barrowful.site.records import Place, Site, Soil
from barrowful.soil.application import Application
from barrowful.soil.history import done
from barrowful.supplies.lot import yearly
from barrowful.supplies.stock import Stock
from barrowful.supplies.supply import Supply

#: The figure of what a material neutralises.
FIGURE = "neutralising_value"


class Liming(NeedKind[Lime]):
    """A pH raised by what neutralises acid; what was put on since the soil test is taken off."""

    kind = "lime"
    jobs = "lime", "lime"
    figures = ("density", "moisture")
    takes_soil = True
    not_followed = "What lime does to the pH is not followed over time: test it again."

    def why_unsuited(self, place: Place, material: Material) -> str:
        """Return why a material does not suit the place's need, as what limes nothing, or nothing."""
        because = super().why_unsuited(place, material)
        if because or material.lacks(*self.figures):
            return because
        try:
            neutralises(material)
        except CannotServe as refusal:
            return str(refusal)
        return ""

    def fit(self, place: Place, material: Material) -> None:
        self._refuse_fall(place)
        if self._wanted(place) > 0:
            super().fit(place, material)

    def is_met(self, site: Site, place: Place) -> bool:
        self._refuse_fall(place)
        return likely(self._lacking(site, place)) <= 0

    def bare_loose(self, site: Site, place: Place, material: Material) -> float:
        return 0.0 if self.is_met(site, place) else self._lacking(site, place) / neutralises(material)

    def _would_do(self, site: Site, place: Place, material: Material, loose: float) -> bool:
        """Say whether it would do within the ceilings by the end of the horizon, put on once a year."""
        room, times = (
            Settled(site).room(place, self.of(place), material),
            len(yearly(site.start, site.end, 0.0)),
        )
        again = (times - 1) * room.most if times > 1 and _again(material) else 0.0
        return loose <= (room.left(site.start.toordinal()) + again) * place.total_area * (1 + SLACK_SHARE)

    def serve(self, site: Site, place: Place, supply: Supply[Any], beside: Settled) -> Serving:
        """Return the lime, in as many parts as lots and ceilings make of it, beside other lines of a plan."""
        need, whole = self.of(place), self.loose(site, place, supply.material)
        there = self.share_settled(site, place, beside)
        parts = self._over_years(site, place, supply, beside, whole * (1 - there))
        met = parts.lacking <= SLACK_SHARE * whole
        share = 1.0 if met else there + parts.given / whole
        because = self._stops(site, supply.material, parts)
        return Serving(
            place=place,
            doses=tuple(dose_for(place, need, supply, day, loose) for day, loose in parts.by_day),
            why_not="" if met else f"{because}: {self.gets_to(site, place, share)}",
            share=share,
            ceiling="" if met else parts.ceiling,
            possible=None if met else parts.given,
            short=0.0 if met or parts.ceiling else parts.lacking,
            ready_on=parts.last_day(site.start) if met else None,
            times_needed=None if parts.ceiling else times_of(supply, whole * (1 - there), parts),
        )

    def anew(self, ask: Anew) -> Sized:
        """Return the parts of the lime, by what it neutralises."""
        lacking = self._lacking(ask.site, ask.place, ask.past) * (1 + self.of(ask.place).allowance)
        each = 0.0 if ask.material.lacks(FIGURE) else ask.material.holds(1.0, FIGURE)
        sized = ask.in_turn(per(lacking, each, 0.0))
        return sized._replace(met=where(each > 0, sized.met, 0.0))

    def _over_years(
        self, site: Site, place: Place, supply: Supply[Any], beside: Settled, wanted: float
    ) -> Taken:
        """Return the parts [m3] of what is wanted, as soon as there is some and the ceilings have room.

        Lime and ash that are held back go on a year later; of other stuff there is only what goes on at once.
        """
        need, stuff, area = self.of(place), supply.material, place.total_area
        stock, room = beside.stock(supply), beside.room(place, need, stuff)
        parts, days, at_once = Taken(lacking=wanted), _days(site, stock, room), most_at_once(place, need)
        begins = beside.begins(place, self.kind, stuff)
        wait = wait_of(site, place, self.kind, need.dug, stuff)
        while days and parts.lacking > SLACK_SHARE * wanted:
            day = max(begins, date.fromordinal(heappop(days)))
            opens = waited(wait, day)
            if wait is not None and opens != day:
                parts.ceiling = wait.ceiling
                if stock.lots.keeps:
                    _note(days, opens.toordinal(), site.end)
                continue
            put_on = [(on.toordinal(), loose / area) for on, loose in parts.by_day]
            allowed, ceiling = room.keeps_to(min(parts.lacking, at_once), area, day.toordinal(), put_on)
            taken = stock.take(day.toordinal(), allowed) if allowed > 0 else 0.0
            if taken > 0:
                parts.add(day, taken)
                _note(days, year_after(day.toordinal()), site.end)
            parts.ceiling = ceiling
            if ceiling and not _again(stuff):
                break
        return parts

    def carried_on(self, old: Site, new: Site, place: Place) -> Carried:
        """Return that a lime that was put on goes: how far the pH rose a test has to tell."""
        wanted = self._wanted(place)
        if wanted <= 0 or 1 - self._lacking(new, place) / wanted < judgement("as_good_as_done"):
            return AS_IT_IS
        return Carried(
            gone=True, told=f"{place.name}: limed as asked for; test its pH, and write it under soil"
        )

    def _lacking(self, site: Site, place: Place, past: Iterable[Application] | None = None) -> float:
        """Return what is still to be neutralised [kg, as CaO], less what was put on since the soil test.

        The past is what the history says, where none is given.
        """
        seen = place.soil.tested or site.start - timedelta(days=1)
        there = sum(
            dose.loose * dose.material.holds(1.0, FIGURE)
            for dose in (done(site, place) if past is None else past)
            if dose.day > seen and not dose.material.lacks(FIGURE)
        )
        return at_least(self._wanted(place) - there, 0.0)

    def _wanted(self, place: Place) -> float:
        """Return what the table has to be neutralised [kg, as CaO]."""
        need, soil = self.of(place), place.soil
        rise = need.ph - (need.ph if soil.ph is None else soil.ph)
        return mass_on(place.total_area, lime_for(rise, factor_of(soil), need.depth, soil.stones))

    def _refuse_fall(self, place: Place) -> None:
        """Refuse to lower a pH."""
        need, there = self.of(place), place.soil.ph
        if there is not None and there - need.ph > judgement("ph_near"):
            raise CannotServe(
                f"lime raises a pH and cannot lower one: the soil has {there:g}, wanted is {need.ph:g};"
                " what lowers it, such as sulphur, is not reckoned"
            )

    def gets_to(self, site: Site, place: Place, share: float) -> str:
        """Return how far a share of what is wanted gets, down to a tenth: short never reads as reached."""
        need, whole = self.of(place), self._wanted(place)
        lacking = self._lacking(site, place) * (1 - share) / whole if whole > 0 else 0.0
        reached = need.ph - (need.ph - (place.soil.ph or need.ph)) * lacking
        return f"gets to pH {floor(reached * 10 + SLACK_SHARE) / 10:.1f} of {need.ph:g}"

    def _stops(self, site: Site, stuff: Material, parts: Taken) -> str:
        """Return what stops it; how much more would do is told of all places together."""
        return (
            self.why_short(site, stuff, parts) if parts.ceiling else f"too little comes {self.deadline(site)}"
        )


def neutralises(material: Material) -> float:
    """Return what each loose m3 of a material neutralises [kg, as CaO]; refuse what limes nothing."""
    if material.lacks(FIGURE):
        raise CannotServe("no neutralising value is known of it, so it is not reckoned to lime the ground")
    each = material.holds(1.0, FIGURE)
    if likely(each) <= 0:
        raise CannotServe("it does not lime the ground")
    return each


def factor_of(soil: Soil) -> float:
    """Return the lime [kg/m2 for each pH] that a soil takes: by its organic matter, else by its clay.

    Without a figure for clay it is taken as a loam.
    """
    matter, clay = soil.organic_matter or 0.0, soil.clay
    if matter > rate("peat_from"):
        return rate("lime_peat")
    if matter >= rate("organic_from"):
        return rate("lime_organic")
    if clay is None or judgement("sandy_clay") <= clay < judgement("heavy_clay"):
        return rate("lime_loam")
    return rate("lime_sand") if clay < judgement("sandy_clay") else rate("lime_clay")


def _again(material: Material) -> bool:
    """Say whether a material is put on year after year to lime: lime and ash are, compost is not."""
    return material.has("alkaline")


def _days(site: Site, stock: Stock, room: Room) -> list[int]:
    """Return the day numbers on which some may go on: of lots, and a year after what is there already."""
    lots, end = stock.lots, site.end.toordinal()
    again = [year_after(on) for bound in room.bounds for on, _ in bound.used if lots.keeps]
    return sorted({day for day in (*lots.days, *again) if lots.days and lots.days[0] <= day <= end})


def _note(days: list[int], number: int, end: date) -> None:
    """Add a day number once, where it lies within the horizon."""
    if number <= end.toordinal() and number not in days:
        heappush(days, number)
