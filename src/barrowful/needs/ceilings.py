"""Ceilings on what goes on in a year: the garden rule and the farm rule, side by side."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Iterator
from datetime import timedelta
from typing import NamedTuple

from barrowful.catalogue.rates import rate
from barrowful.catalogue.rules import practice_rules
from barrowful.ground import amount
from barrowful.measures.units import in_unit
from barrowful.site.records import Place, Site
from barrowful.soil.application import Application
from barrowful.supplies.flow import nutrients_in

YEAR = timedelta(days=365)


class Breach(NamedTuple):
    """A ceiling passed on one place: which, how many times over, and the sentence."""

    ceiling: str
    times: float
    sentence: str


def ceilings(site: Site, doses: Iterable[Application]) -> list[str]:
    """Return a warning for each ceiling that all that goes on a place within a year passes.

    It is of the place that passes it most, and says on how many more it is passed.
    """
    places: dict[str, list[Application]] = {}
    for dose in doses:
        if dose.material.sort.rich and dose.kind not in {"fill", "cover"}:
            places.setdefault(dose.place.name, []).append(dose)
    passed: dict[str, list[Breach]] = defaultdict(list)
    for place in site.places:
        for breach in _of_place(site, place, places.get(place.name, [])):
            passed[breach.ceiling].append(breach)
    return [_worst(breaches) for breaches in passed.values()]


def _worst(breaches: list[Breach]) -> str:
    sentence = max(breaches, key=lambda breach: breach.times).sentence.rstrip(".")
    more = len(breaches) - 1
    also = "So it is in one more place" if more == 1 else f"So it is, less far, in {more} more places"
    return f"{sentence}. {also}" if more else sentence


def _of_place(site: Site, place: Place, doses: list[Application]) -> Iterator[Breach]:
    """Yield each ceiling that the fullest year of a place passes."""
    if not doses:
        return
    years = ([dose for dose in doses if timedelta(0) <= dose.day - first.day < YEAR] for first in doses)
    year = max(years, key=lambda year: sum(dose.loose for dose in year))
    depth = amount.depth(sum(dose.loose for dose in year), place.total_area)
    brought = [nutrients_in(dose.material, dose.loose) for dose in year]
    nitrogen, phosphorus = (
        amount.dose(sum(each[index] for each in brought), place.total_area) for index in (0, 1)
    )
    kinds, ways = (dict.fromkeys(words) for words in ((d.kind for d in year), (d.way for d in year)))
    label = f"{place.name}, {' and '.join(kinds)} by {' and '.join(ways)}"
    rules, brings = practice_rules(), _by_hectare(nitrogen)
    times = max(depth / rate("garden_depth"), nitrogen / rate("farm_nitrogen"))
    if times > 1:
        deep = in_unit(depth, "length", "cm")
        sentence = rules["yearly_dressing"].sentence(label=label, depth=deep, nitrogen=brings)
        yield Breach("yearly_dressing", times, sentence)
    limit = site.limits.nitrogen
    if limit is not None and nitrogen > limit:
        over = f"{brings:.0f} kg N/ha in a year is over your limit of {_by_hectare(limit):.0f}"
        yield Breach("limits.nitrogen", nitrogen / limit if limit else math.inf, f"{label}: {over}")
    test = place.soil.phosphorus_test
    if test in rules["phosphorus_high"].tests:
        more = in_unit(phosphorus, "dose", "g/m2")
        sentence = rules["phosphorus_high"].sentence(label=label, test=test, phosphorus=more)
        yield Breach("phosphorus_high", more, sentence)


def _by_hectare(dose: float) -> float:
    """Return a dose [kg/m2] in kg/ha."""
    return in_unit(dose, "dose", "kg/ha")
