"""Ceilings on what goes on in a year: the garden rule and the farm rule, side by side."""

from __future__ import annotations

from datetime import timedelta

from barrowful.answers.combined import Brought, doses_of
from barrowful.answers.ledger import held
from barrowful.answers.options import Answer, Option
from barrowful.catalogue.rates import rate
from barrowful.catalogue.rules import practice_rules
from barrowful.measures.units import in_unit
from barrowful.site.records import Place

YEAR = timedelta(days=365)


def ceilings(answer: Answer, rows: list[Option]) -> list[str]:
    """Return a warning for each place where all that goes on it within a year passes a ceiling."""
    put: dict[str, list[Brought]] = {}
    for name, doses in doses_of(answer, rows).items():
        for dose in doses:
            if answer.supplies[name].material.sort.rich and dose.need.kind not in {"fill", "cover"}:
                put.setdefault(dose.place.name, []).append((name, dose))
    return [
        warning
        for place in answer.site.places
        if place.name in put
        for warning in _of_place(answer, place, put[place.name])
    ]


def _of_place(answer: Answer, place: Place, put: list[Brought]) -> list[str]:
    site = answer.site
    years = ([one for one in put if timedelta(0) <= one[1].day - first.day < YEAR] for _, first in put)
    year = max(years, key=lambda year: sum(dose.loose for _, dose in year))
    depth = sum(dose.loose for _, dose in year) / place.total_area
    amounts = [held(answer.supplies[name].material, dose.loose) for name, dose in year]
    nitrogen, phosphorus = (sum(amount[index] for amount in amounts) / place.total_area for index in (0, 1))
    kinds, ways = (
        dict.fromkeys(words) for words in ((dose.need.kind for _, dose in year), (n for n, _ in year))
    )
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
