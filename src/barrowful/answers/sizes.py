"""What each place and need comes to: area, depth, volume, and the material it wants."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from barrowful.catalogue.materials import Material
from barrowful.costs.order import round_up
from barrowful.needs.decision import CannotServe
from barrowful.needs.registry import NEEDS
from barrowful.site.records import Need, Place, Site
from barrowful.supplies.registry import supplies
from barrowful.supplies.supply import Supply


@dataclass(frozen=True)
class SizeRow:
    """One place and need, with a way's material, or none; totals for all of the count.

    ``why_not`` gives, for a need that no way can serve, each of them and what it lacks.
    """

    place: Place
    need: Need
    way: str
    material: Material | None
    volume: float | None
    loose: float | None
    barrows: int | None
    why_not: tuple[tuple[str, str], ...] = ()

    @property
    def mass(self) -> float | None:
        """Return the wet mass [kg]."""
        if self.loose is None or self.material is None or self.material.get("density") is None:
            return None
        return self.material.wet_mass(self.loose)

    def holds(self, name: str) -> float | None:
        """Return the mass [kg] of a share of the dry mass, such as carbon or nitrogen."""
        if self.dry is None or self.material is None or self.material.lacks(name):
            return None
        return self.dry * self.material[name]

    @property
    def dry(self) -> float | None:
        """Return the dry mass [kg]."""
        if self.mass is None or self.material is None or self.material.lacks("moisture"):
            return None
        return self.material.dry_of(self.mass)


def sizes(site: Site) -> list[SizeRow]:
    """Return a row for each place and need, with the first way in the file that can serve it."""
    ways = supplies(site)
    return [next(_rows(site, place, need, ways)) for place in site.places for need in place.needs]


def alternatives(site: Site) -> list[SizeRow]:
    """Return a row for each place, need and way that can serve it."""
    ways = supplies(site)
    return [
        row
        for place in site.places
        for need in place.needs
        for row in _rows(site, place, need, ways)
        if row.material is not None
    ]


def _rows(site: Site, place: Place, need: Need, ways: dict[str, Supply[Any]]) -> Iterator[SizeRow]:
    """Yield a row for each way that can serve a need, then one with no way."""
    volume, refusals = NEEDS[need.kind].volume(place), []
    for name, supply in ways.items():
        if not supply.serves(place, need.kind) or supply.stands:
            continue
        try:
            loose = NEEDS[need.kind].size(site, place, supply)
        except CannotServe as refusal:
            refusals.append((name, str(refusal)))
            continue
        barrows = round_up(loose / site.labour.barrow)
        yield SizeRow(place, need, name, supply.material, volume, loose, barrows)
    yield SizeRow(place, need, "", None, volume, None, None, tuple(refusals))
