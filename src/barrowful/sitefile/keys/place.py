"""The description of places, their shapes and their needs."""

from __future__ import annotations

from barrowful.sitefile.language.containers import Field, Group, ListOf
from barrowful.sitefile.language.kinds import Choice, Day, Flag, Number, Words
from barrowful.sitefile.language.quantity import Measure

PLACE_KINDS = ("bed", "tree", "row", "pot")
NEED_KINDS = ("cover", "dress", "raise", "feed", "fill")

SIDE = Measure(("length",), least="1 mm", most="20 km", usual=("5 cm", "2 km"))
POINT = Measure(("length",), least="-20 km", most="20 km")
DEPTH = Measure(("length",), least="0.1 mm", most="10 m", usual=("2 mm", "60 cm"))
LAYER = Measure(("length",), least="0.1 mm", most="100 m", usual=("2 cm", "40 cm"))
SHARE = Measure(("share",), least="0 %", most="100 %")

RING = Group(
    title="A ring round a trunk",
    one_of=(("radius", "diameter"),),
    fields=(
        Field("radius", SIDE, "From the trunk's centre to the outer edge.", "90 cm"),
        Field("diameter", SIDE, "Across the whole ring.", "1.8 m"),
        Field(
            "collar",
            Measure(("length",), least="0 m", most="20 m"),
            "Bare radius kept clear round the trunk, from its centre.",
            "15 cm",
            default="15 cm",
            source="practice: mulch kept several inches to a foot clear of trunks (UF/IFAS, second-hand)",
        ),
        Field("spacing", SIDE, "Distance from trunk to trunk in a row; shared ground counts once.", "1.5 m"),
    ),
)
CIRCLE = Group(
    title="A circle",
    one_of=(("radius", "diameter"),),
    fields=(
        Field("radius", SIDE, "From centre to edge.", "60 cm"),
        Field("diameter", SIDE, "Straight across.", "1.2 m"),
    ),
)
TRAPEZOID = Group(
    title="A trapezoid",
    fields=(
        Field("sides", ListOf(SIDE, 2, 2), "The two parallel sides.", "[4 m, 6 m]", required=True),
        Field("height", SIDE, "Square across between them.", "3 m", required=True),
    ),
)
STRIP = Group(
    title="A strip",
    fields=(
        Field("length", SIDE, "How long it runs.", "24 m", required=True),
        Field("width", SIDE, "How wide it is.", "50 cm", required=True),
    ),
)
_SHAPES = (
    Field("rectangle", ListOf(SIDE, 2, 2), "Length and width.", "[9 m, 1.2 m]"),
    Field("circle", CIRCLE, "By radius or diameter.", "{radius: 60 cm}"),
    Field("ellipse", ListOf(SIDE, 2, 2), "Its two full widths, longest and shortest.", "[4 m, 2.5 m]"),
    Field("ring", RING, "Round a trunk, less a bare collar.", "{radius: 90 cm, collar: 15 cm}"),
    Field("triangle", ListOf(SIDE, 3, 3), "Its three sides.", "[3 m, 4 m, 5 m]"),
    Field("trapezoid", TRAPEZOID, "Two parallel sides and the height.", "{sides: [4 m, 6 m], height: 3 m}"),
    Field(
        "polygon",
        ListOf(ListOf(POINT, 2, 2), 3, 500),
        "Corners as [x, y], in order round the edge.",
        "[[0 m, 0 m], [4 m, 0 m], [4 m, 3 m]]",
    ),
    Field("strip", STRIP, "Length and width of a long border.", "{length: 24 m, width: 50 cm}"),
    Field("area", Measure(("area",), most="100 ha"), "The area, if you know it.", "12 m2"),
)
SHAPE = Group(title="A shape", one_of=(tuple(field.key for field in _SHAPES),), fields=_SHAPES)

