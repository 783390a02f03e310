"""Bags against bulk: from how much on the same stuff is cheaper by the load."""

from __future__ import annotations

from typing import NamedTuple

from barrowful.costs.order import break_even
from barrowful.site.records import Site
from barrowful.site.ways import Buy


class BreakEven(NamedTuple):
    """Bags against bulk of the same material: the volume [m3] from which bulk is cheaper."""

    bags: Buy
    bulk: Buy
    volume: float | None


def break_evens(site: Site) -> list[BreakEven]:
    """Return each way sold by the bag held against each that sells the same in bulk."""
    sellers = [way for way in site.ways if isinstance(way, Buy)]
    return [
        BreakEven(bags, bulk, break_even(bags, bulk))
        for bags in sellers
        if bags.selling.word == "bag"
        for bulk in sellers
        if bulk.selling.word != "bag" and bulk.material.name == bags.material.name
    ]
