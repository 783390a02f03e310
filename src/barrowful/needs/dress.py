"""Dressing: a depth or a dose put on once."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from datetime import date
from typing import Any

from barrowful.catalogue.materials import Material
from barrowful.ground.amount import mass_on
from barrowful.needs.anew import Anew, Sized
from barrowful.needs.carrying import less_by, since_start
from barrowful.needs.ceilings import beside_humus, unsuited
from barrowful.needs.decision import MET, CannotServe, Judged, Serving
from barrowful.needs.doses import SLACK_SHARE, doses_for, last_of, most_at_once, to_depth
from barrowful.needs.kind import NeedKind
from barrowful.needs.rows import LET_OFF, Asked, Manner, Row
from barrowful.needs.settled import Settled, times_of
from barrowful.site.carried import Carried
from barrowful.site.needs import Dress
from barrowful.site.records import Place, Site
from barrowful.soil.application import Application, settled_as
from barrowful.soil.seasons import season_of
from barrowful.supplies.supply import Supply


class Dressing(NeedKind[Dress]):
    """A depth as spread or after settling, or a dose by mass."""

    kind = "dress"
    figures = ("density", "moisture")
    takes_soil = True
    counts_later = True

    def bears(self, place: Place) -> object:
        return beside_humus(place, self.kind)

    def volume(self, place: Place) -> float | None:
        return to_depth(place, self.of(place).depth)

    def fit(self, place: Place, material: Material) -> None:
        super().fit(place, material)
        self._refuse_depth(place, material)

    def _refuse_depth(self, place: Place, material: Material) -> None:
        """Refuse what is sold by weight where a depth is wanted."""
        if material.sort.as_sold and self.of(place).dose is None:
            raise CannotServe("what is sold by weight is dosed by weight, never by depth")

    def bare_loose(self, site: Site, place: Place, material: Material) -> float:
        need = self.of(place)
        if need.dose is not None:
            return material.loose_of(mass_on(place.total_area, need.dose))
        self._refuse_depth(place, material)
        return settled_as(need.settled, self.volume(place) or 0.0, material)

    def serve(self, site: Site, place: Place, supply: Supply[Any], beside: Settled) -> Serving:
        """Return the dressing, less what other needs bring in its manner in the same season."""
        need, whole = self.of(place), self.loose(site, place, supply.material)
        first = beside.stock(supply).lots.first
        there = self._there(site, place, supply.material, beside.on(place), first) if first else 0.0
        wanted = max(0.0, whole - there)
        parts = self.earliest(site, place, supply, beside, wanted)
        meant = parts.given if parts.ceiling else wanted
        doses = doses_for(place, need, supply, parts.by_day, meant, min(meant, most_at_once(place, need)))
        met = parts.lacking <= SLACK_SHARE * whole
        return Serving(
            place=place,
            doses=tuple(doses),
            why_not="" if met else self.why_short(site, supply.material, parts),
            share=1.0 if met or not whole else (there + parts.given) / whole,
            ceiling="" if met else parts.ceiling,
            possible=None if met else parts.given,
            short=0.0 if met else parts.lacking,
            ready_on=parts.last_day(site.start) if met else None,
            times_needed=times_of(supply, wanted, parts),
        )

    def anew(self, ask: Anew) -> Sized:
        """Return the parts of the dressing, less what other needs bring in its manner in the same season."""
        site, place, stuff = ask.site, ask.place, ask.material
        lies = self._there(site, place, stuff, ask.beside, ask.doses[0].day)
        return ask.in_turn(self.loose(site, place, stuff), lies)

    def judge(self, site: Site, place: Place, doses: Sequence[Application]) -> Judged:
        """Return how far doses dress a place: its own, and what other needs bring in its manner.

        Of other needs those of one season count: of the season of its own first dose, else of that with most.
        """
        own = [dose for dose in doses if dose.kind == self.kind]
        others = defaultdict[int, list[Application]](list)
        for dose in doses:
            if dose.kind != self.kind and self._may_count(place, dose):
                others[season_of(site, dose.day)].append(dose)
        seasons = [season_of(site, min(dose.day for dose in own))] if own else [*others]
        tried = [self._judged(site, place, [*own, *others[season]]) for season in sorted(seasons)]
        return max(tried, key=lambda judged: judged.share, default=Judged(0.0, "nothing is put on for it"))

    def _judged(self, site: Site, place: Place, doses: Sequence[Application]) -> Judged:
        """Return how far doses of one season dress a place; it is ready once enough is put on."""
        share, enough = 0.0, list[Application]()
        for dose in sorted(doses, key=lambda dose: dose.day):
            if share < 1 - MET:
                enough.append(dose)
            share += self.share_of(site, dose)
        return Judged.of(share, self.gets_to(site, place, share), last_of(site, enough))

    def manners(self, asked: Asked) -> list[Manner]:
        """Return a manner for each season in which all of it may come, with what others bring then.

        No more is put on for it than is wanted: a deep dressing is no cover, and no raise.
        """
        site, place, last = asked.site, asked.place, asked.last(self.kind)
        shares, seasons = dict[int, dict[int, float]](), dict[int, int]()
        for number, of in enumerate(asked.portions):
            own, dose = of.kind == self.kind, asked.dose(number)
            if of.number > last or not (own or self._may_count(place, dose)):
                continue
            season = seasons[number] = season_of(site, dose.day)
            shares.setdefault(season, {})[number] = self.share_of(site, dose)
        put_off = asked.put_off(self.kind, last)
        return [
            Manner(
                rows=(
                    Row(each, least=1 - LET_OFF),
                    Row({n: of for n, of in each.items() if asked.portions[n].kind == self.kind}, most=1.0),
                ),
                without=put_off
                | {number for number, _ in asked.of(self.kind) if seasons.get(number) != season},
            )
            for season, each in sorted(shares.items())
        ]

    def carried_on(self, old: Site, new: Site, place: Place) -> Carried:
        need, share = self.of(place), 0.0
        for dose in since_start(old, place):
            known = dose.dug == need.dug and not dose.material.lacks(*self.figures)
            counts = known and not unsuited(place, need, dose.material)
            if counts and not (dose.material.sort.as_sold and self.volume(place) is not None):
                share += dose.loose / self.bare_loose(old, place, dose.material)
        return less_by(share, place, need, {"depth": ("cm", 100.0), "dose": ("kg/m2", 1.0)})

    def _may_count(self, place: Place, dose: Application) -> bool:
        """Say whether a dose for another need is one in its manner, of stuff that suits it and counts."""
        need = self.of(place)
        suits = dose.dug == need.dug and not unsuited(place, need, dose.material)
        return dose.kind != "fill" and suits and self._counts(dose)

    def _counts(self, dose: Application) -> bool:
        """Say whether a dose for another need may count: what is sold by weight is no layer of it."""
        return not dose.material.sort.as_sold and not dose.material.lacks(*self.figures)

    def _there(
        self, site: Site, place: Place, material: Material, beside: Iterable[Application], first: date
    ) -> float:
        """Return how much [m3] of the dressing other needs bring in its manner in the season of a day.

        What is sold by weight, and dosed by the gram, is no part of a dressing of other stuff.
        """
        need, season = self.of(place), season_of(site, first)
        doses = [
            dose
            for dose in beside
            if dose.dug == need.dug
            and dose.kind != "fill"
            and not unsuited(place, need, dose.material)
            and (season_of(site, dose.day) == season or dose.kind == self.kind)
            and (dose.material is material or not dose.material.sort.as_sold)
        ]
        if need.dose is None:
            return sum(dose.loose for dose in doses)
        return material.loose_of(sum(dose.material.wet_mass(dose.loose) for dose in doses))
