"""What a plan asks of amounts: rows that hold where a need is met, in one of the manners it may be met.

A need is linear in the amounts: what they give of it on a day, or in a season, adds up.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import field
from datetime import date
from functools import cached_property
from math import inf
from typing import Any, NamedTuple

from barrowful.catalogue.materials import Material
from barrowful.measures.fixed import fixed
from barrowful.needs.doses import dose_for
from barrowful.site.needs import Need
from barrowful.site.records import Place, Site
from barrowful.soil.application import Application
from barrowful.supplies.supply import Supply

#: What a row asks for less than enough, as a share: far less than a need is let off when it is judged, so
#: that a load that is just enough stays one load.
LET_OFF = 5e-7


class Portion(NamedTuple):
    """What may be put on a place for a need: of one way, on one day."""

    need: Need
    supply: Supply[Any]
    number: int  #: day number

    @property
    def kind(self) -> str:
        """Return the word of the need."""
        return self.need.kind

    @property
    def material(self) -> Material:
        """Return what is put on."""
        return self.supply.material


class Row(NamedTuple):
    """What each m3 of portions, by their number, gives or uses; it is to be at least, or at most, so much."""

    each: Mapping[int, float]
    least: float = -inf
    most: float = inf


class Either(NamedTuple):
    """Rows that hold, or else portions, by their number, that are not used."""

    rows: tuple[Row, ...]
    without: frozenset[int]


@fixed(eq=True)
class Manner:
    """One manner in which a need of a place may be met: its rows, and what it does without."""

    rows: tuple[Row, ...] = ()
    so_anyway: tuple[Row, ...] = ()  #: rows that follow from those, but not for parts of manners
    either: tuple[Either, ...] = ()
    without: frozenset[int] = frozenset()  #: numbers of portions that are not used
    begins_with: tuple[int, ...] = ()  #: numbers of portions of which some is used
    ready_on: int | None = None  #: day number, None where the last of the first portions decides
    put_off: bool = False  #: does it wait longer than the ways would have it wait?


@fixed
class Asked:
    """All that a plan may put on a place, and until when each way may be waited for.

    Nothing that can be had sooner is put off: of a way no more than ``soonest`` is waited for to meet a need
    first, by kind of need and way; ``latest`` is the last day any way would have it met, by kind.
    """

    site: Site
    place: Place
    portions: Sequence[Portion]
    soonest: Mapping[tuple[str, str], int] = field(default_factory=dict)
    latest: Mapping[str, int] = field(default_factory=dict)
    ready_by: int | None = None  #: day number everything is to be ready by, where there is one

    def of(self, kind: str) -> Iterator[tuple[int, Portion]]:
        """Yield the portions for a kind of need, by number."""
        return ((number, of) for number, of in enumerate(self.portions) if of.kind == kind)

    def put_off(self, kind: str, first_to: int) -> frozenset[int]:
        """Return the portions up to a day that come later than their way could have met the need."""
        return frozenset(
            number
            for number, of in self.of(kind)
            if of.number <= first_to and of.number > self.soonest.get((kind, of.supply.name), self.last(kind))
        )

    def last(self, kind: str) -> int:
        """Return the last day number on which a need is to be met first."""
        latest = self.latest.get(kind, self.site.end.toordinal())
        return latest if self.ready_by is None else min(latest, self.ready_by)

    def dose(self, number: int) -> Application:
        """Return one m3 of a portion as a dose."""
        return self._doses[number]

    @cached_property
    def _doses(self) -> list[Application]:
        return [
            dose_for(self.place, of.need, of.supply, date.fromordinal(of.number), 1.0) for of in self.portions
        ]
