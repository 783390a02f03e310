"""The nutrient ledger: every flow leaves one zone and enters another, so nothing appears from nowhere."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from barrowful.answers.option import Option
from barrowful.answers.options import Answer
from barrowful.catalogue.vocabulary import NUTRIENTS
from barrowful.ground.nutrients import PHOSPHORUS_IN_PHOSPHATE, soil_test_rise
from barrowful.measures.fixed import fixed
from barrowful.measures.telling import FEED, SMALL_MASS, measured
from barrowful.needs.feed_balance import harvest_of
from barrowful.needs.fill import Filling
from barrowful.site.records import Site
from barrowful.soil.application import Application, draws_of
from barrowful.soil.seasons import growing_seasons
from barrowful.supplies.flow import AIR, CROP, LOST, OUTSIDE, Flow, nutrients_in, place_key, way_key
from barrowful.supplies.supply import Supply

#: Which of the nutrients builds up.
PHOSPHORUS = NUTRIENTS.index("phosphorus")
#: The zone, and the sort, of all zones together.
SITE = "site"


@fixed(eq=True)
class Account:
    """What one zone had of one nutrient [kg]; ``balance`` is what it gained."""

    zone: str
    sort: str
    nutrient: str
    area: float | None
    brought: float
    fixed: float
    moved_in: float
    moved_out: float
    harvested: float
    lost: float
    remark: str = ""

    @property
    def balance(self) -> float:
        """Return gains less losses."""
        gains = self.brought + self.fixed + self.moved_in
        return gains - self.moved_out - self.harvested - self.lost


@fixed(kw_only=False, eq=True)
class Zone:
    """A part of the site the ledger is kept for; ``key`` tells a place from a way of the same name."""

    key: str
    name: str
    sort: str
    area: float | None


def flows(site: Site, answer: Answer, chosen: list[Option]) -> list[Flow]:
    """Return every flow of the chosen options, and one season's harvest of the crops named.

    What a tree is fed is advice, not what its fruit takes away, so trees are left out of the harvest.
    """
    found: list[Flow] = []
    for name, doses in first_doses(chosen).items():
        found += _way_flows(answer.supplies[name], doses)
    for place in site.places:
        taken = harvest_of(place)
        if taken is not None:
            found.append(Flow(place_key(place.name), CROP, taken))
    return found


def first_doses(chosen: list[Option]) -> dict[str, list[Application]]:
    """Return by way the doses that meet needs first, and all of a plan; else later ones are apart."""
    doses: dict[str, list[Application]] = {}
    for row in chosen:
        for part, own in row.supply.divide(row.decision.counted):
            doses.setdefault(part.name, []).extend(own)
    return doses


def _way_flows(supply: Supply[Any], doses: list[Application]) -> list[Flow]:
    spread = [
        Flow(supply.source, place_key(dose.place.name), nutrients_in(supply.material, dose.loose))
        for dose in doses
    ]
    return [*supply.inflows(draws_of(doses)), *spread]


def zones(answer: Answer, found: list[Flow]) -> list[Zone]:
    """Return the places, heaps, strips and stocks that the flows touch, in that order."""
    touched = dict.fromkeys(key for flow in found for key in (flow.source, flow.target))
    places = {place_key(place.name): place for place in answer.site.places}
    ways = {way_key(name): supply for name, supply in answer.supplies.items()}
    listed = [
        Zone(key, place.name, "place", place.total_area) for key, place in places.items() if key in touched
    ]
    for key in touched:
        supply = ways.get(key)
        if supply is not None:
            listed.append(Zone(key, supply.way.name, supply.zone, supply.area))
        elif key.startswith("site: "):
            listed.append(Zone(key, key.removeprefix("site: "), "stock", None))
    return listed


def ledger(site: Site, answer: Answer, chosen: list[Option]) -> list[Account]:
    """Return an account for each zone and nutrient, and the site's own under them."""
    found = flows(site, answer, chosen)
    inward, outward = defaultdict(list), defaultdict(list)
    for flow in found:
        inward[flow.target].append(flow)
        outward[flow.source].append(flow)
    gained = _gained(site, chosen)
    accounts = [
        _account(zone, index, inward[zone.key], outward[zone.key])
        for zone in zones(answer, found)
        for index in range(3)
    ]
    accounts = [replace(one, remark=_remark(one, site, gained)) for one in accounts]
    return accounts + [_of_site(index, found) for index in range(3)]


