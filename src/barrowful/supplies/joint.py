"""Several ways that serve a need jointly: a feed of compost and a meal, a fill of soil and compost."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date
from functools import cached_property
from typing import Any, ClassVar, TypeAlias

from barrowful.catalogue.materials import Material
from barrowful.measures.fixed import fixed
from barrowful.site.records import Place
from barrowful.site.ways import JOINS
from barrowful.soil.application import Application
from barrowful.supplies.supply import Land, Supply

#: Stands in a key before what a way counts; no name of a way holds it.
WEIGHED = "\0"


@fixed(kw_only=False)
class Joint:
    """Ways that serve a need jointly, in the order of the file; it answers as one supply does."""

    parts: tuple[Supply[Any], ...]
    at_best: int = 0  #: no fewer places than they can serve
    least_cash: float = 0.0  #: no more money than serving these costs with nothing left of before
    #: What each m3 of each way counts where amounts are not those of least price, in the order of the ways.
    weights: tuple[float, ...] = ()

    #: Only one way by itself stands there instead of being spread, and is told by its land.
    stands: ClassVar[bool] = False
    closes_on: ClassVar[date | None] = None
    land: ClassVar[Land | None] = None

    @cached_property
    def name(self) -> str:
        """Return the names of the ways, as rows have them."""
        return JOINS.join(part.name for part in self.parts)

    @cached_property
    def key(self) -> str:
        """Return what it is looked up by: its name, and what each way counts where that is not its price."""
        return self.name + "".join(f"{WEIGHED}{weight!r}" for weight in self.weights)

    @cached_property
    def weight_of(self) -> dict[str, float]:
        """Return what each m3 of each way counts, by its name; nothing where they count by their price."""
        names = (part.name for part in self.parts)
        return dict(zip(names, self.weights, strict=True)) if self.weights else {}

    @cached_property
    def names(self) -> tuple[str, ...]:
        """Return the names of the ways in an order of their own, whatever that of the file is."""
        return tuple(sorted(part.name for part in self.parts))

    @cached_property
    def words(self) -> tuple[tuple[str, float], ...]:
        """Return the names with what each counts, in an order of their own: what tells it from any other."""
        return tuple((name, self.weight_of.get(name, 0.0)) for name in self.names)

    @property
    def materials(self) -> tuple[Material, ...]:
        """Return the material of each way."""
        return tuple(part.material for part in self.parts)

    @cached_property
    def limited(self) -> bool:
        """Say whether more can be asked of one of them than it brings."""
        return any(part.limited for part in self.parts)

    @cached_property
    def draws_on_others(self) -> bool:
        """Say whether one of them draws on other ways."""
        return any(part.draws_on_others for part in self.parts)

    def serves(self, place: Place, kind: str) -> bool:
        """Say whether a place has a need of a kind and allows all of them."""
        return all(part.serves(place, kind) for part in self.parts)

    def divide(self, doses: Sequence[Application]) -> Iterator[tuple[Supply[Any], Sequence[Application]]]:
        """Yield each way with those of some doses that are its own."""
        for part in self.parts:
            yield part, [dose for dose in doses if dose.way == part.name]


def joint_called(key: str, ways: Mapping[str, Supply[Any]]) -> Joint:
    """Return the ways that are looked up by a key."""
    name, *weights = key.split(WEIGHED)
    return Joint(tuple(ways[part] for part in name.split(JOINS)), weights=tuple(map(float, weights)))


#: One way, or several jointly.
Source: TypeAlias = Supply[Any] | Joint


def in_order(source: Source) -> list[Supply[Any]]:
    """Return the ways that a source is by their names, whatever their order in the file."""
    return sorted(source.parts, key=lambda part: part.name)


def most_promising(joints: Iterable[Joint]) -> list[Joint]:
    """Return those first that may serve most places, then the cheapest, whatever the order of the file."""
    return sorted(joints, key=_promise)


def _promise(joint: Joint) -> tuple[int, float, int, tuple[str, ...]]:
    least = float(f"{joint.least_cash:.9g}")  # sums of places in another order differ in their last digits
    return -joint.at_best, least, len(joint.parts), joint.names
