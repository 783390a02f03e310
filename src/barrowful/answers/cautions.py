"""Which cautions an answer calls for: material, way, need, place and condition must all match."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping, Sequence
from datetime import date, timedelta
from functools import cached_property
from types import MappingProxyType
from typing import Any, NamedTuple

from barrowful.answers.option import Option
from barrowful.answers.options import Answer
from barrowful.catalogue.cautions import Caution, cautions
from barrowful.catalogue.judgements import judgement
from barrowful.catalogue.materials import Material
from barrowful.ground import amount
from barrowful.measures.fixed import fixed
from barrowful.needs.bounds import HIGH_TESTS
from barrowful.needs.lime import Liming
from barrowful.needs.limes import limed_for_scab, limes_acid_ground
from barrowful.needs.registry import NEEDS
from barrowful.site.grown import fed_once_picked
from barrowful.site.records import Place, Site
from barrowful.soil.application import Application, draws_of
from barrowful.supplies.registry import SUPPLIES
from barrowful.supplies.supply import Supply

#: All that is put on each place, of whatever way, by its name.
Laid = Mapping[str, Sequence[Application]]


@fixed(kw_only=False)
class Scene:
    """One way of an option as the conditions see it, and what is put down of it and of any other."""

    site: Site
    option: Option
    supply: Supply[Any]
    doses: Sequence[Application]
    laid: Laid

    @cached_property
    def stuffs(self) -> list[Material]:
        """Return the material put down and, of a heap, what goes into it."""
        return self.supply.stuffs

    @property
    def places(self) -> tuple[Place, ...]:
        """Return the places served."""
        return self.option.places

    @cached_property
    def kinds(self) -> frozenset[str]:
        """Return the kinds of the places served."""
        return frozenset(place.kind for place in self.places)

    @cached_property
    def hazards(self) -> frozenset[str]:
        """Return the conditions that hold by the way and by the needs themselves."""
        by_way = self.supply.hazards(self.doses, self.option.orders_of(self.supply.name))
        by_need = (word for dose in self._deepest for word in NEEDS[dose.kind].hazards(dose))
        return frozenset([*by_way, *by_need])

    @property
    def _deepest(self) -> Iterable[Application]:
        """Return the deepest dose of each place, dug in and on top: where one does no harm, none does."""
        deepest: dict[tuple[str, bool], Application] = {}
        for dose in self.doses:
            known = deepest.get((dose.place.name, dose.dug))
            if known is None or dose.loose > known.loose:
                deepest[dose.place.name, dose.dug] = dose
        return deepest.values()

    def holds(self, condition: str) -> bool:
        """Say whether a condition holds."""
        general = CONDITIONS.get(condition)
        return general(self) if general else condition in self.hazards


def _deep_for_a_year(scene: Scene) -> bool:
    most = judgement("deep_for_a_year")
    return any(dose.kind in {"dress", "raise"} for dose in scene.doses) and any(
        amount.depth(dose.loose, dose.place.total_area) > most
        for dose in scene.doses
        if dose.place.total_area
    )


def _much_in_a_day(scene: Scene) -> bool:
    most = judgement("spread_in_a_day")
    return any(loose > most for loose in draws_of(scene.doses).values())


def _much_phosphorus(scene: Scene) -> bool:
    return any(place.soil.phosphorus_test in HIGH_TESTS for place in scene.places)


def _forking(scene: Scene) -> bool:
    return any(crop.forks for place in scene.places for crop in place.grown)


def _walnut(scene: Scene) -> bool:
    told = "walnut" in scene.supply.provenance.lower()
    return told or any(stuff.has("walnut") for stuff in scene.stuffs)


def _dug_wood(scene: Scene) -> bool:
    return scene.supply.material.sort.warned_dug and any(dose.dug for dose in scene.doses)


def _salty(scene: Scene) -> bool:
    tender = any(place.kind in {"bed", "pot", "row"} for place in scene.places)
    stuff = scene.supply.material
    told = (stuff.get("conductivity") or 0.0) >= judgement("salty_from")
    return tender and (told or stuff.has("salty") or stuff.has("manure_based"))


def _limed_beside(scene: Scene, beside: Callable[[Application], bool]) -> bool:
    """Say whether a place gets lime, and something that goes ill with it."""
    limed = {dose.place.name for dose in scene.doses if dose.kind == Liming.kind}
    return any(beside(dose) for name in limed for dose in scene.laid.get(name, ()))


#: Conditions that no one kind of way or need knows by itself.
CONDITIONS: dict[str, Callable[[Scene], bool]] = {
    "much in a day": _much_in_a_day,
    "deep for a year": _deep_for_a_year,
    "phosphorus high": _much_phosphorus,
    "near water": lambda scene: any(place.near_water for place in scene.places),
    "farm": lambda scene: any(place.limits.farm for place in scene.places),
    "made ground": lambda scene: scene.site.made_ground,
    "forking crop": _forking,
    "clubroot crop": lambda scene: any(crop.clubroot for place in scene.places for crop in place.grown),
    "fed once picked": lambda scene: any(map(fed_once_picked, scene.places)),
    "walnut": _walnut,
    "dug-in wood": _dug_wood,
    "salty": _salty,
    "caustic": lambda scene: scene.supply.material.has("caustic"),
    "limed for scab": lambda scene: any(map(limed_for_scab, scene.doses)),
    "limes acid ground": lambda scene: any(map(limes_acid_ground, scene.doses)),
    "limed beside manure": lambda scene: _limed_beside(scene, lambda dose: dose.material.is_fresh_manure),
    "limed beside wood": lambda scene: _limed_beside(
        scene, lambda dose: dose.dug and dose.material.sort.warned_dug
    ),
}


def conditions() -> frozenset[str]:
    """Return every condition that can be judged: the general ones, those of ways and those of needs."""
    by_way = (word for supply in SUPPLIES.values() for word in supply.hazard_words)
    by_need = (word for need in NEEDS.values() for word in need.hazard_words)
    return frozenset([*CONDITIONS, *by_way, *by_need])


def applies(caution: Caution, scene: Scene) -> bool:
    """Say whether a caution applies to an option."""
    return (
        (not caution.ways or scene.supply.way.kind in caution.ways)
        and (not caution.needs or scene.option.need in caution.needs)
        and _any(caution.places, scene.kinds)
        and any(caution.is_about(stuff) for stuff in scene.stuffs)
        and (not caution.condition or scene.holds(caution.condition))
    )


def _any(wanted: frozenset[str], there: frozenset[str]) -> bool:
    return not wanted or not wanted.isdisjoint(there)


class CautionInForce(NamedTuple):
    """A caution an answer calls for, the ways that call for it, and the dates it comes to."""

    caution: Caution
    ways: tuple[str, ...] = ()
    dates: str = ""


def planned_on(dose: Application) -> date:
    """Return the day a dose is put on by the plan."""
    return dose.day


def cautions_for(
    answer: Answer,
    rows: Iterable[Option] | None = None,
    put_on: Callable[[Application], date | None] = planned_on,
    as_built: Mapping[str, Supply[Any]] = MappingProxyType({}),
) -> list[CautionInForce]:
    """Return the cautions the rows that put something down call for, the most serious first.

    Their dates go by the day each dose is ``put_on``, where it is. Heaps that the history has built since are
    told of as they are ``as_built``.
    """
    acting = [row for row in (answer.options if rows is None else rows) if row.decision.counted]
    laid = laid_by(dose for row in acting for dose in row.decision.counted)
    scenes = [
        Scene(answer.site, row, as_built.get(part.name, part), own, laid)
        for row in acting
        for part, own in row.supply.divide(row.decision.counted)
        if own
    ]
    found = []
    for caution in cautions():
        calling = [scene for scene in scenes if applies(caution, scene)]
        if calling:
            ways = tuple(dict.fromkeys(scene.supply.name for scene in calling))
            found.append(CautionInForce(caution, ways, _dates(caution, calling, put_on)))
    return found


def laid_by(doses: Iterable[Application]) -> Laid:
    """Return doses by the places they are put on."""
    laid: dict[str, list[Application]] = defaultdict(list)
    for dose in doses:
        laid[dose.place.name].append(dose)
    return laid


def begin_by(day: date, caution: Caution, site: Site) -> str:
    """Return by when to begin what a caution asks for ahead of a day, or how long that puts the day off."""
    begin, takes = day - timedelta(caution.days_before), timedelta(caution.days_before)
    in_time = begin >= site.start
    return f"start by {begin}" if in_time else f"start at once and spread no sooner than {site.start + takes}"


def _dates(caution: Caution, scenes: list[Scene], put_on: Callable[[Application], date | None]) -> str:
    """Return the dates of a caution with a wait, reckoned from the first day something is spread."""
    if not (caution.days_before or caution.days_after):
        return ""
    days = (put_on(dose) for scene in scenes for dose in scene.doses)
    first = min((day for day in days if day is not None), default=None)
    if first is None:
        return ""
    if caution.days_before:
        return f"For spreading on {first}, {begin_by(first, caution, scenes[0].site)}."
    return ends_after(first, caution)


def ends_after(day: date, caution: Caution) -> str:
    """Return the days on which the waits of a caution end after something is spread; nothing without one."""
    if not caution.days_after:
        return ""
    days = " or ".join(str(day + timedelta(wait)) for wait in caution.days_after)
    return f"Spread on {day}, that is {days}."
