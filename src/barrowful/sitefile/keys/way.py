"""The description of the ways: buy, have, make and grow."""

from __future__ import annotations

from barrowful.sitefile.keys.amounts import MASS, MATERIAL_NAME, MONTHS, STUFF
from barrowful.sitefile.keys.buy import BUY
from barrowful.sitefile.keys.heap import MAKE
from barrowful.sitefile.language.containers import Field, Group
from barrowful.sitefile.language.kinds import Day, Flag, MonthDay, Number, Words
from barrowful.sitefile.language.money import Cash, CashPer
from barrowful.sitefile.language.names import NameOf, PlantName
from barrowful.sitefile.language.quantity import Measure, Stuff
from barrowful.sitefile.language.rules import asks_for, at_most_one

HAVE = Group(
    title="Way: have",
    fields=(
        Field("material", MATERIAL_NAME, help="What there is.", example="autumn leaves", required=True),
        Field(
            "amount",
            Stuff(least="0 m3", most="100000 m3"),
            help="How much of it: 0 m3 once it is used up.",
            example="12 barrow",
            required=True,
        ),
        Field("per_year", Flag(), help="Does that much come every year?", example="false", default="false"),
        Field(
            "comes",
            MonthDay(12),
            help="Day it comes, as month-day; the site's start when left out.",
            example="10-20",
        ),
        Field("left", STUFF, help="What is left besides, of years before.", example="3 barrow"),
        Field("origin", Words(200), help="Where it comes from.", example="the lane"),
        Field(
            "from_site",
            Flag(),
            help="Did it grow on this site? Then it is moved, not brought in.",
            example="false",
            default="false",
        ),
    ),
)
SAMPLE = Group(
    title="A weighed sample",
    rules=(at_most_one("fresh", "dry"), asks_for("area", "fresh", "dry")),
    fields=(
        Field("area", Measure("area", most="100 m2"), help="Ground cut.", example="0.5 m2", required=True),
        Field("fresh", MASS, help="What was cut, fresh.", example="2.1 kg"),
        Field("dry", MASS, help="What was cut, dried.", example="0.4 kg"),
        Field(
            "dry_share", Measure("share", most="100 %"), help="Dry share of the fresh mass.", example="18 %"
        ),
        Field("nitrogen", Measure("share", most="8 %"), help="Nitrogen of the dry matter.", example="3.2 %"),
    ),
)
GROW = Group(
    title="Way: grow",
    some_of=("area", "row", "start_with", "around"),
    fields=(
        Field("plant", PlantName(60), help="A plant of the catalogue.", example="comfrey", required=True),
        Field(
            "start_with",
            Number(1, 1_000_000, whole=True),
            help="Plants or cuttings to start with.",
            example="20",
        ),
        Field("area", Measure("area", most="100 ha"), help="Land there is for it.", example="14 m2"),
        Field(
            "row",
            Measure("length", most="100 km"),
            help="Length of row or fence there is for it.",
            example="30 m",
        ),
        Field(
            "planted",
            Day(),
            help="Date planted or sown; the site's start when left out.",
            example="2026-04-15",
        ),
        Field(
            "spacing",
            Measure("length", most="20 m"),
            help="From plant to plant; else the catalogue's.",
            example="80 cm",
        ),
        Field(
            "rests",
            MONTHS,
            help="Months in which it does not grow: a dry season, or a winter.",
            example="[1, 2, 12]",
        ),
        Field(
            "ended",
            Day(),
            help="Date a cover crop is ended; a full term after sowing when left out.",
            example="2027-04-25",
        ),
        Field(
            "next_planting",
            Day(),
            help="Date the ground is wanted again after a cover crop.",
            example="2027-05-20",
        ),
        Field(
            "around",
            NameOf(of="place with rings"),
            help="A place of trees it is planted round, as a living cover.",
            example="young plums",
        ),
        Field(
            "cost", Cash(), help="Plants or seed, once; nothing more for what stood before.", example="30 EUR"
        ),
        Field("seed", CashPer("mass"), help="Price of seed.", example="6 EUR/kg"),
        Field(
            "sample",
            SAMPLE,
            help="A weighed cut that replaces the table's yield.",
            example="{area: 0.5 m2, fresh: 2.1 kg}",
        ),
        Field(
            "fixed_share",
            Measure("share", least="0 %", most="100 %"),
            help="Share of its nitrogen from the air; legumes only.",
            example="70 %",
        ),
        Field(
            "grows_on",
            NameOf(of="place"),
            help="A place whose ground it stands on: the ledger has it give and take there.",
            example="long beds",
        ),
        Field(
            "in_place",
            Flag(),
            help="Is it cut and dropped where it grows? It serves the place of grows_on alone, uncarried.",
            example="false",
            default="false",
        ),
        Field(
            "displaces",
            Cash(),
            help="Worth of the crop it keeps off the ground, each year.",
            example="40 EUR",
        ),
    ),
)
_KINDS = (
    Field(
        "buy", BUY, help="Material bought and brought.", example="{material: green compost, price: 46 EUR/m3}"
    ),
    Field(
        "make",
        MAKE,
        help="A heap of your own, or a pile left to rot.",
        example="{bay: 1 m3, from: [{material: autumn leaves, volume: 300 L}]}",
    ),
    Field("grow", GROW, help="Biomass grown on the site.", example="{plant: comfrey, start_with: 20}"),
    Field("have", HAVE, help="Stock on hand.", example="{material: autumn leaves, amount: 2 m3}"),
)
#: The words for the kinds of way.
WAY_KINDS = tuple(field.key for field in _KINDS)
WAY = Group(
    title="A way",
    one_of=(WAY_KINDS,),
    fields=(Field("name", Words(), help="Your name for it.", example="yard compost", required=True), *_KINDS),
)
