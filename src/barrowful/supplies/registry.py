"""Every kind of way with the supply it is: the one list of them."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Any

from barrowful.site.records import Site
from barrowful.supplies.crop.crop import Crop
from barrowful.supplies.heap.heap import Heap
from barrowful.supplies.purchase import Purchase
from barrowful.supplies.stockpile import Stockpile
from barrowful.supplies.supply import Supply

SUPPLIES: dict[str, type[Supply[Any]]] = {
    "buy": Purchase,
    "make": Heap,
    "grow": Crop,
    "have": Stockpile,
}


#: No supplies that are there already.
NONE: Mapping[str, Supply[Any]] = MappingProxyType({})


def supplies(site: Site, there: Mapping[str, Supply[Any]] = NONE) -> dict[str, Supply[Any]]:
    """Return the supply of every way by name, in the order of the file; what is ``there`` is taken as it is.

    Those that draw on others are made last, when the others are there.
    """
    made: dict[str, Supply[Any]] = {}
    for way in sorted(site.ways, key=lambda way: SUPPLIES[way.kind].draws_on_others):
        made[way.name] = there.get(way.name) or SUPPLIES[way.kind](way, site, dict(made))
    return {way.name: made[way.name] for way in site.ways}
