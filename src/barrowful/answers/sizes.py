"""What each place and need comes to: area, depth, volume, and the material it wants."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from barrowful.catalogue.materials import Material
from barrowful.costs.order import round_up
from barrowful.needs.decision import CannotServe
from barrowful.needs.registry import NEEDS
from barrowful.site.needs import Need
from barrowful.site.records import Place, Site
from barrowful.supplies.registry import supplies
from barrowful.supplies.supply import Supply

#: So many reasons are given where no way can serve a need.
MOST_REASONS = 3


@dataclass(frozen=True, eq=False)
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

    @cached_property
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

    @cached_property
    def dry(self) -> float | None:
        """Return the dry mass [kg]."""
        if self.mass is None or self.material is None or self.material.lacks("moisture"):
            return None
        return self.material.dry_of(self.mass)


def sizes(site: Site) -> list[SizeRow]:
    """Return a row for each place and need, with the first way in the file that can serve it."""
    return [next(rows) for rows in _of_each_need(site)]


def sizes_by_way(site: Site) -> tuple[list[SizeRow], list[SizeRow]]:
    """Return the rows of :func:`sizes`, and one for each place, need and way that can serve it."""
    every = [list(rows) for rows in _of_each_need(site)]
    return [rows[0] for rows in every], [row for rows in every for row in rows if row.material is not None]


def _of_each_need(site: Site) -> Iterator[Iterator[SizeRow]]:
    ways = supplies(site)
    return (_rows(site, place, need, ways) for place in site.places for need in place.needs)


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


def unserved(rows: Iterable[SizeRow]) -> list[str]:
    """Say of the needs that no way can serve why not: once for all the places with the same reasons."""
    places: dict[tuple[str, str], list[str]] = {}
    for row in rows:
        if row.why_not:
            places.setdefault((row.need.kind, _reasons(row.why_not)), []).append(row.place.name)
    return [f"{kind}, {_first(names)}: no way can serve it ({why})." for (kind, why), names in places.items()]


def _first(names: list[str]) -> str:
    """Return the first of some names and how many more there are."""
    more = len(names) - 1
    return names[0] + (f" and {more} more" if more else "")


def _reasons(refusals: tuple[tuple[str, str], ...]) -> str:
    """Return what ways lack, each reason once with the ways it holds for."""
    ways: dict[str, list[str]] = {}
    for way, reason in refusals:
        ways.setdefault(reason, []).append(way)
    texts = [f"{', '.join(names)}: {reason}" for reason, names in ways.items()]
    more = len(texts) - MOST_REASONS
    return "; ".join(texts[:MOST_REASONS]) + (f"; and {more} more" if more > 0 else "")
