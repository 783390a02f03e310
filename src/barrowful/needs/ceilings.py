"""Ceilings on what goes on in a year: the garden rule and the farm rule, side by side."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import timedelta

from barrowful.catalogue.rates import rate
from barrowful.ground import amount
from barrowful.site.records import Place, Site
from barrowful.soil.application import Application
from barrowful.supplies.flow import nutrients_in

YEAR = timedelta(days=365)


def ceilings(site: Site, doses: Iterable[Application]) -> list[str]:
    """Return a warning for each place where all that goes on it within a year passes a ceiling."""
    places: dict[str, list[Application]] = {}
    for dose in doses:
        if dose.material.sort.rich and dose.kind not in {"fill", "cover"}:
            places.setdefault(dose.place.name, []).append(dose)
    return [
        warning
        for place in site.places
        if place.name in places
        for warning in _of_place(site, place, places[place.name])
    ]


def _of_place(site: Site, place: Place, doses: list[Application]) -> list[str]:
    years = ([dose for dose in doses if timedelta(0) <= dose.day - first.day < YEAR] for first in doses)
    year = max(years, key=lambda year: sum(dose.loose for dose in year))
    depth = amount.depth(sum(dose.loose for dose in year), place.total_area)
    brought = [nutrients_in(dose.material, dose.loose) for dose in year]
    nitrogen, phosphorus = (sum(each[index] for each in brought) / place.total_area for index in (0, 1))
    kinds, ways = (dict.fromkeys(words) for words in ((d.kind for d in year), (d.way for d in year)))
    label = f"{place.name}, {' and '.join(kinds)} by {' and '.join(ways)}"
    found = []
    if depth > rate("garden_depth") or nitrogen > rate("farm_nitrogen"):
        found.append(
            f"{label}: {100 * depth:.1f} cm in a year, {10_000 * nitrogen:.0f} kg N/ha. "
            f"Garden rule: {100 * rate('garden_depth'):.1f} cm a year, {100 * rate('new_bed_depth'):.0f} cm once on a new bed "
            f"(Oregon State EM 9308). Farm rule: {10_000 * rate('farm_nitrogen'):.0f} kg N/ha a year "
            f"(nitrate zones, Scotland)"
        )
    if site.limits.nitrogen is not None and nitrogen > site.limits.nitrogen:
        found.append(
            f"{label}: {10_000 * nitrogen:.0f} kg N/ha in a year is over your limit "
            f"of {10_000 * site.limits.nitrogen:.0f}"
        )
    if place.soil.phosphorus_test in {"high", "very high"}:
        found.append(
            f"{label}: the soil test's phosphorus is {place.soil.phosphorus_test}, "
            f"and this brings {1000 * phosphorus:.1f} g/m2 more. Use a material poor in phosphorus, such as chip or leaf"
        )
    return found
