"""Lime and fresh manure on one place: together they lose nitrogen, so there is a wait between them."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations

from barrowful.catalogue.judgements import judged_time
from barrowful.catalogue.materials import Material
from barrowful.soil.application import Application


def lose_nitrogen(one: Material, other: Material) -> bool:
    """Say whether one of two stuffs is lime and the other fresh manure: together they lose nitrogen."""
    return any(
        lime.class_ == "lime" and manure.is_fresh_manure for lime, manure in ((one, other), (other, one))
    )


def too_near(
    there: Sequence[Application], written: Sequence[Application]
) -> tuple[Application, Application] | None:
    """Return the lime and the manure of one place that lie nearest, of those with less than the wait between.

    At least one of them is written; what is there already is not told by itself. None where all keep to it.
    """
    wait = judged_time("lime_and_manure")
    pairs = [*combinations(written, 2), *((before, dose) for before in there for dose in written)]
    near = [
        (abs(one.day - other.day), number)
        for number, (one, other) in enumerate(pairs)
        if abs(one.day - other.day) < wait and lose_nitrogen(one.material, other.material)
    ]
    if not near:
        return None
    first, second = sorted(pairs[min(near)[1]], key=lambda dose: dose.day)
    return first, second
