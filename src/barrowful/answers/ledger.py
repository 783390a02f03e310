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
from barrowful.soil.seasons import crop_of, growing_seasons
from barrowful.supplies.flow import AIR, CROP, LOST, OUTSIDE, Flow, nutrients_in, place_key, way_key
from barrowful.supplies.supply import Supply

#: Which of the nutrients builds up.
PHOSPHORUS = NUTRIENTS.index("phosphorus")
#: The zone, and the sort, of all zones together.
SITE = "site"
PLACE = "place"
#: What is said where a harvest is not known and nothing else is to be said.
UNKNOWN = "what is harvested is not known, and none is reckoned"


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
    harvested: float | None  #: None where it is not known what the crop named takes
    lost: float
    remark: str = ""

    @property
    def balance(self) -> float:
        """Return gains less losses."""
        gains = self.brought + self.fixed + self.moved_in
        return gains - self.moved_out - (self.harvested or 0.0) - self.lost


@fixed(kw_only=False, eq=True)
class Zone:
    """A part of the site the ledger is kept for; ``key`` tells a place from a way of the same name."""

    key: str
    name: str
    sort: str
    area: float | None


def flows(site: Site, answer: Answer, chosen: list[Option]) -> list[Flow]:
    """Return every flow of the chosen options, and one season's harvest of the crops named.

    What is not known of a harvest is left out.
    """
    found: list[Flow] = []
    for name, doses in first_doses(chosen).items():
        found += _way_flows(answer.supplies[name], doses)
    for place in site.places:
        nitrogen, phosphorus, potassium = (taken or 0.0 for taken in harvest_of(place))
        if nitrogen or phosphorus or potassium:
            found.append(Flow(place_key(place.name), CROP, (nitrogen, phosphorus, potassium)))
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
        Zone(key, place.name, PLACE, place.total_area) for key, place in places.items() if key in touched
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
    gained = _gained(site, answer, chosen)
    accounts = [
        _account(zone, index, inward[zone.key], outward[zone.key])
        for zone in zones(answer, found)
        for index in range(3)
    ]
    accounts = [_told(_as_known(one, site), site, gained) for one in accounts]
    return accounts + [_as_known(_of_site(index, found), site) for index in range(3)]


def _gained(site: Site, answer: Answer, chosen: list[Option]) -> dict[str, float]:
    """Return the phosphorus [kg] that places gain by all doses of the horizon, less what each season takes.

    What a place is filled with is its ground, and adds to no other. What grew on a place is less there.
    """
    gained: dict[str, float] = defaultdict(float)
    grown_on = {place_key(place.name): place.name for place in site.places}
    for dose in (dose for row in chosen for dose in row.decision.every_dose):
        if dose.kind != Filling.kind:
            phosphorus = nutrients_in(dose.material, dose.loose)[PHOSPHORUS]
            gained[dose.place.name] += phosphorus
            source = answer.supplies[dose.way].source
            if source in grown_on:
                gained[grown_on[source]] -= phosphorus
    for place in site.places:
        gained[place.name] -= (harvest_of(place)[PHOSPHORUS] or 0.0) * len(
            growing_seasons(site, crop_of(place))
        )
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


def _as_known(one: Account, site: Site) -> Account:
    """Return an account with no harvest where it is not known what the crop, or all of the site's, takes."""
    places = [site.place(one.zone)] if one.sort == PLACE else site.places if one.sort == SITE else ()
    index = NUTRIENTS.index(one.nutrient)
    unknown = any(harvest_of(place)[index] is None for place in places)
    return replace(one, harvested=None) if unknown and not one.harvested else one


def _told(one: Account, site: Site, gained: Mapping[str, float]) -> Account:
    """Return an account with a remark: where a strip runs down or phosphorus builds up, what is not known."""
    if one.sort == "strip" and one.balance < -1e-9:
        each = f", {measured(-one.balance / one.area, FEED, '.1f')}" if one.area else ""
        down = f"runs down by {measured(-one.balance, SMALL_MASS, 0)}{each}: give something back or rest it"
        return replace(one, remark=down)
    builds_up = _builds_up(one, site, gained) if one.sort == PLACE and one.nutrient == "phosphorus" else ""
    unknown = UNKNOWN if one.harvested is None else ""
    return replace(one, remark=builds_up or unknown)


def _builds_up(one: Account, site: Site, gained: Mapping[str, float]) -> str:
    """Say where phosphorus builds up to the end of the horizon, and of what harvest that is."""
    phosphorus = gained[one.zone]
    if phosphorus <= 0 or not one.area:
        return ""
    place = site.place(one.zone)
    rise = soil_test_rise(1000 * phosphorus / one.area / PHOSPHORUS_IN_PHOSPHATE) * 1e6
    if place.soil.phosphorus_test in {"high", "very high"}:
        return f"the soil test is {place.soil.phosphorus_test} already: bring no more phosphorus"
    less = ", less what is harvested, which is not known" if one.harvested is None else ", less any harvest"
    told = f"builds up: a soil test rises by about {rise:.0f} ppm by {site.end}"
    return f"{told}{'' if one.harvested else less}" if rise >= 1 else ""
