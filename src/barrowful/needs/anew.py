"""Amounts sized anew: what some doses would have to be if the figures were others, on the same days."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Any, NamedTuple

from barrowful.catalogue.materials import Material
from barrowful.measures.elementwise import at_least, at_most
from barrowful.site.records import Place, Site
from barrowful.soil.application import Application


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
    most: Sequence[Any]  #: m3; what may go on of each dose
    ready_on: date | None = None  #: the day on which they meet it, where they do

    @property
    def material(self) -> Material:
        """Return the material of the first of them."""
        return self.doses[0].material

    def within(self, amounts: Sequence[Any]) -> list[Any]:
        """Return amounts [m3], each no more than may go on."""
        return [at_most(loose, limit) for loose, limit in zip(amounts, self.most, strict=True)]

    def in_turn(self, wanted: Any) -> list[Any]:
        """Return what each dose brings of what is wanted [m3], the first as much as it may."""
        parts = []
        for limit in self.most:
            part = at_most(at_least(wanted, 0.0), limit)
            parts.append(part)
            wanted = wanted - part
        return parts
