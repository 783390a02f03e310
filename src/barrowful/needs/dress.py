"""Dressing: a depth or a dose put on once."""

from __future__ import annotations

from datetime import date
from typing import Any

from barrowful.catalogue.materials import Material
from barrowful.ground.amount import mass_on
from barrowful.needs.decision import CannotServe, Serving
from barrowful.needs.doses import SLACK_SHARE, doses_for, most_at_once
from barrowful.needs.kind import NeedKind
from barrowful.needs.settled import Settled
from barrowful.site.needs import Dress
from barrowful.site.records import Place, Site
from barrowful.soil.application import settled_as
from barrowful.soil.seasons import season_of
from barrowful.supplies.supply import Supply


class Dressing(NeedKind[Dress]):
    """A depth as spread or after settling, or a dose by mass."""

    kind = "dress"
    figures = ("density", "moisture")
    takes_soil = True

    def bare_loose(self, site: Site, place: Place, material: Material) -> float:
        need = self.of(place)
        if need.dose is not None:
            return material.loose_of(mass_on(place.total_area, need.dose))
        if material.sort.as_sold:
            raise CannotServe("what is sold by weight is dosed by weight, never by depth")
        return settled_as(need.settled, self.volume(place) or 0.0, material)

    def serve(self, site: Site, place: Place, supply: Supply[Any], beside: Settled) -> Serving:
        """Return the dressing, less what other needs bring in its manner in the same season."""
        need, whole = self.of(place), self.loose(site, place, supply.material)
        first = beside.stock(supply).lots.first
        there = self._there(site, place, supply.material, beside, first) if first else 0.0
        wanted = max(0.0, whole - there)
        parts = self.earliest(site, place, supply, beside, wanted)
        meant = parts.given if parts.ceiling else wanted
        doses = doses_for(place, need, supply, parts.by_day, meant, min(meant, most_at_once(place, need)))
        met = parts.lacking <= SLACK_SHARE * whole
        return Serving(
            place=place,
            doses=tuple(doses),
            why_not="" if met else self.why_short(site, parts),
            share=1.0 if met or not whole else (there + parts.given) / whole,
            ceiling="" if met else parts.ceiling,
            possible=None if met else parts.given,
            short=0.0 if met else parts.lacking,
            ready_on=self.last_day(site, parts) if met else None,
            times_needed=self.times(site, supply, wanted, parts),
        )

    def _there(self, site: Site, place: Place, material: Material, beside: Settled, first: date) -> float:
        """Return how much [m3] of the dressing other needs bring in its manner in the season of a day.

        What is sold by weight, and dosed by the gram, is no part of a dressing of other stuff.
        """
        need, season = self.of(place), season_of(site, first)
        doses = [
            dose
            for dose in beside.on(place)
            if dose.dug == need.dug
            and dose.kind != "fill"
            and season_of(site, dose.day) == season
            and (dose.material is material or not dose.material.sort.as_sold)
        ]
        if need.dose is None:
            return sum(dose.loose for dose in doses)
        return material.loose_of(sum(dose.material.wet_mass(dose.loose) for dose in doses))
