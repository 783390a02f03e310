"""The ceilings on twelve months that bind what is put on a place: by what it is, and by what goes on."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from barrowful.catalogue.ceilings import counting, most
from barrowful.catalogue.materials import DROPPED, Material
from barrowful.catalogue.rates import kept_by_rates
from barrowful.measures.dates import year_after
from barrowful.measures.elementwise import at_least, likely, where
from barrowful.site.needs import Feed
from barrowful.site.records import Place, Practice
from barrowful.soil.application import Application
from barrowful.soil.nitrogen import usable

#: Words of a soil test at which phosphorus is held back; at the last one none is put on.
HIGH_TESTS = ("high", "very high")
#: Uses of a ceiling on a place by what shares it: day numbers with what is used of it on each m2.
Uses = tuple[tuple[int, float], ...]


class Bound(NamedTuple):
    """A ceiling on twelve months: what each metre of loose depth uses of it, and how much there is."""

    name: str
    shares: str  #: what counts together: all, or one stuff
    each: float  #: used by each m of loose depth
    limit: float
    first: float = 0.0  #: limit of the twelve months from the first dressing of a new place
    used: Uses = ()  #: by what is put on already

    def spans(self, first: int, put_on: Iterable[int]) -> Iterator[tuple[int, int, float]]:
        """Yield the twelve months, from one day to before another, that are bound, and the limit of each.

        They begin on days something is put on, now or already, of which one is no later than ``first``: those
        from the first of all are the first dressing's.
        """
        days = sorted({first, *put_on, *(on for on, _ in self.used)})
        for day in days:
            yield day, year_after(day), max(self.limit, self.first if day == days[0] else 0.0)


def kind_of(dose: Application) -> str:
    """Return the need a dose is for; what lies on top of a place that is covered was its cover."""
    if dose.kind or dose.dug:
        return dose.kind
    return "cover" if dose.place.need("cover") else ""


class Ruled(NamedTuple):
    """What the ceilings go by of a place: equal places share them."""

    kind: str
    made: bool  #: is it a bed that is being made?
    limits: Practice
    test: str
    carried_off: float  #: kg/m2 of phosphorus that the crop named takes away; none where none is
    phosphorus: float  #: kg/m2 of usable phosphorus that a feed wants


def ruled(place: Place) -> Ruled:
    """Return what the ceilings go by of a place."""
    need = place.need("feed")
    taken, wanted = (need.carried_off, need.phosphorus) if isinstance(need, Feed) else (0.0, 0.0)
    made = place.new and place.kind == "bed"  # the figure is for beds that are dug over, not for roots
    return Ruled(place.kind, made, place.limits, place.soil.phosphorus_test, taken, wanted)


@kept_by_rates(65536)
def bounds_by(place: Ruled, kind: str, dug: bool, material: Material) -> tuple[Bound, ...]:
    """Return the ceilings on twelve months that bind a material for a kind of need, by what they go by."""
    every = _each_bound(place, kind, dug, material)
    return tuple(bound for bound in every if likely(bound.each) > 0 and bound.name not in place.limits.lift)


def bounds_of(place: Place, kind: str, dug: bool, material: Material) -> tuple[Bound, ...]:
    """Return the ceilings on twelve months that bind a material for a need of a place."""
    return bounds_by(ruled(place), kind, dug, material)


def _each_bound(place: Ruled, kind: str, dug: bool, material: Material) -> Iterator[Bound]:
    yield from _yearly_depth(place, kind, material)
    poor = material.sort.apart_as_cover and not material.has("grass")
    apart = kind == "fill" or (kind == "cover" and poor)
    if not apart and not material.lacks("density", "moisture"):
        yield from _of_test(place, material)
        yield from _of_nitrogen(place, material)
    if kind == "feed":
        yield from _brought_along(place, material)
    yield from _of_stuff(dug, material)
    yield from _of_what_it_holds(material)


def _yearly_depth(place: Ruled, kind: str, material: Material) -> Iterator[Bound]:
    own = place.limits.depth_per_year
    if not material.sort.rich or kind in {"cover", "fill"}:
        return
    weight = manure_weight(material)
    if own is not None:
        yield Bound("yearly_depth", "all", weight, own)
    elif place.kind != "pot" and not place.limits.farm:
        once = figure("yearly_depth", "new_bed") if place.made else 0.0
        yield Bound("yearly_depth", "all", weight, figure("yearly_depth", "garden"), once)


def manure_weight(material: Material) -> float:
    """Return how often a material counts under the yearly depth: what holds manure more than once."""
    return figure("yearly_depth", "manure_based") if material.holds_manure else 1.0


def _of_test(place: Ruled, material: Material) -> Iterator[Bound]:
    """Yield the phosphorus that a soil test leaves room for; what is dropped where it grew brings none."""
    if place.test not in HIGH_TESTS or material.lacks("phosphorus") or material.has(DROPPED):
        return
    if not (material.sort.as_sold and likely(material["phosphorus"]) <= figure("phosphorus", "trace")):
        limit = 0.0 if place.test == HIGH_TESTS[-1] else place.carried_off
        yield Bound("phosphorus", "all", material.holds(1.0, "phosphorus"), limit)


def _of_nitrogen(place: Ruled, material: Material) -> Iterator[Bound]:
    """Yield a limit of the grower's on any nitrogen, else a farm's on that of what is spread but salts."""
    farm = place.limits.farm and not (material.is_mineral_fertiliser or material.has(DROPPED))
    limit = place.limits.nitrogen
    if limit is None and farm:
        limit = figure("nitrogen", "farm")
    if limit is not None and not material.lacks("nitrogen"):
        yield Bound("nitrogen", "all", material.holds(1.0, "nitrogen"), limit)


def _brought_along(place: Ruled, material: Material) -> Iterator[Bound]:
    """Yield the phosphorus that a fertiliser may bring beside what it is put on for."""
    known = material.sort.as_sold and not material.lacks("phosphorus", "density", "moisture")
    if known and likely(total := material["phosphorus"]) > 0:
        for_it = place.phosphorus * total / where(likely(of := usable(material, "phosphorus")) > 0, of, total)
        limit = at_least(for_it, figure("surplus_phosphorus", "along"))
        yield Bound("surplus_phosphorus", material.name, material.holds(1.0, "phosphorus"), limit)


def _of_stuff(dug: bool, material: Material) -> Iterator[Bound]:
    limit, sort = material.get("yearly_most"), material.sort
    if limit is not None:
        yield Bound("yearly_dose", material.name, material["density"], limit)
    elif material.lacks("density"):
        return
    elif sort.yearly_most:
        yield Bound(
            "yearly_dose", material.name, material["density"], figure("yearly_dose", sort.yearly_most)
        )
    elif dug and sort.yearly_dug:
        dug_in = sort.yearly_dug
        yield Bound("yearly_dose", dug_in, material["density"], figure("yearly_dose", dug_in))


def _of_what_it_holds(material: Material) -> Iterator[Bound]:
    for of in counting():
        if material.has(of.flag) and not material.lacks("density", "moisture", of.counts):
            yield Bound(of.name, "all", material.holds(1.0, of.counts), figure(of.name, "most"))


def figure(ceiling: str, name: str) -> float:
    """Return a figure of a ceiling that has it."""
    value = most(ceiling, name)
    assert value is not None, f"{ceiling} has no figure {name}"
    return value
