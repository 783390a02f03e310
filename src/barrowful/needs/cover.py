"""Covering: a mulch layer brought to its depth, and kept up."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from typing import Any, NamedTuple

from barrowful.catalogue.ceilings import stops_at
from barrowful.catalogue.judgements import judgement
from barrowful.catalogue.materials import Material
from barrowful.ground import amount, decay
from barrowful.ground.amount import depth
from barrowful.measures.dates import MOST_YEARS, date_after
from barrowful.measures.elementwise import at_least, at_most, likely
from barrowful.measures.telling import part_told
from barrowful.needs.anew import Anew, Sized, share_of
from barrowful.needs.ceilings import beside_humus, unsuited, within
from barrowful.needs.cover_depth import deepest_cover
from barrowful.needs.cover_rows import cover_manners
from barrowful.needs.decision import Judged, Serving
from barrowful.needs.doses import SLACK_SHARE, dose_for, doses_for, most_at_once, nitrogen_of, to_depth
from barrowful.needs.earliest import Earliest
from barrowful.needs.harvests import wait_of, waited
from barrowful.needs.kind import NeedKind
from barrowful.needs.layers import MET, Covered, Layers, covers, is_laid, on_top, settled_depth, stays
from barrowful.needs.rows import Asked, Manner
from barrowful.needs.settled import Settled
from barrowful.site.needs import Cover
from barrowful.site.records import Place, Site
from barrowful.soil.application import Application, settled_as
from barrowful.soil.history import FOLLOWED, done, layer
from barrowful.soil.seasons import SOWN
from barrowful.supplies.lot import YEAR
from barrowful.supplies.supply import Supply


class CoverLife(NamedTuple):
    """Share of the depth left after a year, and the day it is compost-like."""

    mulch_left: float | None = None
    compost_like_on: date | None = None


class Covering(NeedKind[Cover]):
    """A layer of a settled or spread depth, less what lies there already."""

    kind = "cover"
    jobs = "mulch", "top up"
    hazard_words = frozenset({"deep on roots", "cover ties up nitrogen", "smothers grass"})
    is_kept_up = True
    figures = ("density", "moisture", "carbon", "decay", "humus", "in_place", "lasts")

    def bears(self, place: Place) -> object:
        return beside_humus(place, self.kind)

    def volume(self, place: Place) -> float | None:
        return to_depth(place, self.of(place).depth)

    def bare_loose(self, site: Site, place: Place, material: Material) -> float:
        need = self.of(place)
        there = layer(site, place) / need.depth if need.depth else 1.0
        missing = 0.0 if is_laid(need, there) else max(0.0, 1 - there)
        return settled_as(need.settled, (self.volume(place) or 0.0) * missing, material)

    def _would_do(self, site: Site, place: Place, material: Material, loose: float) -> bool:
        deep_enough = self.of(place).depth <= deepest_cover(place, material)
        return deep_enough and super()._would_do(site, place, material, loose)

    def shortfall(self, doses: Sequence[Application]) -> str:
        return ", and rots faster than it comes" if doses else ""

    def hazards(self, dose: Application) -> Iterator[str]:
        if dose.place.kind == "tree" and self.of(dose.place).depth > judgement("deep_on_roots"):
            yield "deep on roots"
        most = amount.mass_on(dose.place.total_area, judgement("tied_up_by_cover"))
        if _grows_crops(dose.place) and -nitrogen_of(dose) > most * (1 + SLACK_SHARE):
            yield "cover ties up nitrogen"
        if self.of(dose.place).smother:
            yield "smothers grass"

    def begins_on(self, serving: Serving) -> date:
        """Return the last day that a plan need wait for: of what never is enough, a year's harvest of it."""
        if serving.met:
            return super().begins_on(serving)
        year = YEAR.after(min(dose.day for dose in serving.doses))
        return max(dose.day for dose in serving.doses if dose.day <= year)

    def serve(self, site: Site, place: Place, supply: Supply[Any], beside: Settled) -> Serving:
        """Return the first layer, no deeper than its class may be, and the top-ups that keep it up.

        A layer that is not below what is kept is not brought to its depth before it falls to it.
        """
        need, stuff = self.of(place), supply.material
        settled = settled_depth(need, stuff)
        deepest = within(settled, deepest_cover(place, stuff))
        layers = Layers(site, place, beside.on(place), stuff, need=need)
        first = beside.stock(supply).lots.first
        days = [max(site.start, first or site.start), *self._days_of_others(beside.on(place))]
        there = max(layers.on(day.toordinal()) for day in days if day >= days[0])
        laid = deepest == settled > 0 and is_laid(need, there / settled)
        wanted = 0.0 if laid else self._loose(place, stuff, max(0.0, deepest - there))

        def lying(day: date) -> float:
            """Return what lies there before anything is put on, as so much of the stuff [m3]."""
            return self._loose(place, stuff, min(layers.on(day.toordinal()), deepest))

        half, until = on_top(site, stuff).half, self.until(site)
        parts = Earliest(site, place, need, supply, beside, until, half).taken(wanted, lying)
        meant = parts.given if parts.ceiling else wanted
        doses = doses_for(place, need, supply, parts.by_day, meant, min(meant, most_at_once(place, need)))
        short = parts.lacking > SLACK_SHARE * self._loose(place, stuff, deepest)
        if not short and deepest < settled:
            parts.ceiling = "cover_depth"
        met = not short and not parts.ceiling
        for dose in doses:
            layers.put(dose)
        kept_up = met and settled > 0
        later = self._top_ups(site, place, supply, beside, layers) if kept_up else TopUps()
        lies = there + stuff.settled_depth(depth(parts.given, place.total_area)) / (1 + need.allowance)
        return Serving(
            place=place,
            doses=tuple(doses),
            later=tuple(later.doses),
            why_not=later.why_not if met else self.why_short(site, stuff, parts),
            share=1.0 if met or not settled else min(1.0, lies / settled),
            ceiling=later.ceiling if met else parts.ceiling,
            possible=None if met and not later.ceiling else parts.given,
            short=parts.lacking if short else 0.0,
            ready_on=parts.last_day(site.start) if met else None,
        )

    def _days_of_others(self, doses: Sequence[Application]) -> list[date]:
        """Return the days of those of some doses that cover a place too: other lines of a plan."""
        return [dose.day for dose in doses if dose.kind == self.kind]

    def anew(self, ask: Anew) -> Sized:
        """Return what brings the layer back to its depth on each day, by what lies there then."""
        stuff, amounts, met = ask.material, list[Any](), 1.0
        settled = within(settled_depth(self.of(ask.place), stuff), deepest_cover(ask.place, stuff))
        layers = Layers(ask.site, ask.place, ask.beside, stuff, ask.past, self.of(ask.place))
        for dose in ask.doses:
            missing = at_least(settled - layers.on(dose.number), 0.0)
            amounts.append(at_most(self._loose(ask.place, stuff, missing), ask.left(amounts)))
            layers.put(replace(dose, loose=amounts[-1]))
            lies = share_of(layers.on(dose.number), settled)
            met = at_most(met, lies / likely(lies) if likely(lies) else 1.0)  # laid in parts it may be less
        return Sized(amounts, met)

    def judge(self, site: Site, place: Place, doses: Sequence[Application]) -> Judged:
        """Return how deep all that lies on top covers a place, and whether that is kept up to the end.

        Each stuff counts by the depth it is to have itself. It is ready on the first day from which it is
        kept up: a layer that fell too low before is no matter then.
        """
        need = self.of(place)
        lying = [dose for dose in (*doses, *done(site, place)) if covers(dose)]
        for dose in doses:
            if dose.kind == self.kind:
                self.check(dose.material)
        if not lying:
            stays_so = any(stays(site, place, need, stuff) for stuff in self._may_be_of(site, place))
            return Judged.of(float(stays_so), "nothing is put on for it", site.start)
        cover = Covered(site, place, need, lying)
        start = site.start.toordinal()
        laid = is_laid(need, cover.before(start))
        deep = [day for day in cover.days if cover.on(day) >= 1 - MET or (laid and day == start)]
        if not deep:
            share = max(cover.on(day) for day in cover.days)
            return Judged.of(share, f"{part_told(share)} of the depth", site.start)
        falls = {day: cover.falls(day, need.keep) for day in deep}
        ready = next((day for day in deep if falls[day] is None), None)
        if ready is None:
            since = date.fromordinal(falls[deep[0]] or deep[0])
            return Judged(share=need.keep, why_not=f"not kept up from {since} on")
        return Judged(1.0, ready_on=date.fromordinal(ready), first_to=date.fromordinal(ready))

    def _may_be_of(self, site: Site, place: Place) -> Iterator[Material]:
        """Yield the stuffs that a stated layer may go as: those that the place may be covered with."""
        ways = [way for way in site.ways if place.ways is None or way.name in place.ways]
        for stuff in dict.fromkeys(way.material for way in ways if place.layer_now):
            if not (stuff.lacks(*self.figures) or unsuited(place, self.of(place), stuff)):
                yield stuff

    def manners(self, asked: Asked) -> list[Manner]:
        """Return a manner for each day on which the cover may have its depth first; it is kept up then."""
        return cover_manners(asked, self.of(asked.place))

    def _loose(self, place: Place, material: Material, settled: float) -> float:
        """Return the loose volume [m3], allowance and all, that settles to a depth [m] on a place."""
        loose = material.loose_for_settled(amount.volume(place.total_area, settled))
        return amount.with_allowance(loose, self.of(place).allowance)

    def _top_ups(
        self, site: Site, place: Place, supply: Supply[Any], beside: Settled, layers: Layers
    ) -> TopUps:
        """Return the doses that bring the layer back to its depth whenever it falls to what is kept.

        On the last day one would keep nothing up.
        """
        need, stuff, stock, found = self.of(place), supply.material, beside.stock(supply), TopUps()
        written = [beside.day] if beside.day else []
        layers.last = max([layers.last, *written, *self._days_of_others(beside.on(place))])
        settled = settled_depth(need, stuff)
        left, wait = beside.room(place, need, stuff), wait_of(site, place, self.kind, need.dug, stuff)
        while (day := layers.falls_to(need.keep * settled, layers.last, site.eve)) is not None:
            if wait is not None and waited(wait, day) != day:
                why_not = f"not kept up from {day} on: {stops_at(wait.ceiling)}"
                return found.stopped(why_not, wait.ceiling)
            number, put_on = day.toordinal(), layers.put_on if left.bounds else []
            wanted = self._loose(place, stuff, settled - layers.on(number))
            if left.left(number, put_on) * place.total_area < wanted * (1 - SLACK_SHARE):
                binding = left.binding(number, put_on)
                return found.stopped(f"not kept up from {day} on: {stops_at(binding)}", binding)
            before = stock.state
            if stock.take(number, wanted) < wanted * (1 - SLACK_SHARE):
                stock.put_back(before)
                return found.stopped(f"not kept up from {day} on: nothing is left of it")
            dose = dose_for(place, need, supply, day, wanted)
            found.doses.append(dose)
            layers.put(dose)
        return found

    def kept_up(self, site: Site, doses: Sequence[Application], until: date) -> list[Application]:
        """Return the doses of one place with the top-ups that keep its cover up beyond the horizon."""
        covers = [dose for dose in doses if dose.kind == self.kind and not dose.material.lacks(*FOLLOWED)]
        if not covers or until <= site.end:
            return list(doses)
        last = max(covers, key=lambda dose: dose.day)
        place, stuff, found = last.place, last.material, list(doses)
        need = self.of(place)
        settled = settled_depth(need, stuff)
        layers = Layers(site, place, [dose for dose in doses if dose.material is not stuff], stuff)
        for dose in sorted((dose for dose in covers if dose.material is stuff), key=lambda dose: dose.day):
            layers.put(dose)
        while (day := layers.falls_to(need.keep * settled, max(site.eve, layers.last), until)) is not None:
            dose = replace(
                last,
                day=day,
                loose=self._loose(place, stuff, settled - layers.on(day.toordinal())),
                share=1.0,
            )
            found.append(dose)
            layers.put(dose)
        return found

    def life(self, site: Site, doses: Sequence[Application], material: Material) -> CoverLife:
        """Return how long the covers among some doses of one material last."""
        covers = [dose for dose in doses if dose.kind == self.kind]
        if not covers or material.lacks("lasts", "decay"):
            return CoverLife()
        response = on_top(site, material)
        last = max(dose.day for dose in covers)
        waits = decay.years_to_lose(judgement("compost_like"), response.turnovers.likely.fresh)
        return CoverLife(
            mulch_left=decay.depth_left(response.half, 1.0),
            compost_like_on=date_after(last, waits) if waits < MOST_YEARS else None,
        )


@dataclass(eq=False)
class TopUps:
    """Top-ups of a cover, and why it is not kept up to the end where it is not."""

    doses: list[Application] = field(default_factory=list)
    why_not: str = ""
    ceiling: str = ""

    def stopped(self, why_not: str, ceiling: str = "") -> TopUps:
        """Return them with the reason they end."""
        return replace(self, why_not=why_not, ceiling=ceiling)


def _grows_crops(place: Place) -> bool:
    """Say whether what grows on a place goes short where nitrogen is tied up: it is sown, fed or picked."""
    return place.kind in SOWN or place.need("feed") is not None or place.harvest_from is not None
