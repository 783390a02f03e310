"""How deep a cover may be: by what it is of, all stuff of one sort together."""

from __future__ import annotations

from math import inf

from barrowful.catalogue.ceilings import most
from barrowful.catalogue.materials import Material
from barrowful.site.records import Place

#: The ceiling's name, and flags of stuff that it has figures for beside those of classes.
CEILING, FLAGS = "cover_depth", ("coffee", "manure_based", "fine_wood")


def cover_sort(material: Material) -> str:
    """Return what the deepest cover of a material goes by: a flag, else its class; nothing without a figure.

    >>> from barrowful.catalogue.materials import material
    >>> cover_sort(material("arborist chip")), cover_sort(material("sawdust"))
    ('wood', 'fine_wood')
    """
    words = [word for word in FLAGS if material.has(word)]
    return next((word for word in (*words, material.class_) if most(CEILING, word) is not None), "")


def deepest_cover(place: Place, material: Material) -> float:
    """Return the deepest [settled m] that a cover of a material, and of all of its sort, may be."""
    limit = most(CEILING, cover_sort(material))
    return inf if limit is None or CEILING in place.limits.lift else limit
