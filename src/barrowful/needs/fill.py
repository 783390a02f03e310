"""Filling: a volume or a depth of a place made whole."""

from __future__ import annotations

from typing import Any

from barrowful.catalogue.materials import Material
from barrowful.needs.ceilings import largest_share
from barrowful.needs.decision import Serving
from barrowful.needs.doses import SLACK_SHARE, doses_for
from barrowful.needs.kind import NeedKind
from barrowful.needs.settled import Settled
from barrowful.site.needs import Fill
from barrowful.site.records import Place, Site
from barrowful.soil.application import settled_as
from barrowful.supplies.supply import Supply


class Filling(NeedKind[Fill]):
    """A bed or pot filled; it makes the ground itself."""

    kind = "fill"
    figures = ("density", "moisture")
    takes_soil = True
    makes_ground = True

    def volume(self, place: Place) -> float | None:
        """Return the stated volume [m3] of all of the count, or area times the stated depth."""
        stated = self.of(place).volume
        return super().volume(place) if stated is None else stated * place.count

    def bare_loose(self, site: Site, place: Place, material: Material) -> float:
        return settled_as(self.of(place).settled, self.volume(place) or 0.0, material)

    def _would_do(self, site: Site, place: Place, material: Material, loose: float) -> bool:
        """Say that a part of a mix will do: no one thing fills a place."""
        return True

    def serve(self, site: Site, place: Place, supply: Supply[Any], beside: Settled) -> Serving:
        """Return the fill; one thing alone goes no further than its share of a good mix."""
        need, whole = self.of(place), self.loose(site, place, supply.material)
        share = largest_share(place, supply.material)
        wanted = whole * share
        parts = self.earliest(site, place, supply, beside, wanted)
        short = parts.lacking > SLACK_SHARE * whole
        met = not short and share >= 1
        if not short and not met:
            parts.ceiling = "fill_share"
        return Serving(
            place=place,
            doses=tuple(doses_for(place, need, supply, parts.by_day, wanted, wanted)),
            why_not="" if met else self.why_short(site, parts),
            share=1.0 if met or not whole else parts.given / whole,
            ceiling="" if met else parts.ceiling,
            possible=None if met else parts.given,
            short=parts.lacking if short else 0.0,
            ready_on=self.last_day(site, parts) if met else None,
            times_needed=self.times(site, supply, wanted, parts),
        )
