"""How long an order is shared, and what is left over of it is counted on: by how long such stuff keeps."""

from __future__ import annotations

from datetime import timedelta

from barrowful.catalogue.judgements import judged_time
from barrowful.catalogue.materials import RAW, Material
from barrowful.catalogue.rates import heap_figures
from barrowful.measures.dates import DAYS_PER_YEAR


def left_over_keeps(material: Material) -> timedelta:
    """Return for how long after an order what is left over of it still serves.

    Greens and kitchen stuff rot in weeks, and raw manure is rotted to less within a season. Meals, pellets,
    limestone and stone keep for years where they are dry; what is caustic slakes, and is as all else.

    >>> from barrowful.catalogue.materials import material
    >>> [left_over_keeps(material(of)).days for of in ("grass clippings", "horse manure", "green compost")]
    [28, 90, 400]
    >>> [left_over_keeps(material(of)).days for of in ("feather meal", "ground limestone", "burnt lime")]
    [1100, 1100, 400]
    """
    if material.sort.spoils:
        return timedelta(days=round(heap_figures()["greens_keep"].likely * DAYS_PER_YEAR))
    if material.sort.as_sold:
        return judged_time("leftover_keeps" if material.has("caustic") else "dry_leftover_keeps")
    return judged_time("raw_leftover_keeps" if material.has(RAW) else "leftover_keeps")


def order_shared(material: Material) -> timedelta:
    """Return for how long from its first day on an order may be for other days too: while it keeps, at most.

    >>> from barrowful.catalogue.materials import material
    >>> [order_shared(material(of)).days for of in ("grass clippings", "green compost")]
    [28, 60]
    """
    return min(judged_time("orders_joined"), left_over_keeps(material))
