"""Nutrients on their way: from outside, the air, a heap, a strip or a stock to a place, or lost."""

from __future__ import annotations

from typing import NamedTuple

from barrowful.catalogue.materials import Material
from barrowful.catalogue.vocabulary import NUTRIENTS

#: Where a flow may come from or go to that is no zone of the site.
OUTSIDE, AIR, CROP, LOST = "outside", "air", "crop", "lost"

Amounts = tuple[float, float, float]


class Flow(NamedTuple):
    """Nutrients [kg] that go from one zone to another; outside, air, crop and lost are no zones."""

    source: str
    target: str
    amounts: Amounts


def place_key(name: str) -> str:
    """Return the key of a place's zone."""
    return f"place: {name}"


def way_key(name: str) -> str:
    """Return the key of a way's zone: a heap, a strip or a stock."""
    return f"way: {name}"


def nutrients_in(material: Material, loose: float) -> Amounts:
    """Return nitrogen, phosphorus and potassium [kg] in a loose volume [m3]."""
    return of_dry(material, 0.0 if material.lacks("density") else material.dry_mass(loose))


def of_dry(material: Material, dry: float) -> Amounts:
    """Return nitrogen, phosphorus and potassium [kg] in a dry mass [kg]."""
    nitrogen, phosphorus, potassium = (dry * (material.get(name) or 0.0) for name in NUTRIENTS)
    return nitrogen, phosphorus, potassium