def _gained(site: Site, chosen: list[Option]) -> dict[str, float]:
    """Return the phosphorus [kg] that places gain by all doses of the horizon, less what each season takes.

    What a place is filled with is its ground, and adds to no other.
    """
    gained: dict[str, float] = defaultdict(float)
    for dose in (dose for row in chosen for dose in row.decision.every_dose):
        if dose.kind != Filling.kind:
            gained[dose.place.name] += nutrients_in(dose.material, dose.loose)[PHOSPHORUS]
    for place in site.places:
        taken = harvest_of(place)
        if taken is not None:
            gained[place.name] -= taken[PHOSPHORUS] * len(growing_seasons(site))
    return gained


def brought_later(chosen: list[Option]) -> dict[str, float]:
    """Return each nutrient [kg] of the doses that are not counted: of later seasons, and of top-ups."""
    later = [dose for row in chosen for dose in row.decision.every_dose[len(row.decision.counted) :]]
    brought = [nutrients_in(dose.material, dose.loose) for dose in later]
    return {name: sum(of[index] for of in brought) for index, name in enumerate(NUTRIENTS)}


def _account(zone: Zone, index: int, inward: list[Flow], outward: list[Flow]) -> Account:
    """Return the account of a zone and a nutrient, by what flows into it and out of it."""
    return Account(
        zone=zone.name,
        sort=zone.sort,
        nutrient=NUTRIENTS[index],
        area=zone.area,
        brought=_sum(inward, index, {OUTSIDE}),
        fixed=_sum(inward, index, {AIR}),
        moved_in=sum(flow.amounts[index] for flow in inward if flow.source not in {OUTSIDE, AIR}),
        moved_out=sum(flow.amounts[index] for flow in outward if flow.target not in {CROP, LOST}),
        harvested=_sum(outward, index, to={CROP}),
        lost=_sum(outward, index, to={LOST}),
    )


def _sum(found: list[Flow], index: int, source: set[str] | None = None, to: set[str] | None = None) -> float:
    return sum(
        flow.amounts[index]
        for flow in found
        if (source is None or flow.source in source) and (to is None or flow.target in to)
    )


def _of_site(index: int, found: list[Flow]) -> Account:
    moved = sum(
        flow.amounts[index]
        for flow in found
        if flow.source not in {OUTSIDE, AIR} and flow.target not in {CROP, LOST}
    )
    return Account(
        zone=SITE,
        sort=SITE,
        nutrient=NUTRIENTS[index],
        area=None,
        brought=_sum(found, index, {OUTSIDE}),
        fixed=_sum(found, index, {AIR}),
        moved_in=moved,
        moved_out=moved,
        harvested=_sum(found, index, to={CROP}),
        lost=_sum(found, index, to={LOST}),
    )


def _remark(one: Account, site: Site, gained: Mapping[str, float]) -> str:
    """Say where a strip runs down, and where phosphorus builds up to the end of the horizon."""
    if one.sort == "strip" and one.balance < -1e-9:
        each = f", {measured(-one.balance / one.area, FEED, '.1f')}" if one.area else ""
        return f"runs down by {measured(-one.balance, SMALL_MASS, 0)}{each}: give something back or rest it"
    if one.sort != "place" or one.nutrient != "phosphorus" or not one.area:
        return ""
    phosphorus = gained[one.zone]
    if phosphorus <= 0:
        return ""
    place = site.place(one.zone)
    rise = soil_test_rise(1000 * phosphorus / one.area / PHOSPHORUS_IN_PHOSPHATE) * 1e6
    if place.soil.phosphorus_test in {"high", "very high"}:
        return f"the soil test is {place.soil.phosphorus_test} already: bring no more phosphorus"
    return f"builds up: a soil test rises by about {rise:.0f} ppm by {site.end}" if rise >= 1 else ""
