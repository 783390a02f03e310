"""What a plan asks of amounts so that a place is fed in every season, net of what ties nitrogen up."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from itertools import product
from math import inf

from barrowful.catalogue.ceilings import most
from barrowful.catalogue.vocabulary import NUTRIENTS
from barrowful.ground.amount import mass_on
from barrowful.measures.dates import year_after
from barrowful.needs.given import BESIDE, net_of
from barrowful.needs.meal import nitrogen_let_on
from barrowful.needs.rows import LET_OFF, Asked, Either, Manner, Row
from barrowful.site.needs import Feed
from barrowful.soil.history import done, net_nitrogen
from barrowful.soil.seasons import crop_of, feeding_from, growing_seasons, season_of

#: Seasons after a fill up to which it is looked at until which of them it lasts: a setting of the search.
MOST_LASTING = 4


def feed_manners(asked: Asked, need: Feed) -> list[Manner]:
    """Return the manners of feeding a place: no more nitrogen in a season than wanted, or none of the feed's.

    Where other needs bring more than is wanted, a feed may still bring the rest, without nitrogen. What the
    place is filled with has phosphorus and potassium for the seasons after it, each manner until another.
    """
    fed, let_on_rows, either = _Fed(asked, need), list[Row](), list[Either]()
    seasons = growing_seasons(asked.site, crop_of(asked.place))
    for season in seasons:
        let_on = tuple(fed.let_on(season))
        if let_on and fed.others_bring(season):
            either.append(Either(let_on, fed.nitrogenous(season)))
        else:
            let_on_rows += let_on
    return [
        Manner(
            rows=(*(row for season in seasons for row in fed.of_season(season, last)), *let_on_rows),
            either=tuple(either),
            without=fed.out_of_season | (fed.filled_later if last else frozenset()),
        )
        for last in fed.lasting(seasons)
    ]


class _Fed:
    """What portions give a place in its seasons [kg for each m3], beside what was put on before."""

    def __init__(self, asked: Asked, need: Feed) -> None:
        self.asked, self.need, self.site, self.place = asked, need, asked.site, asked.place
        self.seasons = [season_of(self.site, asked.dose(number).day) for number in range(len(asked.portions))]
        self.past = done(self.site, self.place)
        fills = {number: self.seasons[number] for number, _ in asked.of("fill")}
        #: The season in which the place may be filled first, what it is filled with then, and later.
        self.filled_in = min(fills.values(), default=0)
        self.filled = frozenset(number for number, season in fills.items() if season == self.filled_in)
        self.filled_later = fills.keys() - self.filled

    @property
    def out_of_season(self) -> frozenset[int]:
        """Return the portions of the feed that come when nothing is fed, or later than they need to.

        What keeps waits for spring, or for autumn where a crop is fed then at first; of what has no end the
        first day of a season will do, and the first on which a year's ceilings have forgotten a dose of the
        season before.
        """
        seasons, out = growing_seasons(self.site, crop_of(self.place)), set[int]()
        start = self.site.start
        sown_later = not self._in_spring(start) and self._put_off(start) == start
        kept: dict[str, list[tuple[int, int]]] = {}
        ready_by = self.asked.ready_by
        for number, of in sorted(self.asked.of(self.need.kind), key=lambda each: each[1].number):
            day, season = self.asked.dose(number).day, self.seasons[number]
            waits = of.supply.keeps and (self._put_off(day) != day or (sown_later and self._in_spring(day)))
            late = season == seasons[0] and ready_by is not None and of.number > ready_by
            before = kept.setdefault(of.supply.name, [])
            again = not of.supply.limited and _again(before, season, of.number)
            if waits or late or again or season not in seasons:
                out.add(number)
            else:
                before.append((season, of.number))
        return frozenset(out)

    def _put_off(self, day: date) -> date:
        """Return the day from which what keeps is fed, of what is there on a day."""
        return feeding_from(self.site.hemisphere, day, crop_of(self.place))

    def _in_spring(self, day: date) -> bool:
        return feeding_from(self.site.hemisphere, day) == day

    def nitrogenous(self, season: int) -> frozenset[int]:
        """Return the portions of the feed that go on in a season and give nitrogen in it."""
        own = (number for number, _ in self.asked.of(self.need.kind) if self.seasons[number] == season)
        return frozenset(number for number in own if self._gives("nitrogen", number, season) > 0)

    def others_bring(self, season: int) -> bool:
        """Say whether what is put on for other needs may give nitrogen in a season."""
        return any(
            self._gives("nitrogen", number, season) > 0
            for number, of in enumerate(self.asked.portions)
            if of.kind != self.need.kind
        )

    def lasting(self, seasons: Sequence[int]) -> Iterator[Mapping[str, int]]:
        """Yield until which season what the place is filled with has enough left, by nutrient: none, or some.

        Of many seasons only the last is looked at.
        """
        later = [season for season in seasons if season > self.filled_in] if self.filled else []
        ends = [None, *(later if len(later) <= MOST_LASTING else later[-1:])]
        names = [name for name in BESIDE if self._wanted(name) > 0 and self._brought(name)]
        for last in product(ends, repeat=len(names)):
            yield {name: season for name, season in zip(names, last, strict=True) if season is not None}

    def of_season(self, season: int, last: Mapping[str, int]) -> Iterator[Row]:
        """Yield the rows by which every nutrient wanted is there in a season.

        Until the last season of some nutrients the place has of them what it was filled with, less what the
        seasons between have used.
        """
        net = net_of(self.site, self.place, self.past, season)
        for name in NUTRIENTS:
            wanted = self._wanted(name)
            if wanted > 0 and wanted > net[name]:
                each, used = self._each(name, season), 0
                if self.filled_in < season <= last.get(name, 0):
                    each, used = {**each, **self._brought(name)}, season - self.filled_in
                yield Row(each, least=(1 + used) * wanted * (1 - LET_OFF) - net[name])

    def _wanted(self, name: str) -> float:
        return mass_on(self.place.total_area, getattr(self.need, name))

    def _brought(self, name: str) -> Mapping[int, float]:
        """Return what each m3 of what the place is filled with brings of a nutrient beside nitrogen."""
        brought = {number: self._gives(name, number, self.filled_in) for number in sorted(self.filled)}
        return {number: kilograms for number, kilograms in brought.items() if kilograms}

    def let_on(self, season: int) -> Iterator[Row]:
        """Yield the rows by which no more nitrogen is given than is wanted, and of bulky stuff its share."""
        each, before = self._each("nitrogen", season), net_nitrogen(self.site, self.past, season)
        allowed = nitrogen_let_on(self.place, self.need)
        if allowed < inf:
            yield Row(each, most=max(0.0, allowed * (1 + LET_OFF) - before))
        if self.need.nitrogen and self.place.limits.farm and "bulky_share" not in self.place.limits.lift:
            bulky = {n: gives for n, gives in each.items() if self.asked.portions[n].material.sort.bulky}
            share = (most("bulky_share", "farm") or 1.0) * mass_on(self.place.total_area, self.need.nitrogen)
            there = net_nitrogen(self.site, [dose for dose in self.past if dose.material.sort.bulky], season)
            yield Row(bulky, most=max(0.0, share - max(0.0, there)))

    def _each(self, name: str, season: int) -> Mapping[int, float]:
        """Return what each m3 of portions gives of a nutrient in a season; below nothing it ties it up."""
        gives = {number: self._gives(name, number, season) for number in range(len(self.asked.portions))}
        return {number: kilograms for number, kilograms in gives.items() if kilograms}

    def _gives(self, name: str, number: int, season: int) -> float:
        dose, own = self.asked.dose(number), self.asked.portions[number].kind == self.need.kind
        if dose.material.lacks("density", "moisture"):
            return 0.0
        allowance = 1 + self.need.allowance if own else 1.0
        if name == "nitrogen":
            return dose.nitrogen(self.site, season) / allowance
        return dose.brings[name] / allowance if self.seasons[number] == season else 0.0


def _again(before: Sequence[tuple[int, int]], season: int, day: int) -> bool:
    """Say whether a day of a season brings nothing that the days before, by season, do not."""
    if not any(of == season for of, _ in before):
        return False
    earlier = (year_after(other) for of, other in before if of < season)
    return not any(opens <= day and not any(opens <= other < day for _, other in before) for opens in earlier)
