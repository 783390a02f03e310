"""Areas against shapely's polygons and numerical integration."""

from __future__ import annotations

import math
from collections.abc import Sequence
from decimal import Decimal, localcontext
from itertools import pairwise, product

import pytest
from draws import draws
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.integrate import quad
from shapely import union_all
from shapely.affinity import translate
from shapely.geometry import LinearRing, Point, Polygon

from barrowful.ground import area

QUICK = draws(60)
SIZE = st.floats(0.05, 50.0)
PART = st.integers(0, 95).map(lambda percent: percent / 100)
COORDINATE = st.integers(-2000, 2000).map(lambda hundredths: hundredths / 100)
GRID = st.tuples(st.integers(0, 4), st.integers(0, 4))


def inscribed(sides: int) -> float:
    """Give the part of a disc that a regular polygon of so many sides on its rim covers."""
    return sides / (2 * math.pi) * math.sin(2 * math.pi / sides)


@st.composite
def stars(draw: st.DrawFn) -> list[tuple[float, float]]:
    """Draw the corners of a simple polygon: directions in order round a point, any distance."""
    count = draw(st.integers(3, 12))
    offset = (draw(st.floats(-100.0, 100.0)), draw(st.floats(-100.0, 100.0)))
    corners = []
    for index in range(count):
        angle = 2 * math.pi * (index + draw(st.floats(0.1, 0.9))) / count
        radius = draw(st.floats(0.5, 20.0))
        corners.append((offset[0] + radius * math.cos(angle), offset[1] + radius * math.sin(angle)))
    return corners


@QUICK
@given(stars())
def test_polygon_agrees_with_shapely(corners: list[tuple[float, float]]) -> None:
    """The area of a simple outline is shapely's, whichever way round it is walked."""
    assume(LinearRing(corners).is_simple)
    expected = pytest.approx(Polygon(corners).area, rel=1e-9, abs=1e-9)
    assert area.polygon(corners) == expected
    assert area.polygon(corners[::-1]) == expected
    assert area.polygon(corners[2:] + corners[:2]) == expected


@draws(400)
@given(st.lists(GRID, min_size=3, max_size=7))
def test_polygon_refuses_what_is_not_simple(corners: list[tuple[int, int]]) -> None:
    """With no corner given twice in a row, an outline passes exactly when shapely's ring is simple.

    Outlines that touch themselves, at a corner or along an edge, are not simple and are refused;
    corners in the middle of a straight edge are.
    """
    assume(all(a != b for a, b in zip(corners, corners[1:] + corners[:1], strict=True)))
    if LinearRing(corners).is_simple:
        assert area.polygon(corners) == pytest.approx(Polygon(corners).area, rel=1e-12)
    else:
        with pytest.raises(ValueError, match=r"same point|crosses|folds back"):
            area.polygon(corners)


@pytest.mark.parametrize("count", [3, 4])
def test_every_small_outline(count: int) -> None:
    """Of all outlines on nine points, and of the same ones a centimetre small, just the simple ones pass."""
    points = list(product(range(3), repeat=2))
    for corners in product(points, repeat=count):
        if corners[0] != min(corners) or any(a == b for a, b in pairwise((*corners, corners[0]))):
            continue
        simple = LinearRing(corners).is_simple
        small = [(x / 128, y / 128) for x, y in corners]
        assert passes(corners) is simple
        assert passes(small) is simple


def passes(corners: Sequence[tuple[float, float]]) -> bool:
    """Say whether an outline is taken."""
    try:
        return area.polygon(corners) > 0
    except ValueError:
        return False


def test_a_bad_outline_is_told_by_its_corners() -> None:
    """The refusal counts edges and corners from one."""
    with pytest.raises(ValueError, match=r"^the edge after corner 1 crosses the edge after corner 3$"):
        area.polygon([(0, 0), (2, 2), (2, 0), (0, 2)])
    with pytest.raises(ValueError, match=r"^the outline folds back on itself after corner 2$"):
        area.polygon([(0, 0), (3, 0), (1, 0)])


@pytest.mark.parametrize(
    "corners",
    [
        [(0, 0), (2, 2), (2, 0), (0, 2)],
        [(0, 0), (4, 0), (4, 4), (2, 0), (0, 4)],
        [(0, 0), (2, 0), (2, 2), (4, 2), (4, 4), (2, 4), (2, 2), (0, 2)],
        [(0, 0), (4, 0), (4, 2), (1, 2), (3, 2), (3, 4), (0, 4)],
        [(0, 0), (3, 0), (1, 0)],
    ],
    ids=["bow tie", "corner on an edge", "pinched at a corner", "edges overlap", "no ground"],
)
def test_polygon_refuses_touching(corners: list[tuple[int, int]]) -> None:
    """An outline that meets itself anywhere is refused, and shapely too says that it is not simple."""
    assert not LinearRing(corners).is_simple
    with pytest.raises(ValueError, match=r"same point|crosses|folds back"):
        area.polygon(corners)


