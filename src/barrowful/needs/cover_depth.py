"""How deep a cover may be: by what it is of, all stuff of one sort together."""

from __future__ import annotations

from math import inf

from barrowful.catalogue.ceilings import most
from barrowful.catalogue.materials import Material
from barrowful.catalogue.rates import rate
from barrowful.site.needs import Cover
from barrowful.site.records import Place

#: The ceiling's name, and flags of stuff that it has figures for beside those of classes.
CEILING, FLAGS = "cover_depth", ("coffee", "manure_based", "fine_wood")

#: What smothers grass: the mulch over cardboard of the source of its depth, and no compost.
SMOTHERING = frozenset({"wood", "straw", "leaves"})


def cover_sort(material: Material) -> str:
    """Return what the deepest cover of a material goes by: a flag, else its class; nothing without a figure.

    >>> from barrowful.catalogue.materials import material
    >>> cover_sort(material("arborist chip")), cover_sort(material("sawdust"))
    ('wood', 'fine_wood')
    """
    words = [word for word in FLAGS if material.has(word)]
    return next((word for word in (*words, material.class_) if most(CEILING, word) is not None), "")


def layer_sort(material: Material) -> str:
    """Return what goes together in a layer: all stuff of one sort, else a stuff by itself.

    >>> from barrowful.catalogue.materials import material
    >>> layer_sort(material("arborist chip"))
    'wood'
    """
    return cover_sort(material) or material.name


def deepest_cover(place: Place, material: Material) -> float:
    """Return the deepest [settled m] that a cover of a material, and of all of its sort, may be.

    One that is laid to smother grass may be as deep as is published for that.
    """
    sort, cover = cover_sort(material), place.need("cover")
    limit = most(CEILING, sort)
    if limit is None or CEILING in place.limits.lift:
        return inf
    smothers = isinstance(cover, Cover) and cover.smother and sort in SMOTHERING
    return max(limit, rate("smother_depth")) if smothers else limit
