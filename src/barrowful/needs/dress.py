"""Dressing: a depth or a dose put on once."""

from __future__ import annotations

from barrowful.catalogue.materials import Material
from barrowful.ground.amount import mass_on
from barrowful.needs.kind import NeedKind
from barrowful.site.records import Dress, Place, Site
from barrowful.soil.application import settled_as


class Dressing(NeedKind[Dress]):
    """A depth as spread or after settling, or a dose by mass."""

    kind = "dress"
    figures = ("density", "moisture", "carbon", "decay", "humus")
    takes_soil = True

    def bare_loose(self, site: Site, place: Place, material: Material) -> float:
        need = self.of(place)
        if need.dose is not None:
            return material.loose_of(mass_on(place.total_area, need.dose))
        return settled_as(need.settled, self.volume(place) or 0.0, material)
