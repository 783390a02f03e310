"""Lime: what raises the pH of a depth of soil."""

from __future__ import annotations

from barrowful.measures.dimensions import relation

#: Depth [m] the table of lime is for, and what its lime neutralises, as a share of its mass in CaO.
_DEPTH, _NEUTRALISES = 0.20, 0.50


@relation("dose", rise="ratio", factor="dose", depth="length", stones="share")
def lime_for(rise: float, factor: float, depth: float, stones: float) -> float:
    """Return the lime [kg/m2, as CaO] that raises a depth [m] of soil by so much pH; nothing for a fall.

    0.50 x factor x rise x depth / 20 cm x (1 - stones); ``factor`` is the lime [kg/m2 for each pH],
    half its mass CaO, that the texture takes in 20 cm, and ``stones`` a share of the volume.
    Source: [rb209-1-2023], pages 12 to 15; by depth in proportion, which is this project's.

    >>> lime_for(6.7 - 5.5, 0.8, 0.20, 0.0)
    0.48
    >>> lime_for(-0.3, 0.8, 0.20, 0.0)
    0.0
    """
    return max(0.0, rise) * factor * _NEUTRALISES * depth / _DEPTH * (1 - stones)
