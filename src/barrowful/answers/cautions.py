"""Which cautions an answer calls for: material, way, need, place and condition must all match."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import timedelta

from barrowful.answers.options import Answer, Option
from barrowful.catalogue.cautions import Caution, cautions
from barrowful.catalogue.judgements import judged_months, judgement
from barrowful.catalogue.materials import Material
from barrowful.catalogue.rates import heap_figures
from barrowful.catalogue.rules import practice_rules
from barrowful.site.records import Cover, Dress, Place, Raise, Site
from barrowful.site.ways import Buy, Grow, Have, Make
from barrowful.supplies.heap.heap import Heap
from barrowful.supplies.heap.recipe import Offer


@dataclass(frozen=True)
class Scene:
    """One option as the conditions see it."""

    site: Site
    option: Option
    answer: Answer

    @property
    def stuffs(self) -> list[Material]:
        """Return the material put down and, of a heap, what goes into it."""
        way = self.option.way
        parts = [part.material for part in way.ingredients] if isinstance(way, Make) else []
        return [self.option.material, *parts]

    @property
    def places(self) -> tuple[Place, ...]:
        """Return the places served."""
        return self.option.places

    def dose_depths(self) -> Iterable[float]:
        """Yield the depth [m] of each dose as spread."""
        for dose in self.option.plan.doses:
            yield dose.loose / dose.place.total_area if dose.place.total_area else 0.0

    def day_volumes(self) -> dict[object, float]:
        """Return the loose volume [m3] by day."""
        found: dict[object, float] = {}
        for dose in self.option.plan.doses:
            found[dose.day] = found.get(dose.day, 0.0) + dose.loose
        return found


def _heap_small(scene: Scene) -> bool:
    way = scene.option.way
    return isinstance(way, Make) and way.bay < heap_figures()["hot_volume"].low


def _heap_high(scene: Scene) -> bool:
    way = scene.option.way
    if isinstance(way, Make):
        return (way.height or 0.0) > heap_figures()["highest"].low
    heats, large = scene.option.material.sort.heats, judgement("stored_volume")
    return heats and any(placed.volume >= large for placed in scene.option.own_orders)


def _much_phosphorus(place: Place) -> bool:
    return place.soil.phosphorus_test in practice_rules()["phosphorus_high"].tests


def _heavy(mass: float | None) -> bool:
    return mass is not None and mass > judgement("heavy_bag")


def _over_payload(scene: Scene) -> bool:
    way = scene.option.way
    own = isinstance(way, Buy) and way.payload is not None
    return own and any(placed.trips > 1 for placed in scene.option.own_orders)


def _deep_for_a_year(scene: Scene) -> bool:
    needs = any(isinstance(dose.need, Dress | Raise) for dose in scene.option.plan.doses)
    return needs and any(depth > judgement("deep_for_a_year") for depth in scene.dose_depths())


def _deep_on_roots(scene: Scene) -> bool:
    return any(
        isinstance(dose.need, Cover)
        and dose.need.depth > judgement("deep_on_roots")
        and dose.place.kind == "tree"
        for dose in scene.option.plan.doses
    )


def _raw_manure(scene: Scene) -> bool:
    return scene.option.material.has("raw") and not isinstance(scene.option.way, Make)


def _much_coffee(scene: Scene) -> bool:
    supply = scene.answer.supplies[scene.option.way.name]
    if not isinstance(supply, Heap):
        return False
    for batch in supply.batches:
        volumes = [
            (offer.material, mass / Offer(offer.material, 0).density)
            for offer, mass in zip(batch.recipe.offers, batch.recipe.masses, strict=True)
        ]
        coffee = sum(volume for stuff, volume in volumes if stuff.has("coffee"))
        if coffee > judgement("coffee_share") * batch.recipe.volume:
            return True
    return False


def _unknown_chip(scene: Scene) -> bool:
    way = scene.option.way
    return isinstance(way, Buy | Have) and scene.option.material.sort.asks_origin and not way.notes


def _walnut(scene: Scene) -> bool:
    way = scene.option.way
    noted = isinstance(way, Buy | Have) and "walnut" in way.notes.lower()
    return noted or any(stuff.has("walnut") for stuff in scene.stuffs)


def _nesting(scene: Scene) -> bool:
    way = scene.option.way
    if not isinstance(way, Grow) or way.plant.habit != "hedge":
        return False
    months = judged_months("nesting_from", "nesting_to", scene.site.hemisphere)
    return any(dose.day.month in months for dose in scene.option.plan.doses)


def _dug_wood(scene: Scene) -> bool:
    dug = any(dose.need.dug for dose in scene.option.plan.doses)
    return dug and scene.option.material.sort.warned_dug


def _salty(scene: Scene) -> bool:
    stuff = scene.option.material
    salty = stuff.has("salty") or stuff.has("manure_based")
    return salty and any(place.kind in {"bed", "pot", "row"} for place in scene.places)


CONDITIONS: dict[str, Callable[[Scene], bool]] = {
    "heap too small": _heap_small,
    "heap too high": _heap_high,
    "bag too heavy": lambda s: isinstance(s.option.way, Buy) and _heavy(s.option.way.bag_mass),
    "over payload": _over_payload,
    "own collection": lambda s: (
        isinstance(s.option.way, Buy) and (s.option.way.box is not None or s.option.way.payload is not None)
    ),
    "on the road": lambda s: isinstance(s.option.way, Buy) and s.option.way.drop == "road",
    "much in a day": lambda s: any(
        volume > judgement("spread_in_a_day") for volume in s.day_volumes().values()
    ),
    "deep on roots": _deep_on_roots,
    "deep for a year": _deep_for_a_year,
    "phosphorus high": lambda s: any(_much_phosphorus(place) for place in s.places),
    "near water": lambda s: any(place.near_water for place in s.places),
    "made ground": lambda s: s.site.made_ground,
    "raw manure": _raw_manure,
    "much coffee": _much_coffee,
    "unknown chip": _unknown_chip,
    "walnut": _walnut,
    "nesting season": _nesting,
    "dug-in wood": _dug_wood,
    "salty": _salty,
    "hygiene claimed": lambda s: isinstance(s.option.way, Make) and bool(s.option.way.readings),
}


def applies(caution: Caution, scene: Scene) -> bool:
    """Say whether a caution applies to an option."""
    option = scene.option
    stuffs = scene.stuffs
    return (
        _any(caution.classes, (stuff.class_ for stuff in stuffs))
        and (not caution.flags or any(stuff.has(flag) for flag in caution.flags for stuff in stuffs))
        and _any(caution.ways, (option.way.kind,))
        and _any(caution.needs, (option.need,))
        and _any(caution.places, (place.kind for place in scene.places))
        and (not caution.condition or CONDITIONS[caution.condition](scene))
    )


def _any(wanted: frozenset[str], found: Iterable[str]) -> bool:
    return not wanted or any(word in wanted for word in found)


@dataclass(frozen=True)
class CautionInForce:
    """A caution an answer calls for, the ways that call for it, and the dates it comes to."""

    caution: Caution
    ways: tuple[str, ...] = ()
    dates: str = ""


def cautions_for(answer: Answer, rows: Iterable[Option] | None = None) -> list[CautionInForce]:
    """Return the cautions the rows that put something down call for, the most serious first."""
    acting = [row for row in (answer.options if rows is None else rows) if row.plan.doses]
    scenes = [Scene(answer.site, row, answer) for row in acting]
    found = []
    for caution in cautions():
        calling = [scene for scene in scenes if applies(caution, scene)]
        if calling:
            ways = tuple(dict.fromkeys(scene.option.way.name for scene in calling))
            found.append(CautionInForce(caution, ways, _dates(caution, calling)))
    return found


def _dates(caution: Caution, scenes: list[Scene]) -> str:
    """Return the dates of a caution with a wait, reckoned from the first day something is spread."""
    first = min(dose.day for scene in scenes for dose in scene.option.plan.doses)
    if caution.days_before:
        return f"For spreading on {first}, start by {first - timedelta(caution.days_before)}."
    if caution.days_after:
        days = " or ".join(str(first + timedelta(wait)) for wait in caution.days_after)
        return f"Spread on {first}, that is {days}."
    return ""
