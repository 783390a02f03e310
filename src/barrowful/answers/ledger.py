"""The nutrient ledger: every flow leaves one zone and enters another, so nothing appears from nowhere."""

from __future__ import annotations

from dataclasses import dataclass, replace

from barrowful.answers.combined import doses_of
from barrowful.answers.options import Answer, Option
from barrowful.catalogue.crops import crops
from barrowful.catalogue.materials import Material
from barrowful.catalogue.vocabulary import NUTRIENTS
from barrowful.ground.nutrients import PHOSPHORUS_IN_PHOSPHATE, soil_test_rise
from barrowful.needs.doses import Dose, draws_of
from barrowful.site.records import Feed, Site
from barrowful.site.ways import Buy, Grow, Have, Make
from barrowful.supplies.crop.crop import Crop
from barrowful.supplies.heap.heap import Heap
from barrowful.supplies.supply import Supply

OUTSIDE, AIR, CROP, LOST = "outside", "air", "crop", "lost"


@dataclass(frozen=True)
class Flow:
    """Nutrients [kg] that go from one zone to another; outside, air, crop and lost are no zones."""

    source: str
    target: str
    amounts: tuple[float, float, float]


@dataclass(frozen=True)
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


@dataclass(frozen=True)
class Zone:
    """A part of the site the ledger is kept for; ``key`` tells a place from a way of the same name."""

    key: str
    name: str
    sort: str
    area: float | None


def place_key(name: str) -> str:
    """Return the key of a place's zone."""
    return f"place: {name}"


def way_key(name: str) -> str:
    """Return the key of a way's zone: a heap, a strip or a stock."""
    return f"way: {name}"


def held(stuff: Material, loose: float) -> tuple[float, float, float]:
    """Return nitrogen, phosphorus and potassium [kg] in a loose volume [m3]."""
    dry = stuff.dry_mass(loose) if "density" in stuff.figures else 0.0
    n, p, k = (dry * (stuff.get(name) or 0.0) for name in NUTRIENTS)
    return n, p, k


def flows(site: Site, answer: Answer, chosen: list[Option]) -> list[Flow]:
    """Return every flow of the chosen options, and one season's harvest of the crops named.

    What a tree is fed is advice, not what its fruit takes away, so trees are left out of the harvest.
    """
    found: list[Flow] = []
    for name, doses in doses_of(answer, chosen).items():
        found += _way_flows(answer.supplies[name], doses)
    for place in site.places:
        need = place.need("feed")
        if isinstance(need, Feed) and need.crop and not crops()[need.crop].per_tree:
            taken = tuple(place.total_area * getattr(need, nutrient) for nutrient in NUTRIENTS)
            found.append(Flow(place_key(place.name), CROP, (taken[0], taken[1], taken[2])))
    return found


def _way_flows(supply: Supply, doses: list[Dose]) -> list[Flow]:
    way = supply.way
    source = way_key(way.name)
    before: list[Flow] = []
    if isinstance(way, Buy) or (isinstance(way, Have) and not way.from_site):
        source = OUTSIDE
    if isinstance(supply, Heap):
        before = _heap_flows(supply, doses)
    elif isinstance(supply, Crop):
        before = _fixed_flows(supply, sum(held(supply.material, dose.loose)[0] for dose in doses))
    spread = [Flow(source, place_key(dose.place.name), held(supply.material, dose.loose)) for dose in doses]
    return before + spread


def _fixed_flows(supply: Supply | None, cut: float) -> list[Flow]:
    """Return what a legume took from the air of the nitrogen cut [kg]: only that share is new here."""
    fixed = cut * supply.terms.fixed_share if isinstance(supply, Crop) else 0.0
    return [Flow(AIR, way_key(supply.way.name), (fixed, 0.0, 0.0))] if supply and fixed > 0 else []


