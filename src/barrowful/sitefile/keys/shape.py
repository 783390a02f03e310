"""The shapes a place can have: how each is described, and how its area comes of that."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, NamedTuple

from barrowful.ground import area
from barrowful.sitefile.language.containers import Field, Group
from barrowful.sitefile.language.context import Section
from barrowful.sitefile.language.lists import ListOf
from barrowful.sitefile.language.quantity import Measure

SIDE = Measure("length", least="1 mm", most="20 km", usual=("5 cm", "2 km"))
POINT = Measure("length", least="-20 km", most="20 km")

RING = Group(
    title="A ring round a trunk",
    one_of=(("radius", "diameter"),),
    fields=(
        Field("radius", SIDE, help="From the trunk's centre to the outer edge.", example="90 cm"),
        Field("diameter", SIDE, help="Across the whole ring.", example="1.8 m"),
        Field(
            "collar",
            Measure("length", least="0 m", most="20 m"),
            help="Bare radius kept clear round the trunk, from its centre.",
            example="15 cm",
            default="15 cm",
            source="practice: bare ground of some inches, up to a foot, round trunks (UF/IFAS, second-hand)",
        ),
        Field(
            "spacing",
            SIDE,
            help="Distance from trunk to trunk in a row; shared ground counts once.",
            example="1.5 m",
        ),
    ),
)
CIRCLE = Group(
    title="A circle",
    one_of=(("radius", "diameter"),),
    fields=(
        Field("radius", SIDE, help="From centre to edge.", example="60 cm"),
        Field("diameter", SIDE, help="Straight across.", example="1.2 m"),
    ),
)
TRAPEZOID = Group(
    title="A trapezoid",
    fields=(
        Field(
            "sides", ListOf(SIDE, 2, 2), help="The two parallel sides.", example="[4 m, 6 m]", required=True
        ),
        Field("height", SIDE, help="Square across between them.", example="3 m", required=True),
    ),
)
STRIP = Group(
    title="A strip",
    fields=(
        Field("length", SIDE, help="How long it runs.", example="24 m", required=True),
        Field("width", SIDE, help="How wide it is.", example="50 cm", required=True),
    ),
)


class Shape(NamedTuple):
    """A shape: its key, and the area [m2] of one of so many equal places; what cannot be is a ValueError."""

    field: Field
    area: Callable[[Any, int], float]


def radius(shape: Section) -> float:
    """Return the radius [m] of a circle or ring, which is given by radius or diameter."""
    across: float | None = shape.get("diameter")
    return float(shape["radius"]) if across is None else across / 2


def _ring(ring: Section, count: int) -> float:
    """Return the area [m2] of one ring; of a row, the row's ground shared by its count."""
    spacing: float | None = ring.get("spacing")
    if spacing is None:
        return area.ring(radius(ring), ring["collar"])
    return area.row_of_rings(radius(ring), ring["collar"], spacing, count) / count


def _by_sides(formula: Callable[..., float]) -> Callable[[Any, int], float]:
    return lambda sides, count: formula(*sides)


def _trapezoid(trapezoid: Section, count: int) -> float:
    first, second = trapezoid["sides"]
    return area.trapezoid(first, second, trapezoid["height"])


SHAPES = (
    Shape(
        Field("rectangle", ListOf(SIDE, 2, 2), help="Length and width.", example="[9 m, 1.2 m]"),
        _by_sides(area.rectangle),
    ),
    Shape(
        Field("circle", CIRCLE, help="By radius or diameter.", example="{radius: 60 cm}"),
        lambda circle, count: area.circle(radius(circle)),
    ),
    Shape(
        Field(
            "ellipse",
            ListOf(SIDE, 2, 2),
            help="Its two full widths, longest and shortest.",
            example="[4 m, 2.5 m]",
        ),
        _by_sides(area.ellipse),
    ),
    Shape(
        Field(
            "ring", RING, help="Round a trunk, less a bare collar.", example="{radius: 90 cm, collar: 15 cm}"
        ),
        _ring,
    ),
    Shape(
        Field("triangle", ListOf(SIDE, 3, 3), help="Its three sides.", example="[3 m, 4 m, 5 m]"),
        _by_sides(area.triangle),
    ),
    Shape(
        Field(
            "trapezoid",
            TRAPEZOID,
            help="Two parallel sides and the height.",
            example="{sides: [4 m, 6 m], height: 3 m}",
        ),
        _trapezoid,
    ),
    Shape(
        Field(
            "polygon",
            ListOf(ListOf(POINT, 2, 2), 3, 500),
            help="Corners as [x, y], in order round the edge.",
            example="[[0 m, 0 m], [4 m, 0 m], [4 m, 3 m]]",
        ),
        lambda corners, count: area.polygon(corners),
    ),
    Shape(
        Field(
            "strip", STRIP, help="Length and width of a long border.", example="{length: 24 m, width: 50 cm}"
        ),
        lambda strip, count: area.rectangle(strip["length"], strip["width"]),
    ),
    Shape(
        Field("area", Measure("area", most="100 ha"), help="The area, if you know it.", example="12 m2"),
        lambda known, count: float(known),
    ),
)
#: The words for the shapes -> the area [m2] of one of so many.
AREAS = {shape.field.key: shape.area for shape in SHAPES}
SHAPE = Group(title="A shape", one_of=(tuple(AREAS),), fields=tuple(shape.field for shape in SHAPES))
