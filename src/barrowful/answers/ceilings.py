"""Ceilings on what goes on in a year: the garden rule and the farm rule, side by side."""

from __future__ import annotations

from datetime import timedelta

from barrowful.answers.combined import Brought, doses_of
from barrowful.answers.ledger import held
from barrowful.answers.options import Answer, Option
from barrowful.catalogue.rates import rate
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
