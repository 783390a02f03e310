"""Filling: a volume or a depth of a place made whole."""

from __future__ import annotations

from barrowful.catalogue.materials import Material
from barrowful.needs.kind import NeedKind
from barrowful.site.records import Fill, Place, Site
from barrowful.soil.application import settled_as


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
