"""Ceilings on what goes on in a year: the garden rule and the farm rule, side by side."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import timedelta

from barrowful.catalogue.rates import rate
from barrowful.catalogue.rules import practice_rules
from barrowful.ground import amount
from barrowful.measures.units import in_unit
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
    nitrogen, phosphorus = (
        amount.dose(sum(each[index] for each in brought), place.total_area) for index in (0, 1)
    )
    kinds, ways = (dict.fromkeys(words) for words in ((d.kind for d in year), (d.way for d in year)))
    label = f"{place.name}, {' and '.join(kinds)} by {' and '.join(ways)}"
    found = []
    rules, brings = practice_rules(), _by_hectare(nitrogen)
    if depth > rate("garden_depth") or nitrogen > rate("farm_nitrogen"):
        deep = in_unit(depth, "length", "cm")
        found.append(rules["yearly_dressing"].sentence(label=label, depth=deep, nitrogen=brings))
    limit = site.limits.nitrogen
    if limit is not None and nitrogen > limit:
        over = f"{brings:.0f} kg N/ha in a year is over your limit of {_by_hectare(limit):.0f}"
        found.append(f"{label}: {over}")
    test = place.soil.phosphorus_test
    if test in rules["phosphorus_high"].tests:
        more = in_unit(phosphorus, "dose", "g/m2")
        found.append(rules["phosphorus_high"].sentence(label=label, test=test, phosphorus=more))
    return found


def _by_hectare(dose: float) -> float:
    """Return a dose [kg/m2] in kg/ha."""
    return in_unit(dose, "dose", "kg/ha")
