"""Covering: a mulch layer brought to its depth, and kept up."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date

from barrowful.catalogue.judgements import judgement
from barrowful.catalogue.materials import Material
from barrowful.ground import amount, decay
from barrowful.measures.dates import MOST_YEARS, date_after, years_between
from barrowful.needs.kind import NeedKind
from barrowful.site.records import Cover, Place, Site
from barrowful.soil.application import Application, settled_as
from barrowful.soil.history import FOLLOWED, layer
from barrowful.soil.response import Response, response_of


@dataclass(frozen=True)
class CoverLife:
    """Share of the depth left after a year, top-ups within the horizon, the day it is compost-like."""

    mulch_left: float | None = None
    top_ups: int | None = None
    compost_like_on: date | None = None


class Covering(NeedKind[Cover]):
    """A layer of a settled or spread depth, less what lies there already."""

    kind = "cover"
    hazard_words = frozenset({"deep on roots"})
    figures = ("density", "moisture", "carbon", "decay", "humus", "in_place", "lasts")

    def bare_loose(self, site: Site, place: Place, material: Material) -> float:
        need = self.of(place)
        missing = max(0.0, need.depth - layer(site, place)) / need.depth if need.depth else 0.0
        return settled_as(need.settled, (self.volume(place) or 0.0) * missing, material)

    def half_life(self, site: Site, material: Material) -> float:
        return _on_top(site, material).half

    def shortfall(self, doses: Sequence[Application]) -> str:
        return ", and rots faster than it comes" if doses else ""

    def hazards(self, dose: Application) -> Iterator[str]:
        if dose.place.kind == "tree" and self.of(dose.place).depth > judgement("deep_on_roots"):
            yield "deep on roots"

    def top_ups(
        self, site: Site, place: Place, material: Material, last: date, until: date
    ) -> list[tuple[date, float]]:
        """Return the days a cover is topped up after it was last put on, with the loose volume [m3] of each.

        It is topped up on the first day on which the layer has fallen to the share it is to be kept above,
        with what it has lost by then: never where nobody knows how long the stuff lasts.
        """
        if material.lacks("lasts"):
            return []
        need, half = self.of(place), _on_top(site, material).half
        step = decay.years_to_top_up(half, need.keep)
        day = date_after(last, step)
        lost = 1 - decay.depth_left(half, years_between(last, day))
        volume = amount.volume(place.total_area, lost * need.depth)
        loose = amount.with_allowance(settled_as(need.settled, volume, material), need.allowance)
        top_ups = []
        while step > 0 and day <= until:
            top_ups.append((day, loose))
            day = date_after(day, step)
        return top_ups

    def kept_up(self, site: Site, doses: Sequence[Application], until: date) -> list[Application]:
        """Return the doses of one place with the top-ups that keep its cover up until a day."""
        covers = [dose for dose in doses if dose.kind == self.kind and not dose.material.lacks(*FOLLOWED)]
        if not covers:
            return list(doses)
        first, last = covers[0], max(dose.day for dose in covers)
        later = self.top_ups(site, first.place, first.material, last, until)
        return [*doses, *(replace(first, day=day, loose=loose, dug=False) for day, loose in later)]

    def life(self, site: Site, doses: Sequence[Application], material: Material) -> CoverLife:
        """Return how long the covers among some doses of one material last."""
        covers = [dose for dose in doses if dose.kind == self.kind]
        if not covers or material.lacks("lasts", "decay"):
            return CoverLife()
        response = _on_top(site, material)
        half = response.half
        keep = max(self.of(dose.place).keep for dose in covers)
        last, between = max(dose.day for dose in covers), decay.years_to_top_up(half, keep)
        ahead = years_between(last, site.end)
        waits = decay.years_to_lose(judgement("compost_like"), response.turnovers.likely.fresh)
        return CoverLife(
            mulch_left=decay.depth_left(half, 1.0),
            top_ups=0 if not 0 < between <= ahead else math.floor(ahead / between + 1e-9),
            compost_like_on=date_after(last, waits) if waits < MOST_YEARS else None,
        )


def _on_top(site: Site, material: Material) -> Response:
    """Return what a material becomes on top, where the soil under it makes no difference to it."""
    return response_of(material, site.climate, site.soil, False)
