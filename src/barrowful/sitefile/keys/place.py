"""The description of places, their shapes and their soil."""

from __future__ import annotations

from barrowful.sitefile.keys.need import NEED, SHARE
from barrowful.sitefile.language.containers import Field, Group, ListOf
from barrowful.sitefile.language.kinds import Choice, Day, Flag, Number, Words
from barrowful.sitefile.language.quantity import Measure

PLACE_KINDS = ("bed", "tree", "row", "pot")

SIDE = Measure(("length",), least="1 mm", most="20 km", usual=("5 cm", "2 km"))
POINT = Measure(("length",), least="-20 km", most="20 km")

RING = Group(
    title="A ring round a trunk",
    one_of=(("radius", "diameter"),),
    fields=(
        Field("radius", SIDE, help="From the trunk's centre to the outer edge.", example="90 cm"),
        Field("diameter", SIDE, help="Across the whole ring.", example="1.8 m"),
        Field(
            "collar",
            Measure(("length",), least="0 m", most="20 m"),
            help="Bare radius kept clear round the trunk, from its centre.",
            example="15 cm",
            default="15 cm",
            source="practice: mulch kept several inches to a foot clear of trunks (UF/IFAS, second-hand)",
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
_SHAPES = (
    Field("rectangle", ListOf(SIDE, 2, 2), help="Length and width.", example="[9 m, 1.2 m]"),
    Field("circle", CIRCLE, help="By radius or diameter.", example="{radius: 60 cm}"),
    Field(
        "ellipse",
        ListOf(SIDE, 2, 2),
        help="Its two full widths, longest and shortest.",
        example="[4 m, 2.5 m]",
    ),
    Field("ring", RING, help="Round a trunk, less a bare collar.", example="{radius: 90 cm, collar: 15 cm}"),
    Field("triangle", ListOf(SIDE, 3, 3), help="Its three sides.", example="[3 m, 4 m, 5 m]"),
    Field(
        "trapezoid",
        TRAPEZOID,
        help="Two parallel sides and the height.",
        example="{sides: [4 m, 6 m], height: 3 m}",
    ),
    Field(
        "polygon",
        ListOf(ListOf(POINT, 2, 2), 3, 500),
        help="Corners as [x, y], in order round the edge.",
        example="[[0 m, 0 m], [4 m, 0 m], [4 m, 3 m]]",
    ),
    Field("strip", STRIP, help="Length and width of a long border.", example="{length: 24 m, width: 50 cm}"),
    Field("area", Measure(("area",), most="100 ha"), help="The area, if you know it.", example="12 m2"),
)
SHAPE = Group(title="A shape", one_of=(tuple(field.key for field in _SHAPES),), fields=_SHAPES)

SOIL = Group(
    title="The soil",
    fields=(
        Field("organic_matter", SHARE, help="Organic matter in the dry soil now.", example="1.8 %"),
        Field(
            "bulk_density",
            Measure(("density",), least="0.05 g/cm3", most="2.6 g/cm3", usual=("0.6 g/cm3", "1.9 g/cm3")),
            help="Dry soil in each volume.",
            example="1.35 g/cm3",
        ),
        Field("clay", SHARE, help="Clay as a share of the fine soil.", example="34 %"),
        Field(
            "stones",
            Measure(("share",), least="0 %", most="95 %"),
            help="Stones as a share of the volume.",
            example="5 %",
        ),
        Field(
            "phosphorus_test",
            Choice(("very low", "low", "medium", "high", "very high")),
            help="The laboratory's own word for the phosphorus found.",
            example="low",
        ),
        Field(
            "tested",
            Day(),
            help="Date of the soil test; only later history is replayed.",
            example="2026-09-10",
        ),
    ),
)
PLACE = Group(
    title="A place",
    fields=(
        Field("name", Words(), help="Your name for it.", example="long beds", required=True),
        Field("kind", Choice(PLACE_KINDS), help="What it is.", example="bed", required=True),
        Field(
            "shape", SHAPE, help="Its shape; exactly one.", example="{rectangle: [9 m, 1.2 m]}", required=True
        ),
        Field(
            "count", Number(1, 1_000_000, whole=True), help="How many equal ones.", example="4", default="1"
        ),
        Field(
            "needs",
            ListOf(NEED, 0, 10),
            help="What it is to get; at most one of a kind.",
            example="[{cover: {depth: 10 cm}}]",
        ),
        Field(
            "soil", SOIL, help="Soil of its own, where it differs from the site's.", example="{clay: 12 %}"
        ),
        Field("ways", ListOf(Words(), 1, 100), help="The only ways to use here.", example="[yard compost]"),
        Field(
            "layer_now",
            Measure(("length",), least="0 m", most="5 m", usual=("0 m", "60 cm")),
            help="Mulch already lying there, settled.",
            example="3 cm",
        ),
        Field(
            "near_water",
            Flag(),
            help="Within 10 m of open water or 50 m of a well or spring?",
            example="false",
        ),
    ),
)
