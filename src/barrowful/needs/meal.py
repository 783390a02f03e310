"""What one place is fed of one way, season by season: sized by what is lacking, within the ceilings."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from math import inf
from typing import Any

from barrowful.catalogue.ceilings import most, room_again, stops_at
from barrowful.catalogue.materials import Material
from barrowful.catalogue.vocabulary import NUTRIENTS
from barrowful.ground.amount import mass_on
from barrowful.measures.elementwise import likely
from barrowful.needs.ceilings import room_beside
from barrowful.needs.decision import CannotServe
from barrowful.needs.doses import DUST, SLACK_SHARE, dose_for, most_at_once
from barrowful.needs.given import Given
from barrowful.needs.harvests import wait_of, waited
from barrowful.needs.meal_days import NO_DAYS, Days, coming_in, days_left, endless_days, of_season, there_in
from barrowful.needs.settled import Settled
from barrowful.site.needs import Feed
from barrowful.site.records import Place, Site
from barrowful.soil.application import Application
from barrowful.soil.history import net_nitrogen
from barrowful.soil.nitrogen import usable
from barrowful.soil.response import Response, response_of
from barrowful.soil.seasons import crop_of, feeding_from, season_end, season_of, time_of_year
from barrowful.supplies.lot import YEAR
from barrowful.supplies.supply import Supply


class Meal:
    """What one place is fed of one way, season by season."""

    def __init__(
        self, site: Site, place: Place, need: Feed, supply: Supply[Any], beside: Settled, given: Given
    ) -> None:
        self.site, self.place, self.need, self.supply, self.beside = site, place, need, supply, beside
        self.stuff, self.nutrient, self.given = supply.material, sizing(need), given
        self.wanted = wanted_by(place, need)
        self.room = room_beside(place, need, self.stuff, given.uses)
        self.response = response_of(self.stuff, site.climate, place.soil, need.dug)
        self.dry = self.stuff.dry_mass(1.0)
        self.begins = beside.begins(place, need.kind, self.stuff)
        #: Does it wait for a harvest?
        self.waits = wait_of(site, place, need.kind, need.dug, self.stuff)

    def gives(self, nutrient: str, time: str) -> float:
        """Return what each m3 gives [kg] of a nutrient in its season; refuse what gives none."""
        return self.dry * share_given(self.stuff, self.response, nutrient, time)

    def of_season(self, number: int) -> Fed:
        """Return what a season gets; its doses count in the seasons after."""
        net = self.given.net(number)
        fed = Fed(lacking=max(0.0, self.wanted[self.nutrient] - net[self.nutrient]), credit=net["nitrogen"])
        if self.nutrient == "nitrogen" and self.place.limits.farm:
            for ceiling, most_of_it in self._farm_rooms(number):
                fed.keep_to(ceiling, most_of_it)
        self._take(number, fed)
        fed.lacking += fed.held_back
        fed.judge(self.wanted, self.given.net(number), season_end(self.site, number))
        return fed

    def _take(self, number: int, fed: Fed) -> None:
        """Take what is lacking from the lots of a season, within the ceilings."""
        area, stock, need = self.place.total_area, self.beside.stock(self.supply), self.need
        at_once, whole = most_at_once(self.place, need), fed.lacking
        days = self.days_of(number) if whole > SLACK_SHARE * self.wanted[self.nutrient] else NO_DAYS
        if days.there and not days.open:
            fed.ceiling = self.waits.ceiling if self.waits else ""
        for day in days.open:
            if fed.lacking <= SLACK_SHARE * whole:
                break
            time = time_of_year(self.site.hemisphere, day.month)
            each = self.gives(self.nutrient, time)
            wanted, there = min(fed.lacking / each * (1 + need.allowance), at_once), self._depths(area)
            wanted, ceiling = self.room.keeps_to(wanted, area, day.toordinal(), there)
            if ceiling:
                fed.ceiling, fed.again = ceiling, self.room.opens_again(day.toordinal(), there)
            unwanted = self._unwanted(number, time)
            if unwanted < wanted * (1 - SLACK_SHARE):
                fed.ceiling, fed.again, wanted = "available_nitrogen", None, unwanted
            taken = stock.take(day.toordinal(), wanted) if wanted > 0 else 0.0
            if taken > 0:
                dose = dose_for(self.place, need, self.supply, day, taken)
                fed.doses.append(dose)
                self.given.put_on(dose)
                fed.lacking = max(0.0, fed.lacking - taken * each / (1 + need.allowance))
            fed.each, fed.ran_out = each, taken < wanted * (1 - SLACK_SHARE)
            if not fed.ran_out and fed.ceiling and not fed.held_back:
                break

    def _unwanted(self, number: int, time: str) -> float:
        """Return the most [m3] that a feed which wants no nitrogen may take of stuff that gives some."""
        each = self.dry * self.response.nitrogen(1, time).per_dry
        lifted = "available_nitrogen" in self.place.limits.lift
        if self.nutrient == "nitrogen" or each <= 0 or lifted:
            return inf
        return max(0.0, unwanted_nitrogen(self.place) - max(0.0, self.given.net(number)["nitrogen"])) / each

    def _depths(self, area: float) -> list[tuple[int, float]]:
        """Return what was taken so far as loose depths [m] by day number, where ceilings ask for it."""
        if not self.room.bounds or not area:
            return []
        return [(dose.number, dose.loose / area) for dose in self.given.doses]

    def days_of(self, number: int) -> Days:
        """Return the days of a season on which there is something of the way, and those it may go on.

        Where a day is written it is the first.
        """
        first = self.beside.day
        if first is None:
            return self._usual_days(number)
        if (own := season_of(self.site, first)) != number:
            return self._usual_days(number) if own < number else NO_DAYS
        later = [day for day in self._usual_days(number).open if day > first]
        return Days([first, *later], [first, *later])

    def _usual_days(self, number: int) -> Days:
        """Return the days of a season on which there is something, as it comes, and those it may go on."""
        stock, since = self.beside.stock(self.supply), self.room.first_dressing
        crop = crop_of(self.place)
        if self.begins > self.site.start:
            if stock.lots.endless and stock.lots.first:
                return self._open_of(number, self._each_year_from(max(self.begins, stock.lots.first), number))
            there = there_in(self.supply, stock, number, since, crop)
            later = {max(day, self.begins) for day in there if day >= self.begins or self.supply.keeps}
            return self._open_of(number, later)
        if self.waits:
            return self._open_of(number, there_in(self.supply, stock, number, since, crop))
        if stock.lots.endless:
            return endless_days(self.supply, number, since, crop)
        own = sorted(days_left(coming_in(self.supply, stock.lots, number, crop), stock))
        return Days(own, own)

    def _each_year_from(self, first: date, number: int) -> set[date]:
        """Return a day and those years later, up to a season: what has no end need not go on on days of lots.

        So what waits in its first year does not come within twelve months of it, nor where it waits again.
        """
        days = (YEAR.times(years).after(first) for years in range(number + 2))
        crop = crop_of(self.place)
        return (
            {feeding_from(self.site.hemisphere, day, crop) for day in days}
            if self.supply.keeps
            else set(days)
        )

    def _open_of(self, number: int, there: set[date]) -> Days:
        """Return days on which there is something, and those of a season it may go on."""
        if self.waits is None:
            own = of_season(self.site, number, there)
            return Days(own, own)
        opens = (waited(self.waits, day) for day in there)
        return Days(of_season(self.site, number, there), of_season(self.site, number, opens))

    def _farm_rooms(self, number: int) -> Iterator[tuple[str, float]]:
        """Yield the nitrogen [kg] that the rules of farms let a stuff bring in a season, by ceiling."""
        need, area, lifted = self.need, self.place.total_area, self.place.limits.lift
        there = self.given.all
        if need.farm_most is not None and "available_nitrogen" not in lifted:
            brought = net_nitrogen(self.site, there, number)
            yield "available_nitrogen", max(0.0, mass_on(area, need.farm_most) - brought)
        if self.stuff.sort.bulky and "bulky_share" not in lifted:
            yield "bulky_share", self.bulky_room(number)

    def bulky_room(self, number: int) -> float:
        """Return the nitrogen [kg] that bulky stuff may bring a farm in a season."""
        share, there = most("bulky_share", "farm") or 1.0, self.given.all
        bulky = net_nitrogen(self.site, [dose for dose in there if dose.material.sort.bulky], number)
        return max(0.0, self.wanted["nitrogen"] * share - max(0.0, bulky))


@dataclass(eq=False)
class Fed:
    """What one season gets of a way: doses, what is lacking [kg of the nutrient that sizes], how far met."""

    lacking: float
    credit: float  #: kg; net nitrogen of all else
    doses: list[Application] = field(default_factory=list)
    each: float = 0.0  #: kg given by each m3
    held_back: float = 0.0  #: kg that bulky stuff may not bring
    ran_out: bool = False  #: was there less than the ceilings let on?
    ceiling: str = ""
    again: int | None = None  #: day number from which the ceiling leaves more room
    why_not: str = ""
    share: float = 1.0
    hopeless: bool = False  #: does nothing there is meet it, whatever it costs?

    def keep_to(self, ceiling: str, most: float) -> None:
        """Bring no more than so much [kg] of what is lacking, where a ceiling has it so."""
        if self.lacking > most * (1 + SLACK_SHARE):
            self.ceiling, self.held_back = ceiling, self.held_back + self.lacking - most
            self.lacking = most

    @property
    def given(self) -> float:
        """Return what is put on [m3]."""
        return sum(dose.loose for dose in self.doses)

    @property
    def short(self) -> float:
        """Return how much more [m3] would do, where a ceiling is not what stops it."""
        more = self.lacking / self.each if self.each > 0 and not self.ceiling else 0.0
        return more if more > DUST else 0.0

    def judge(self, wanted: Mapping[str, float], net: Mapping[str, float], until: date) -> None:
        """Note how far every nutrient wanted is met in the season, and why not where one is not."""
        shares = {
            name: max(0.0, net[name]) / kilograms for name, kilograms in wanted.items() if kilograms > 0
        }
        self.share = min(1.0, *shares.values()) if shares else 1.0
        lacking = [name for name, share in shares.items() if share < 1 - 1e-6]
        if lacking:
            met = ", ".join(f"{min(1.0, shares[name]):.0%} of the {name}" for name in shares)
            gives = f"gives {met} in the season to {until}"
            if not self.ceiling:
                self.why_not = gives
            elif self.ran_out:
                left = "all there is" if self.given > DUST else "hardly any is left:"
                self.why_not = f"{left} {gives}; much more {stops_at(self.ceiling)}"
            else:
                self.why_not = f"{stops_at(self.ceiling)}: {gives}{room_again(self.again, until)}"
        else:
            self.ceiling = ""


def wanted_by(place: Place, need: Feed) -> dict[str, float]:
    """Return the nutrients [kg] that a place wants in each season."""
    return {name: mass_on(place.total_area, getattr(need, name)) for name in NUTRIENTS}


def sizing(need: Feed) -> str:
    """Return the nutrient that sizes a feed: nitrogen, or else the first that is wanted."""
    return next((name for name in NUTRIENTS if getattr(need, name) > 0), "nitrogen")


def unwanted_nitrogen(place: Place) -> float:
    """Return the nitrogen [kg] that a place which wants none may get in a season."""
    return mass_on(place.total_area, most("available_nitrogen", "unwanted") or 0.0)


def nitrogen_let_on(place: Place, need: Feed) -> float:
    """Return the nitrogen [kg] a place may get in a season: what it wants, or the little let on unwanted."""
    if "available_nitrogen" in place.limits.lift:
        return inf
    allowed = max(mass_on(place.total_area, need.nitrogen), unwanted_nitrogen(place))
    if place.limits.farm and need.farm_most is not None:
        return min(allowed, mass_on(place.total_area, need.farm_most))
    return allowed


def share_given(material: Material, response: Response, nutrient: str, time: str) -> float:
    """Return the share of dry mass that a nutrient gives in its season; refuse what gives none."""
    word = "no nitrogen in its first season" if nutrient == "nitrogen" else f"no {nutrient}"
    if material.lacks(nutrient):
        raise CannotServe(f"{material.name} has no figure for {nutrient}")
    each = share_of_dry(material, response, nutrient, time)
    if likely(each) <= 0:
        raise CannotServe(f"gives {word}")
    return each


def share_of_dry(material: Material, response: Response, nutrient: str, time: str) -> float:
    """Return the share of dry mass that a nutrient gives in its season; below nothing it is tied up."""
    if nutrient == "nitrogen":
        return response.nitrogen(1, time).per_dry
    return usable(material, nutrient)