def _heap_flows(supply: Heap, doses: list[Dose]) -> list[Flow]:
    """Return what went into the batches that were used, and the nitrogen they lost."""
    assert isinstance(supply.way, Make)
    batches, found, name = supply.used(draws_of(doses)), [], way_key(supply.way.name)
    for index, part in enumerate(supply.way.ingredients):
        mass = sum(batch.recipe.mass_of(index) for batch in batches)
        dry = part.material.dry_of(mass)
        n, p, k = (dry * (part.material.get(nutrient) or 0.0) for nutrient in NUTRIENTS)
        if mass > 0:
            found.append(Flow(_origin(part.way, part.from_site, part.material.name, supply), name, (n, p, k)))
            found += _fixed_flows(supply.drawn.get(part.way), n)
    lost = sum(batch.recipe.total("nitrogen") - batch.nitrogen[1] for batch in batches)
    return [*found, Flow(name, LOST, (lost, 0.0, 0.0))]


def _origin(way: str, from_site: bool, stuff: str, supply: Heap) -> str:
    drawn = supply.drawn.get(way)
    if drawn is None:
        return f"site: {stuff}" if from_site else OUTSIDE
    if isinstance(drawn.way, Grow) or (isinstance(drawn.way, Have) and drawn.way.from_site):
        return way_key(way)
    return OUTSIDE


def zones(site: Site, found: list[Flow]) -> list[Zone]:
    """Return the places, heaps, strips and stocks that the flows touch, in that order."""
    touched = dict.fromkeys(key for flow in found for key in (flow.source, flow.target))
    places = {place_key(place.name): place for place in site.places}
    ways = {way_key(way.name): way for way in site.ways}
    listed = [Zone(key, one.name, "place", one.total_area) for key, one in places.items() if key in touched]
    for key in touched:
        way = ways.get(key)
        if isinstance(way, Make):
            listed.append(Zone(key, way.name, "heap", None))
        elif isinstance(way, Grow):
            listed.append(Zone(key, way.name, "strip", way.area))
        elif way is not None:
            listed.append(Zone(key, way.name, "stock", None))
        elif key.startswith("site: "):
            listed.append(Zone(key, key.removeprefix("site: "), "stock", None))
    return listed


def ledger(site: Site, answer: Answer, chosen: list[Option]) -> list[Account]:
    """Return an account for each zone and nutrient, and the site's own under them."""
    found = flows(site, answer, chosen)
    accounts = [_account(zone, index, found, site) for zone in zones(site, found) for index in range(3)]
    return accounts + [_of_site(index, found) for index in range(3)]


def _account(zone: Zone, index: int, found: list[Flow], site: Site) -> Account:
    inward = [flow for flow in found if flow.target == zone.key]
    outward = [flow for flow in found if flow.source == zone.key]
    one = Account(
        zone.name, zone.sort, NUTRIENTS[index], zone.area,
        _sum(inward, index, {OUTSIDE}), _sum(inward, index, {AIR}),
        sum(flow.amounts[index] for flow in inward if flow.source not in {OUTSIDE, AIR}),
        sum(flow.amounts[index] for flow in outward if flow.target not in {CROP, LOST}),
        _sum(outward, index, to={CROP}), _sum(outward, index, to={LOST}),
    )  # fmt: skip
    return replace(one, remark=_remark(one, site))


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
        "site", "site", NUTRIENTS[index], None, _sum(found, index, {OUTSIDE}), _sum(found, index, {AIR}),
        moved, moved, _sum(found, index, to={CROP}), _sum(found, index, to={LOST}),
    )  # fmt: skip


def _remark(one: Account, site: Site) -> str:
    """Say where a strip runs down, and where phosphorus builds up."""
    if one.sort == "strip" and one.balance < -1e-9:
        each = f", {-1000 * one.balance / one.area:.1f} g/m2" if one.area else ""
        return f"runs down by {-1000 * one.balance:.0f} g{each}: give something back or rest it"
    if one.sort != "place" or one.nutrient != "phosphorus" or not one.area or one.balance <= 0:
        return ""
    place = next(place for place in site.places if place.name == one.zone)
    rise = soil_test_rise(1000 * one.balance / one.area / PHOSPHORUS_IN_PHOSPHATE) * 1e6
    if place.soil.phosphorus_test in {"high", "very high"}:
        return f"the soil test is {place.soil.phosphorus_test} already: bring no more phosphorus"
    return f"builds up: a soil test rises by about {rise:.0f} ppm" if rise >= 1 else ""
