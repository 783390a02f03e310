"""Areas of beds, rings and rows: plane geometry, with its traps in the docstrings."""

from __future__ import annotations

import math
from collections.abc import Sequence

from barrowful.measures.dimensions import relation


@relation("area", length="length", width="length")
def rectangle(length: float, width: float) -> float:
    """Return the area [m2] of a rectangle or strip from its sides [m].

    Plane geometry; needs no source.

    >>> rectangle(9.0, 1.2)
    10.8
    """
    return length * width


@relation("area", radius="length")
def circle(radius: float) -> float:
    """Return the area [m2] of a circle from its radius [m].

    Plane geometry; needs no source.

    >>> circle(1.0)
    3.14159
    """
    return math.pi * radius**2


@relation("area", first="length", second="length")
def ellipse(first: float, second: float) -> float:
    """Return the area [m2] of an ellipse from its two full widths [m].

    Plane geometry; needs no source.

    >>> ellipse(2.0, 2.0)
    3.14159
    """
    return math.pi * first * second / 4


@relation("area", radius="length", collar="length")
def ring(radius: float, collar: float) -> float:
    """Return the area [m2] of a ring from outer radius and bare collar radius [m].

    ``collar`` must be less than ``radius``; anything else raises ValueError.
    Plane geometry; needs no source.

    >>> ring(1.0, 0.10)
    3.11018
    """
    if not collar < radius:
        raise ValueError("the collar is not smaller than the ring")
    return math.pi * (radius**2 - collar**2)


@relation("area", radius="length", distance="length")
def lens(radius: float, distance: float) -> float:
    """Return the area [m2] shared by two equal circles from radius and centre distance [m].

    Two circular segments: 2 r2 acos(d/2r) - d/2 sqrt(4 r2 - d2); nothing when they do not meet.
    Plane geometry; needs no source.

    >>> lens(1.0, 2.0)
    0.0
    """
    if distance >= 2 * radius:
        return 0.0
    return 2 * radius**2 * math.acos(distance / (2 * radius)) - distance / 2 * math.sqrt(
        4 * radius**2 - distance**2
    )


@relation("area", radius="length", collar="length", spacing="length")
def row_of_rings(radius: float, collar: float, spacing: float, count: int) -> float:
    """Return the ground [m2] covered by ``count`` equal rings in a straight row, each part once.

    On a line, the ground shared by two rings lies inside every ring between them, so only
    neighbours' lenses are taken off; the collars stay bare and are treated the same way. No rings
    cover nothing; fewer raise ValueError, as does a collar that does not fit.
    Plane geometry; needs no source.

    >>> row_of_rings(1.0, 0.1, 3.0, 2) == 2 * ring(1.0, 0.1)
    True
    """
    if not collar < radius:
        raise ValueError("the collar is not smaller than the ring")
    if count < 1:
        if count < 0:
            raise ValueError("a row cannot have fewer than 0 trees")
        return 0.0
    return _row_of_circles(radius, spacing, count) - _row_of_circles(collar, spacing, count)


def _row_of_circles(radius: float, spacing: float, count: int) -> float:
    return count * circle(radius) - (count - 1) * lens(radius, spacing)


@relation("area", a="length", b="length", c="length")
def triangle(a: float, b: float, c: float) -> float:
    """Return the area [m2] of a triangle from its three sides [m] (Heron, in Kahan's stable order).

    Sides that cannot meet raise ValueError.
    Plane geometry; needs no source.

    >>> triangle(3.0, 4.0, 5.0)
    6.0
    """
    a, b, c = sorted((a, b, c), reverse=True)
    if c - (a - b) <= 0:
        raise ValueError("these three sides cannot meet in a triangle")
    return math.sqrt((a + (b + c)) * (c - (a - b)) * (c + (a - b)) * (a + (b - c))) / 4


@relation("area", first="length", second="length", height="length")
def trapezoid(first: float, second: float, height: float) -> float:
    """Return the area [m2] of a trapezoid from its parallel sides and height [m].

    Plane geometry; needs no source.

    >>> trapezoid(4.0, 6.0, 3.0)
    15.0
    """
    return (first + second) / 2 * height


@relation("area", corners=[("length", "length")])
def polygon(corners: Sequence[tuple[float, float]]) -> float:
    """Return the area [m2] of a polygon from its corners [m] in order (shoelace sum).

    Fewer than three corners, a corner given twice, and edges that cross or touch raise ValueError:
    they are then not the outline.
    Plane geometry; needs no source.

    >>> polygon([(0, 0), (4, 0), (4, 3), (0, 3)])
    12.0
    """
    _refuse_repeats(corners)
    _refuse_crossing(corners)
    shifted = [*corners[1:], corners[0]]
    x0, y0 = corners[0]
    double = math.fsum(
        (x1 - x0) * (y2 - y0) - (x2 - x0) * (y1 - y0)
        for (x1, y1), (x2, y2) in zip(corners, shifted, strict=True)
    )
    if double == 0:
        raise ValueError("these corners enclose no ground")
    return abs(double) / 2


def _refuse_repeats(corners: Sequence[tuple[float, float]]) -> None:
    if len(corners) < 3:
        raise ValueError("an outline needs at least three corners")
    first: dict[tuple[float, float], int] = {}
    for number, (x, y) in enumerate(corners, 1):
        before = first.setdefault((x, y), number)
        if before != number:
            raise ValueError(f"corners {before} and {number} are the same point; give each corner once")


def _refuse_crossing(corners: Sequence[tuple[float, float]]) -> None:
    edges = [(corners[i], corners[(i + 1) % len(corners)]) for i in range(len(corners))]
    for i, (a, b) in enumerate(edges):
        if _folds_back(a, b, edges[(i + 1) % len(edges)][1]):
            raise ValueError(f"the outline folds back on itself after corner {(i + 1) % len(edges) + 1}")
        for j in range(i + 1, len(edges)):
            neighbours = j == i + 1 or (i == 0 and j == len(edges) - 1)
            if not neighbours and _meet(a, b, *edges[j]):
                raise ValueError(f"the edge after corner {i + 1} crosses the edge after corner {j + 1}")


def _turn(a: tuple[float, float], b: tuple[float, float], c: tuple[float, float]) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def _folds_back(a: tuple[float, float], b: tuple[float, float], c: tuple[float, float]) -> bool:
    ahead = (b[0] - a[0]) * (c[0] - b[0]) + (b[1] - a[1]) * (c[1] - b[1])
    return _turn(a, b, c) == 0 and ahead < 0


def _meet(
    a: tuple[float, float], b: tuple[float, float], c: tuple[float, float], d: tuple[float, float]
) -> bool:
    if max(a[0], b[0]) < min(c[0], d[0]) or max(c[0], d[0]) < min(a[0], b[0]):
        return False
    if max(a[1], b[1]) < min(c[1], d[1]) or max(c[1], d[1]) < min(a[1], b[1]):
        return False
    return _turn(a, b, c) * _turn(a, b, d) <= 0 and _turn(c, d, a) * _turn(c, d, b) <= 0
