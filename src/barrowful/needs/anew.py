"""Amounts sized anew: what some doses would have to be if the figures were others, on the same days."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from functools import reduce
from math import inf
from typing import Any, NamedTuple

from barrowful.catalogue.materials import Material
from barrowful.measures.draws import AtMost
from barrowful.measures.elementwise import at_least, at_most, per
from barrowful.site.records import Place, Site
from barrowful.soil.application import Application


class Sized(NamedTuple):
    """Loose volumes [m3] of doses, draw by draw, and the share of what is wanted that they meet."""

    amounts: list[Any]
    met: Any


class Anew(NamedTuple):
    """Doses that meet a need of a place, in the order of their days, to be sized anew for each of many draws.

    The figures of all materials are draws, and so are the amounts of what is there ``beside``, decided for
    other needs, and of the ``past``.
    """

    site: Site
    place: Place
    doses: Sequence[Application]
    beside: Sequence[Application]
    past: Sequence[Application]
    limits: Sequence[AtMost] = ()  #: m3; what doses may be, alone and together
    ready_on: date | None = None  #: the day on which they meet it, where they do

    @property
    def material(self) -> Material:
        """Return the material of the first of them."""
        return self.doses[0].material

    def left(self, before: Sequence[Any]) -> Any:
        """Return the most [m3] that the next dose may be, after the amounts of those before it."""
        return reduce(at_most, (limit.left(before) for limit in self.limits), inf)

    def in_turn(self, wanted: Any, there: Any = 0.0) -> Sized:
        """Return what each dose brings of what is wanted [m3] beside what is there, the first all it may."""
        parts: list[Any] = []
        lacking = wanted - there
        for _ in self.doses:
            parts.append(at_most(at_least(lacking, 0.0), self.left(parts)))
            lacking = lacking - parts[-1]
        return Sized(parts, share_of(wanted - at_least(lacking, 0.0), wanted))


def share_of(given: Any, wanted: Any) -> Any:
    """Return which share of what is wanted is given; all where nothing is wanted.

    >>> share_of(3.0, 4.0), share_of(0.0, 0.0)
    (0.75, 1.0)
    """
    return at_least(at_most(per(given, wanted, 1.0), 1.0), 0.0)
