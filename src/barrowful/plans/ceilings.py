"""Ceilings on what goes on in a year: the garden rule and the farm rule, side by side."""

from __future__ import annotations

from datetime import timedelta

from barrowful.catalogue.rates import rate
from barrowful.plans.doses import Dose
from barrowful.plans.ledger import held
from barrowful.plans.options import Option
from barrowful.site.records import Place, Site

YEAR = timedelta(days=365)
#: Materials the rules are about; wood and straw mulches are not.
RICH = {"compost", "manure"}


def ceilings(site: Site, rows: list[Option]) -> list[str]:
    """Return a warning for each place where the rows' doses of a year pass a ceiling."""
    found = []
    for row in rows:
        if row.material.class_ not in RICH or row.need in {"fill", "cover"}:
            continue
        for place in row.places:
            doses = [dose for dose in row.plan.doses if dose.place is place]
            if doses:
                found += _of_place(site, row, place, doses)
    return found


def _of_place(site: Site, row: Option, place: Place, doses: list[Dose]) -> list[str]:
    loose = max(
        sum(other.loose for other in doses if timedelta(0) <= other.day - one.day < YEAR) for one in doses
    )
    depth = loose / place.total_area
    nitrogen, phosphorus, _ = (amount / place.total_area for amount in held(row.material, loose))
    found = []
    if depth > rate("garden_depth") or nitrogen > rate("farm_nitrogen"):
        found.append(
            f"{place.name}, {row.need} by {row.way.name}: {100 * depth:.1f} cm in a year, {10_000 * nitrogen:.0f} kg N/ha. "
            f"Garden rule: {100 * rate('garden_depth'):.1f} cm a year, {100 * rate('new_bed_depth'):.0f} cm once on a new bed "
            f"(Oregon State EM 9308). Farm rule: {10_000 * rate('farm_nitrogen'):.0f} kg N/ha a year "
            f"(nitrate zones, Scotland)"
        )
    if site.limits.nitrogen is not None and nitrogen > site.limits.nitrogen:
        found.append(
            f"{place.name}, {row.need} by {row.way.name}: {10_000 * nitrogen:.0f} kg N/ha in a year is over your limit "
            f"of {10_000 * site.limits.nitrogen:.0f}"
        )
    if place.soil.phosphorus_test in {"high", "very high"}:
        found.append(
            f"{place.name}, {row.need} by {row.way.name}: the soil test's phosphorus is {place.soil.phosphorus_test}, "
            f"and this brings {1000 * phosphorus:.1f} g/m2 more. Use a material poor in phosphorus, such as chip or leaf"
        )
    return found
