"""Shares that bind in a heap: how much of it may be coffee, paper, wood and so on, by volume or by weight."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache
from typing import NamedTuple

from barrowful.catalogue.ceilings import ceilings
from barrowful.catalogue.materials import Material

#: Ceilings of heaps -> whether their shares are of the weight before watering, not of the loose volume.
BY_WEIGHT = {"heap_share": False, "heap_weight_share": True}


class Share(NamedTuple):
    """A ceiling on what is of a class or has a flag: its largest share of a heap."""

    ceiling: str
    of: str
    most: float

    @property
    def by_weight(self) -> bool:
        """Say whether it is a share of the weight."""
        return BY_WEIGHT[self.ceiling]

    def holds(self, material: Material) -> bool:
        """Say whether a material is of what it limits."""
        return material.class_ == self.of or material.has(self.of)

    @property
    def told(self) -> str:
        """Return the share in words."""
        return f"{self.most:.0%} {'of the weight' if self.by_weight else 'by volume'}"


@cache
def _all_shares() -> tuple[Share, ...]:
    return tuple(
        Share(name, of, figure.likely)
        for name in BY_WEIGHT
        for of, figure in ceilings()[name].figures.items()
    )


def shares_of(materials: Iterable[Material], lifted: frozenset[str] = frozenset()) -> tuple[Share, ...]:
    """Return the shares that are about any of some materials, but for the ceilings that are lifted."""
    known = list(materials)
    return tuple(
        share
        for share in _all_shares()
        if share.ceiling not in lifted and any(share.holds(material) for material in known)
    )
