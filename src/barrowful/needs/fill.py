"""Filling: a volume or a depth of a place made whole."""

from __future__ import annotations

from collections.abc import Sequence
from math import inf
from typing import Any

from barrowful.catalogue.ceilings import stops_at
from barrowful.catalogue.materials import Material
from barrowful.catalogue.rates import rate
from barrowful.measures.elementwise import at_most, likely
from barrowful.needs.anew import Anew, Sized, share_of
from barrowful.needs.carrying import less_by, since_start
from barrowful.needs.decision import Serving
from barrowful.needs.doses import DUST, SLACK_SHARE, dose_for, doses_for, most_at_once, to_depth
from barrowful.needs.kind import NeedKind
from barrowful.needs.mixes import mix_rows, mixed, mixes_of, most_of, part_of, salt_limit, salt_of, shares_of
from barrowful.needs.rows import LET_OFF, Asked, Manner, Row
from barrowful.needs.settled import Settled, times_of
from barrowful.site.carried import Carried
from barrowful.site.needs import Fill
from barrowful.site.records import Place, Site
from barrowful.supplies.joint import Joint, Source, in_order
from barrowful.supplies.supply import Supply


class Filling(NeedKind[Fill]):
    """A bed or pot filled; it makes the ground itself."""

    kind = "fill"
    jobs = "fill", "fill"
    figures = ("density", "moisture")
    takes_soil = True
    makes_ground = True
    mixes = True

    def volume(self, place: Place) -> float | None:
        """Return the stated volume [m3] of all of the count, or area times the stated depth."""
        need = self.of(place)
        return to_depth(place, need.depth) if need.volume is None else need.volume * place.count

    def bare_loose(self, site: Site, place: Place, material: Material) -> float:
        """Return the loose volume [m3] that fills a place: what settles is made up, whatever it is of."""
        extra = rate("fill_settles") if self.of(place).settled else 0.0
        return (self.volume(place) or 0.0) * (1 + extra)

    def _would_do(self, site: Site, place: Place, material: Material, loose: float) -> bool:
        """Say that a part of a mix will do: no one thing fills a place."""
        return True

    def least_share(self, place: Place, material: Material) -> float:
        least, _ = shares_of(place, self.of(place)).get(part_of(material), (1.0, 1.0))
        return least

    def is_missing(self, place: Place, there: Sequence[Material], material: Material) -> bool:
        part, shares = part_of(material), shares_of(place, self.of(place))
        least, _ = shares.get(part, (0.0, 0.0))
        return least > 0 and part not in {part_of(stuff) for stuff in there}

    def serve(self, site: Site, place: Place, supply: Supply[Any], beside: Settled) -> Serving:
        """Return the fill beside what other lines of a plan bring of it.

        One thing alone goes no further than its share of a good mix.
        """
        need, whole = self.of(place), self.loose(site, place, supply.material)
        there, most = self.share_settled(site, place, beside), most_of(place, need, supply.material)
        share = min(max(0.0, most - self._share_of_part(site, place, supply.material, beside)), 1 - there)
        salt = self._share_by_salt(site, place, supply.material, beside)
        too_salty, share = salt < share, min(salt, share)
        wanted = whole * share
        parts = self.earliest(site, place, supply, beside, wanted)
        short = parts.lacking > SLACK_SHARE * whole
        met = not short and there + share >= 1 - SLACK_SHARE
        at_once = min(wanted, most_at_once(place, need))
        if not short and not met:
            parts.ceiling = "mix_salt" if too_salty else "fill_share"
        return Serving(
            place=place,
            doses=tuple(doses_for(place, need, supply, parts.by_day, wanted, at_once)),
            why_not="" if met else self.why_short(site, supply.material, parts),
            share=1.0 if met or not whole else there + parts.given / whole,
            ceiling="" if met else parts.ceiling,
            possible=None if met else parts.given,
            short=parts.lacking if short else 0.0,
            ready_on=parts.last_day(site.start) if met else None,
            times_needed=times_of(supply, wanted, parts),
        )

    def _share_of_part(self, site: Site, place: Place, stuff: Material, beside: Settled) -> float:
        """Return the share of a fill that is settled already of what a stuff is in a mix."""
        own = [dose for dose in beside.on(place) if dose.kind == self.kind]
        return sum(self.share_of(site, dose) for dose in own if part_of(dose.material) == part_of(stuff))

    def _share_by_salt(self, site: Site, place: Place, stuff: Material, beside: Settled) -> float:
        """Return the largest share of a fill that a stuff may be by its salt, beside what is settled."""
        limit, salt = salt_limit(place), salt_of([(stuff, 1.0)])
        if limit is None or salt <= 0:
            return inf
        own = [dose for dose in beside.on(place) if dose.kind == self.kind]
        there = salt_of((dose.material, self.share_of(site, dose)) for dose in own)
        return max(0.0, limit - there) / salt

    def serve_jointly(self, site: Site, place: Place, source: Source, beside: Settled) -> Serving:
        """Return the fill by the mix that costs least, mixed when the last of it is there: volumes add."""
        supplies = in_order(source)
        need, whole = self.of(place), self.loose(site, place, supplies[0].material)
        there = [beside.stock(supply).left_by(self.until(site).toordinal()) for supply in supplies]
        shares = mixed(place, need, supplies, [loose / whole if whole else 0.0 for loose in there])
        if shares is None:
            return Serving(place=place, why_not=stops_at("fill_share"), ceiling="fill_share", share=0.0)
        taken = [
            self.earliest(site, place, supply, beside, whole * share)
            for supply, share in zip(supplies, shares, strict=True)
        ]
        given, last = sum(parts.given for parts in taken), max(parts.last_day(site.start) for parts in taken)
        doses = [
            dose_for(place, need, supply, last, parts.given)
            for supply, parts in zip(supplies, taken, strict=True)
            if parts.given > DUST
        ]
        met = given >= whole * (1 - 1e-6)
        lacking = max(0.0, whole - given)
        return Serving(
            place=place,
            doses=tuple(doses),
            why_not="" if met else self.too_little(site, supplies[0].material, lacking),
            share=1.0 if met or not whole else given / whole,
            short=0.0 if met else lacking,
            ready_on=last if met else None,
        )

    def anew(self, ask: Anew) -> Sized:
        """Return each part of a mix for what settles: their shares stay as they are."""
        whole = self.bare_loose(ask.site, ask.place, ask.material)
        times = whole / likely(whole) if likely(whole) else 1.0
        wanted = [dose.loose * times for dose in ask.doses]
        if len({dose.way for dose in ask.doses}) == 1:
            return ask.in_turn(sum(wanted))
        given: list[Any] = []
        for loose in wanted:
            given.append(at_most(loose, ask.left(given)))
        return Sized(given, share_of(sum(given), sum(wanted)))

    def manners(self, asked: Asked) -> list[Manner]:
        """Return a manner for each day on which a place may be filled, all of it on that day."""
        by_day: dict[int, list[int]] = {}
        for number, of in asked.of(self.kind):
            if of.number <= asked.last(self.kind):
                by_day.setdefault(of.number, []).append(number)
        return [self._filled_on(asked, day, own) for day, own in sorted(by_day.items())]

    def _filled_on(self, asked: Asked, day: int, own: Sequence[int]) -> Manner:
        """Return the manner of filling a place on a day, by portions of it; nothing is put on before."""
        shares = {number: self.share_of(asked.site, asked.dose(number)) for number in own}
        stuffs = {number: asked.portions[number].material for number in own}
        mix = mix_rows(asked.place, self.of(asked.place), stuffs)
        others = frozenset(
            number
            for number, of in enumerate(asked.portions)
            if of.number < day or (of.kind == self.kind and number not in stuffs)
        )
        return Manner(rows=(Row(shares, least=1 - LET_OFF), *mix), without=others, ready_on=day)

    def carried_on(self, old: Site, new: Site, place: Place) -> Carried:
        need, share = self.of(place), 0.0
        for dose in since_start(old, place):
            if dose.kind == self.kind:
                share += dose.loose / self.bare_loose(old, place, dose.material)
        return less_by(share, place, need, {"depth": ("cm", 100.0), "volume": ("m3", 1.0)})

    def joints(
        self, site: Site, places: Sequence[Place], ways: Sequence[Supply[Any]], beside: Settled | None = None
    ) -> list[Joint]:
        """Return the ways that may fill places together, those first that may cost least."""
        return mixes_of([(place, self.of(place), self.volume(place) or 0.0) for place in places], ways)