_SETTLED = "Is the depth meant after settling (true) or as spread (false)?"
_COMMON = (
    Field("dug", Flag(), "Is the material dug in (true) or left on top (false)?", "false"),
    Field("allowance", SHARE, "Extra ordered for spills and uneven ground.", "10 %", default="0 %"),
    Field("most_per_application", DEPTH, "The deepest layer put on at one time, as spread.", "5 cm"),
)
COVER = Group(
    title="Need: cover",
    some_of=("depth", "smother"),
    fields=(
        Field("depth", LAYER, "Depth of the mulch layer to keep up.", "10 cm"),
        Field("smother", Flag(), "Lay it to smother grass, at the published sheet-mulch depth.", "true"),
        Field("settled", Flag(), _SETTLED, "true", default="true"),
        Field(
            "keep", SHARE, "Top up when the layer is below this share of its depth.", "60 %", default="60 %"
        ),
        *_COMMON,
    ),
)
DRESS = Group(
    title="Need: dress",
    one_of=(("depth", "dose"),),
    fields=(
        Field("depth", DEPTH, "Depth of the dressing.", "2 cm"),
        Field("dose", Measure(("dose",), most="500 kg/m2"), "Mass to each area, as delivered.", "3 kg/m2"),
        Field("settled", Flag(), _SETTLED, "false", default="false"),
        *_COMMON,
    ),
)
RAISE = Group(
    title="Need: raise",
    fields=(
        Field(
            "organic_matter",
            Measure(("share",), most="60 %", usual=("0.5 %", "15 %")),
            "Soil organic matter to reach, as a share of dry soil.",
            "4 %",
            required=True,
        ),
        Field("depth", DEPTH, "Depth of soil it is to be reached in.", "15 cm", required=True),
        Field(
            "by", Day(), "Date it is to be reached by; without it, a year after the first dose.", "2028-03-01"
        ),
        *_COMMON,
    ),
)
FEED = Group(
    title="Need: feed",
    some_of=("nitrogen", "phosphorus", "potassium", "for"),
    fields=(
        Field("nitrogen", Measure(("feed",), most="200 g/m2"), "Available nitrogen each season.", "12 g/m2"),
        Field("phosphorus", Measure(("feed",), most="100 g/m2"), "Phosphorus each season.", "2 g/m2"),
        Field("potassium", Measure(("feed",), most="200 g/m2"), "Potassium each season.", "10 g/m2"),
        Field("for", Words(40), "A crop or fruit tree of the catalogue, instead of figures.", "cabbage"),
        Field("trunk", Measure(("length",), most="3 m"), "Trunk diameter, for trees fed by it.", "6 cm"),
        Field("age", Measure(("time",), most="200 years"), "Age, for trees fed by it.", "4 years"),
        Field("crop", Measure(("dose",), most="50 kg/m2"), "Expected crop, for crops fed by it.", "5 kg/m2"),
        *_COMMON,
    ),
)
FILL = Group(
    title="Need: fill",
    one_of=(("depth", "volume"),),
    fields=(
        Field("depth", Measure(("length",), most="10 m", usual=("2 cm", "2 m")), "Depth to fill.", "40 cm"),
        Field("volume", Measure(("volume",), most="10000 m3"), "Volume to fill.", "200 L"),
        Field("settled", Flag(), _SETTLED, "true", default="true"),
        *_COMMON,
    ),
)
NEED = Group(
    title="A need",
    one_of=(NEED_KINDS,),
    fields=(
        Field("cover", COVER, "A mulch layer kept up.", "{depth: 10 cm}"),
        Field("dress", DRESS, "A depth or a dose put on once.", "{depth: 2 cm}"),
        Field("raise", RAISE, "Soil organic matter raised by a date.", "{organic_matter: 4 %, depth: 15 cm}"),
        Field("feed", FEED, "Nutrients for each season.", "{nitrogen: 12 g/m2}"),
        Field("fill", FILL, "A bed or pot filled.", "{depth: 40 cm}"),
    ),
)
SOIL = Group(
    title="The soil",
    fields=(
        Field("organic_matter", SHARE, "Organic matter in the dry soil now.", "1.8 %"),
        Field(
            "bulk_density",
            Measure(("density",), least="0.05 g/cm3", most="2.6 g/cm3", usual=("0.6 g/cm3", "1.9 g/cm3")),
            "Dry soil in each volume.",
            "1.35 g/cm3",
        ),
        Field("clay", SHARE, "Clay as a share of the fine soil.", "34 %"),
        Field(
            "stones", Measure(("share",), least="0 %", most="95 %"), "Stones as a share of the volume.", "5 %"
        ),
        Field(
            "phosphorus_test",
            Choice(("very low", "low", "medium", "high", "very high")),
            "The laboratory's own word for the phosphorus found.",
            "low",
        ),
        Field("tested", Day(), "Date of the soil test; only later history is replayed.", "2026-09-10"),
    ),
)
PLACE = Group(
    title="A place",
    fields=(
        Field("name", Words(), "Your name for it.", "long beds", required=True),
        Field("kind", Choice(PLACE_KINDS), "What it is.", "bed", required=True),
        Field("shape", SHAPE, "Its shape; exactly one.", "{rectangle: [9 m, 1.2 m]}", required=True),
        Field("count", Number(1, 1_000_000, whole=True), "How many equal ones.", "4", default="1"),
        Field(
            "needs",
            ListOf(NEED, 0, 10),
            "What it is to get; at most one of a kind.",
            "[{cover: {depth: 10 cm}}]",
        ),
        Field("soil", SOIL, "Soil of its own, where it differs from the site's.", "{clay: 12 %}"),
        Field("ways", ListOf(Words(), 1, 100), "The only ways to use here.", "[yard compost]"),
        Field(
            "layer_now",
            Measure(("length",), least="0 m", most="5 m", usual=("0 m", "60 cm")),
            "Mulch already lying there, settled.",
            "3 cm",
        ),
        Field("near_water", Flag(), "Within 10 m of open water or 50 m of a well or spring?", "false"),
    ),
)