@draws(60)
@given(st.lists(GRID, min_size=3, max_size=6), st.integers(0, 5))
def test_polygon_refuses_a_corner_given_twice(corners: list[tuple[int, int]], index: int) -> None:
    """A corner typed twice is refused by its numbers, though the outline could still be guessed."""
    index %= len(corners)
    with pytest.raises(ValueError, match=r"^corners \d+ and \d+ are the same point"):
        area.polygon([*corners[: index + 1], *corners[index:]])


@pytest.mark.parametrize(
    ("corners", "first", "again"),
    [
        ([(0, 0), (0, 0), (3, 0), (3, 2)], 1, 2),
        ([(0, 0), (3, 0), (3, 2), (3, 2)], 3, 4),
        ([(0, 0), (3, 0), (3, 2), (0, 0)], 1, 4),
        ([(0, 0), (4, 0), (2, 1), (4, 3), (2, 1), (0, 3)], 3, 5),
        ([(0.0, 0), (3, 0), (3, 2), (-0.0, 0)], 1, 4),
        ([(1, 1), (1, 1), (1, 1)], 1, 2),
    ],
    ids=["in a row", "at the end", "closed", "pinched", "signs of nought", "one point"],
)
def test_repeated_corner_is_told_by_its_numbers(corners: list, first: int, again: int) -> None:
    """A point given twice is named as such, wherever the two stand."""
    with pytest.raises(
        ValueError, match=f"^corners {first} and {again} are the same point; give each corner"
    ):
        area.polygon(corners)


@pytest.mark.parametrize("corners", [[], [(0, 0)], [(0, 0), (1, 0)]])
def test_polygon_needs_three_corners(corners: list) -> None:
    """Fewer than three corners are no outline."""
    with pytest.raises(ValueError, match="at least three corners"):
        area.polygon(corners)


def test_polygon_takes_corners_on_a_straight_edge() -> None:
    """A corner in the middle of a straight edge changes nothing."""
    assert area.polygon([(0, 0), (2, 0), (4, 0), (4, 3), (0, 3)]) == 12.0


def test_polygon_far_from_the_origin_keeps_its_digits() -> None:
    """A small bed measured in map coordinates keeps its area."""
    east, north = 500_000.0, 5_600_000.0
    corners = [(east, north), (east + 1.5, north), (east + 1.5, north + 0.5), (east, north + 0.5)]
    assert area.polygon(corners) == pytest.approx(0.75, rel=1e-12)


@QUICK
@given(SIZE, PART, st.integers(2, 40))
def test_ring_agrees_with_shapely(radius: float, part: float, segments: int) -> None:
    """Shapely's ring of two regular polygons is ours times the part that such a polygon covers."""
    collar = radius * part
    outer, inner = Point(0, 0).buffer(radius, segments), Point(0, 0).buffer(collar, segments)
    expected = area.ring(radius, collar) * inscribed(4 * segments)
    assert outer.difference(inner).area == pytest.approx(expected, rel=1e-9, abs=1e-12)


@QUICK
@given(SIZE, PART)
def test_ring_agrees_with_integration(radius: float, part: float) -> None:
    """A ring is the sum of its circumferences."""
    expected = quad(lambda r: 2 * math.pi * r, radius * part, radius)[0]
    assert area.ring(radius, radius * part) == pytest.approx(expected, rel=1e-9, abs=1e-12)


@pytest.mark.parametrize(("radius", "collar"), [(1.0, 1.0), (1.0, 2.0), (0.0, 0.0), (1.0, math.nan)])
def test_collar_must_fit(radius: float, collar: float) -> None:
    """A collar as wide as its ring, or wider, is refused and never gives a negative area."""
    with pytest.raises(ValueError, match="collar is not smaller"):
        area.ring(radius, collar)
    with pytest.raises(ValueError, match="collar is not smaller"):
        area.row_of_rings(radius, collar, 3.0, 4)


@QUICK
@given(SIZE, st.floats(0.0, 2.5))
def test_lens_agrees_with_integration(radius: float, apart: float) -> None:
    """The ground two circles share is twice the segment beyond half their distance."""
    half = min(apart / 2, 1.0)
    expected = 4 * quad(lambda x: math.sqrt(max(1 - x * x, 0.0)), half, 1.0, epsabs=1e-12)[0] * radius**2
    assert area.lens(radius, apart * radius) == pytest.approx(expected, rel=1e-6, abs=1e-9 * radius**2)


