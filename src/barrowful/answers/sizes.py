"""What each place and need comes to: area, depth, volume, and the material it wants."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from barrowful.answers.begun_plan import begun
from barrowful.catalogue.materials import Material
from barrowful.measures.elementwise import round_up
from barrowful.measures.fixed import fixed
from barrowful.needs.decision import CannotServe
from barrowful.needs.registry import NEEDS
from barrowful.site.needs import Need
from barrowful.site.records import Place, Site
from barrowful.supplies.registry import supplies
from barrowful.supplies.supply import Supply

#: So many reasons are given where no way can serve a need.
MOST_REASONS = 3


@fixed
class SizeRow:
    """One place and need, with a way's material, or none; totals for all of the count, masses in kg.

    ``why_not`` gives, for a need that no way can serve, each of them and what it lacks.
    """

    place: Place
    need: Need
    volume: float | None
    way: str = ""
    material: Material | None = None
    loose: float | None = None
    barrows: int | None = None
    mass: float | None = None  #: wet
    dry: float | None = None
    why_not: tuple[tuple[str, str], ...] = ()

    def holds(self, name: str) -> float | None:
        """Return the mass [kg] of a share of the dry mass, such as carbon or nitrogen."""
        if self.dry is None or self.material is None or self.material.lacks(name):
            return None
        return self.dry * self.material[name]


def sizes(site: Site) -> list[SizeRow]:
    """Return a row for each place and need, with the first way in the file that can serve it."""
    return [next(rows) for rows in _of_each_need(site)]


def sizes_by_way(site: Site) -> tuple[list[SizeRow], list[SizeRow]]:
    """Return the rows of :func:`sizes`, and one for each place, need and way that can serve it."""
    every = [list(rows) for rows in _of_each_need(site)]
    return [rows[0] for rows in every], [row for rows in every for row in rows if row.material is not None]


def _of_each_need(site: Site) -> Iterator[Iterator[SizeRow]]:
    site = begun(site)
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
        stuff, barrows = supply.material, round_up(loose / site.labour.barrow)
        mass = None if stuff.lacks("density") else stuff.wet_mass(loose)
        yield SizeRow(
            place=place,
            need=need,
            way=name,
            material=stuff,
            volume=volume,
            loose=loose,
            barrows=barrows,
            mass=mass,
            dry=None if mass is None or stuff.lacks("moisture") else stuff.dry_of(mass),
        )
    yield SizeRow(place=place, need=need, volume=volume, why_not=tuple(refusals))


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
