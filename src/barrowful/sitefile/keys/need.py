"""The description of the needs, of each kind."""

from __future__ import annotations

from barrowful.sitefile.language.containers import Field, Group
from barrowful.sitefile.language.kinds import Day, Duration, Flag, Number
from barrowful.sitefile.language.names import CropName
from barrowful.sitefile.language.quantity import Measure
from barrowful.sitefile.language.shares import Mix, ShareRange

DEPTH = Measure("length", least="0.1 mm", most="10 m", usual=("2 mm", "60 cm"))
LAYER = Measure("length", least="0.1 mm", most="100 m", usual=("2 cm", "40 cm"))
SHARE = Measure("share", least="0 %", most="100 %")

_SETTLED = "Is the depth meant after settling (true) or as spread (false)?"
_COMMON = (
    Field(
        "allowance", SHARE, help="Extra ordered for spills and uneven ground.", example="10 %", default="0 %"
    ),
    Field(
        "most_per_application", DEPTH, help="The deepest layer put on at one time, as spread.", example="5 cm"
    ),
)


def _common(without: str = "it is not") -> tuple[Field, ...]:
    """Return the keys of every need, with what holds without a word on whether it is dug in."""
    help_ = f"Is the material dug in (true) or left on top (false)? Left out, {without}."
    return Field("dug", Flag(), help=help_, example="false"), *_COMMON


COVER = Group(
    title="Need: cover",
    some_of=("depth", "smother"),
    fields=(
        Field("depth", LAYER, help="Depth of the mulch layer to keep up.", example="10 cm"),
        Field(
            "smother",
            Flag(),
            help="Lay it to smother grass, at the published sheet-mulch depth.",
            example="true",
        ),
        Field("settled", Flag(), help=_SETTLED, example="true", default="true"),
        Field(
            "keep",
            SHARE,
            help="Top up when the layer is below this share of its depth.",
            example="60 %",
            default="60 %",
        ),
        *_common(),
    ),
)
DRESS = Group(
    title="Need: dress",
    one_of=(("depth", "dose"),),
    fields=(
        Field("depth", DEPTH, help="Depth of the dressing.", example="2 cm"),
        Field(
            "dose",
            Measure("dose", most="500 kg/m2"),
            help="Mass to each area, as delivered.",
            example="3 kg/m2",
        ),
        Field("settled", Flag(), help=_SETTLED, example="false", default="false"),
        *_common(),
    ),
)
RAISE = Group(
    title="Need: raise",
    fields=(
        Field(
            "organic_matter",
            Measure("share", most="60 %", usual=("0.5 %", "15 %")),
            help="Soil organic matter to reach, as a share of dry soil.",
            example="4 %",
            required=True,
        ),
        Field("depth", DEPTH, help="Depth of soil it is to be reached in.", example="15 cm", required=True),
        Field(
            "by",
            Day(),
            help="Date it is to be reached by; without it, a year after the first dose.",
            example="2028-03-01",
        ),
        Field(
            "hold",
            Duration("10 years", zero=True),
            help="How long it is to be held from then on.",
            example="1 year",
            default="1 year",
        ),
        *_common("it is"),
    ),
)
FEED = Group(
    title="Need: feed",
    some_of=("nitrogen", "phosphorus", "potassium", "for"),
    fields=(
        Field(
            "nitrogen",
            Measure("feed", gives="dose", most="200 g/m2"),
            help="Available nitrogen each season.",
            example="12 g/m2",
        ),
        Field(
            "phosphorus",
            Measure("feed", gives="dose", most="100 g/m2"),
            help="Phosphorus each season.",
            example="2 g/m2",
        ),
        Field(
            "potassium",
            Measure("feed", gives="dose", most="200 g/m2"),
            help="Potassium each season.",
            example="10 g/m2",
        ),
        Field(
            "for",
            CropName(40),
            help="A crop or fruit tree of the catalogue, instead of figures.",
            example="cabbage",
        ),
        Field(
            "trunk",
            Measure("length", most="3 m"),
            help="Trunk diameter, for trees fed by it.",
            example="6 cm",
        ),
        Field("age", Measure("time", most="200 years"), help="Age, for trees fed by it.", example="4 years"),
        Field(
            "crop",
            Measure("dose", most="50 kg/m2"),
            help="Expected crop, for crops fed by it.",
            example="5 kg/m2",
        ),
        *_common(),
    ),
)
#: What a mix may hold: the classes that suit a fill, and sand apart from other soil.
_PARTS = ("compost", "soil", "sand")
MIX = Mix(
    title="A mix to fill with",
    some_of=_PARTS,
    fields=tuple(
        Field(part, ShareRange(), help=f"Share of the volume that is {part}.", example="25..100 %")
        for part in _PARTS
    ),
)
FILL = Group(
    title="Need: fill",
    one_of=(("depth", "volume"),),
    fields=(
        Field(
            "depth",
            Measure("length", most="10 m", usual=("2 cm", "2 m")),
            help="Depth to fill.",
            example="40 cm",
        ),
        Field("volume", Measure("volume", most="10000 m3"), help="Volume to fill.", example="200 L"),
        Field(
            "settled",
            Flag(),
            help="Is it meant after settling (true: more is ordered for that) or as filled (false)?",
            example="true",
            default="true",
        ),
        Field(
            "mix",
            MIX,
            help="What it is to be filled with, by shares of the volume; good practice without it. Potting"
            " compost in bags is a mix already: describe it with class: soil, and fill with {soil: 100 %}.",
            example="{soil: 50..70 %, compost: 30..50 %}",
        ),
        *_common(),
    ),
)
LIME = Group(
    title="Need: lime",
    fields=(
        Field("ph", Number(3, 10), help="pH to raise the soil to.", example="6.5", required=True),
        Field(
            "depth",
            DEPTH,
            help="Depth of soil it is to be raised in.",
            example="20 cm",
            default="20 cm",
            source="the depth that the table of lime is for (RB209 section 1)",
        ),
        *_common("it is, but round trees and in rows it is not"),
    ),
)
_KINDS = (
    Field("cover", COVER, help="A mulch layer kept up.", example="{depth: 10 cm}"),
    Field("dress", DRESS, help="A depth or a dose put on once.", example="{depth: 2 cm}"),
    Field(
        "raise",
        RAISE,
        help="Soil organic matter raised by a date.",
        example="{organic_matter: 4 %, depth: 15 cm}",
    ),
    Field("feed", FEED, help="Nutrients for each season.", example="{nitrogen: 12 g/m2}"),
    Field("fill", FILL, help="A bed or pot filled.", example="{depth: 40 cm}"),
    Field("lime", LIME, help="The soil's pH raised.", example="{ph: 6.5}"),
)
#: The words for the kinds of need, as the manual lists them. They are settled in that of needs/registry.py.
NEED_KINDS = tuple(field.key for field in _KINDS)
NEED = Group(title="A need", one_of=(NEED_KINDS,), fields=_KINDS)
