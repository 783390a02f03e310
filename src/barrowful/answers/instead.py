"""What would serve instead where a way stops at a ceiling: another way, or a material and how much of it."""

from __future__ import annotations

from functools import cache
from typing import Any

from barrowful.answers.options import Answer, Option
from barrowful.answers.search import rows_of
from barrowful.catalogue.figures import folder, load
from barrowful.catalogue.materials import Material, material
from barrowful.needs.decision import Serving
from barrowful.needs.registry import NEEDS
from barrowful.site.records import Need, Place, Site


def instead(answer: Answer, row: Option) -> str:
    """Return what would serve instead of a row that a ceiling stops, or nothing."""
    if row.decision.feasible or not row.decision.ceiling:
        return ""
    places = {place.name for place in row.places}
    others = [
        other
        for other in rows_of(answer, row.need)
        if other.feasible and places <= {place.name for place in other.places}
    ]
    if others:
        return min(others, key=lambda other: (other.cash, other.hours.compared)).way.name
    return suggestion(answer, row.need, next(iter(row.decision.short_of)))


def suggestion(answer: Answer, kind: str, serving: Serving) -> str:
    """Return a material of the catalogue for a need that is not met, with how much each place would take."""
    site, place = answer.site, serving.place
    there = {supply.material.name for supply in answer.supplies.values()}
    need = place.need(kind)
    assert need is not None
    for name in _names(kind, place.kind):
        stuff = material(name)
        if stuff is not None and name not in there and NEEDS[kind].may_serve(site, place, stuff):
            return f"{name}, {_each(site, place, need, stuff)}; add it as a way with your price"
    return ""


@cache
def _names(kind: str, place: str) -> tuple[str, ...]:
    entries: dict[str, Any] = load(folder("instead.toml"))
    return tuple(entries[kind][place])


def _each(site: Site, place: Place, need: Need, stuff: Material) -> str:
    """Return how much one of equal places would take: kilograms of fertilisers, else litres."""
    loose = NEEDS[need.kind].bare_loose(site, place, stuff) / place.count
    of_one = f" for each of {place.count}" if place.count > 1 else ""
    if stuff.sort.as_sold:
        return f"{stuff.wet_mass(loose):.3g} kg{of_one} ({place.name})"
    return f"{1000 * loose:,.0f} L{of_one} ({place.name})"