@draws(40)
@given(st.floats(0.2, 5.0), PART, PART.map(lambda part: 3 * part), st.integers(1, 7))
def test_row_of_rings_agrees_with_shapely(radius: float, part: float, apart: float, count: int) -> None:
    """A row of rings is the union of the discs less the union of the collars, for any spacing.

    Shapely's discs have 512 sides and lack 26 parts in a million of a disc each.
    """
    collar, spacing = radius * part, radius * apart
    disc, bare = Point(0, 0).buffer(radius, 128), Point(0, 0).buffer(collar, 128)
    discs = union_all([translate(disc, spacing * index) for index in range(count)])
    collars = union_all([translate(bare, spacing * index) for index in range(count)])
    short = (1 - inscribed(512)) * math.pi * radius**2 * count
    ours = area.row_of_rings(radius, collar, spacing, count)
    assert abs(ours - discs.difference(collars).area) <= 1.01 * short


@QUICK
@given(SIZE, PART, st.integers(1, 40))
def test_row_of_rings_apart_and_together(radius: float, part: float, count: int) -> None:
    """Rings that do not meet add up; rings on one spot are one ring."""
    one = area.ring(radius, radius * part)
    assert area.row_of_rings(radius, radius * part, 2 * radius, count) == pytest.approx(count * one)
    assert area.row_of_rings(radius, radius * part, 0.0, count) == pytest.approx(one, abs=1e-9 * radius**2)


def test_row_without_trees() -> None:
    """No trees cover no ground, whatever their spacing, and fewer cannot be."""
    for spacing in (0.0, 0.05, 1.0, 5.0):
        assert area.row_of_rings(1.0, 0.1, spacing, 0) == 0.0
    with pytest.raises(ValueError, match="fewer than 0 trees"):
        area.row_of_rings(1.0, 0.1, 1.0, -1)


@QUICK
@given(SIZE, PART, st.floats(0.0, 2.5), st.integers(0, 20))
def test_row_of_rings_grows(radius: float, part: float, apart: float, count: int) -> None:
    """More trees never need less ground, nor does a wider ring."""
    spacing, collar = apart * radius, part * radius
    row = area.row_of_rings(radius, collar, spacing, count)
    slack = 1e-9 * radius**2 * count
    assert area.row_of_rings(radius, collar, spacing, count + 1) >= row - slack
    assert area.row_of_rings(radius * 1.1, collar, spacing, count) >= row - slack


@QUICK
@given(*[st.tuples(COORDINATE, COORDINATE)] * 3)
def test_triangle_agrees_with_shapely(a: tuple, b: tuple, c: tuple) -> None:
    """Three sides measured between three points give the area of the points."""
    sides = sorted((math.dist(a, b), math.dist(b, c), math.dist(c, a)))
    assume(sides[0] + sides[1] > sides[2] * 1.001)
    expected = pytest.approx(Polygon([a, b, c]).area, rel=1e-6)
    assert area.triangle(*sides) == expected
    assert area.triangle(*reversed(sides)) == expected


def test_needle_triangle_keeps_its_digits() -> None:
    """A long thin triangle does not lose its area in rounding; Heron's rule in 50 digits is the judge."""
    sides = (100000.0, 99999.99979, 0.00029)
    with localcontext() as context:
        context.prec = 50
        a, b, c = (Decimal(side) for side in sides)
        half = (a + b + c) / 2
        expected = float((half * (half - a) * (half - b) * (half - c)).sqrt())
    assert area.triangle(*sides) == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize("sides", [(1.0, 2.0, 3.0), (1.0, 1.0, 5.0), (0.0, 1.0, 1.0)])
def test_sides_that_cannot_meet(sides: tuple[float, float, float]) -> None:
    """Sides that leave no ground between them are refused in any order."""
    for order in (sides, sides[::-1], (sides[1], sides[2], sides[0])):
        with pytest.raises(ValueError, match="cannot meet"):
            area.triangle(*order)


@QUICK
@given(SIZE, SIZE, SIZE, st.floats(-10.0, 10.0))
def test_trapezoid_agrees_with_shapely(first: float, second: float, height: float, lean: float) -> None:
    """The area does not depend on how far the trapezoid leans."""
    corners = [(0, 0), (first, 0), (lean + second, height), (lean, height)]
    assert area.trapezoid(first, second, height) == pytest.approx(Polygon(corners).area, rel=1e-9)


@QUICK
@given(SIZE, SIZE)
def test_simple_shapes_agree_with_each_other(first: float, second: float) -> None:
    """A square trapezoid is a rectangle, a round ellipse a circle, a ring with no collar a disc."""
    assert area.trapezoid(first, first, second) == pytest.approx(area.rectangle(first, second))
    assert area.ellipse(first, first) == pytest.approx(area.circle(first / 2))
    assert area.ring(first, 0.0) == pytest.approx(area.circle(first))
    assert area.ellipse(first, second) == pytest.approx(quad_ellipse(first, second), rel=1e-6)


def quad_ellipse(first: float, second: float) -> float:
    """Integrate the height of an ellipse across its width."""
    height = quad(lambda turn: math.cos(turn) ** 2, -math.pi / 2, math.pi / 2)[0]
    return first / 2 * second * height
