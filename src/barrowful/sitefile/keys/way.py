"""The description of the ways: buy, have, make and grow."""

from __future__ import annotations

from barrowful.sitefile.keys.buy import BUY, BY_VOLUME, MASS, MATERIAL_NAME, STUFF
from barrowful.sitefile.language.containers import Field, Group
from barrowful.sitefile.language.kinds import Day, Duration, Flag, Number, Words
from barrowful.sitefile.language.lists import ListOf, SetOf
from barrowful.sitefile.language.money import Cash, CashPer, PriceFor
from barrowful.sitefile.language.names import NameOf, PlantName
from barrowful.sitefile.language.quantity import Measure, Stuff
from barrowful.sitefile.language.rules import asks_for, at_most_one, switched_on_bars

BY_MASS = Stuff(("mass",), least="1 g", most="1000000 kg")
MONTHS = SetOf(Number(1, 12, whole=True), 1, 12)
HAVE = Group(
    title="Way: have",
    fields=(
        Field("material", MATERIAL_NAME, help="What there is.", example="autumn leaves", required=True),
        Field("amount", STUFF, help="How much of it.", example="12 barrow", required=True),
        Field("per_year", Flag(), help="Does that much come every year?", example="false", default="false"),
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
LOTS = ("mass", "volume", "amount", "weekly")
INGREDIENT = Group(
    title="An ingredient of a heap",
    one_of=(("material", "way"),),
    rules=(at_most_one(*LOTS), asks_for("material", *LOTS)),
    fields=(
        Field(
            "material",
            MATERIAL_NAME,
            help="A material of the catalogue or of this file.",
            example="coffee grounds",
        ),
        Field(
            "way",
            NameOf(of="way"),
            help="A way of this file it is drawn from.",
            example="tree crew chip",
        ),
        Field("mass", BY_MASS, help="One lot, by mass.", example="40 kg"),
        Field("volume", BY_VOLUME, help="One lot, by volume.", example="300 L"),
        Field("amount", STUFF, help="One lot, in any measure.", example="12 bucket"),
        Field("weekly", STUFF, help="What comes in each week.", example="25 kg"),
        Field(
            "months", MONTHS, help="The months it comes in; all when left out.", example="[4, 5, 6, 7, 8, 9]"
        ),
        Field("price", PriceFor(), help="What it costs, if anything.", example="4 EUR/kg"),
        Field(
            "from_site",
            Flag(),
            help="Did it grow on this site? Cut greens and leaves are taken to, others not.",
            example="true",
        ),
    ),
)
READING = Group(
    title="A temperature reading",
    fields=(
        Field("date", Day(), help="Day it was read.", example="2027-05-02", required=True),
        Field(
            "temperature",
            Measure("temperature", least="-20 degC", most="95 degC"),
            help="Temperature in the core.",
            example="58 degC",
            required=True,
        ),
        Field("turned", Flag(), help="Was the heap turned that day?", example="true", default="false"),
    ),
)
MAKE = Group(
    title="Way: make",
    rules=(switched_on_bars("left", "target_cn", "target_moisture", "chopped", "readings"),),
    fields=(
        Field(
            "bays",
            Number(1, 1000, whole=True),
            help="Bays or heaps that can stand at once.",
            example="2",
            default="1",
        ),
        Field(
            "bay",
            Measure("volume", least="1 L", most="1000 m3", usual=("0.2 m3", "20 m3")),
            help="Volume of one.",
            example="1 m3",
            required=True,
        ),
        Field("height", Measure("length", most="10 m"), help="Height of a full heap.", example="1.1 m"),
        Field(
            "left",
            Flag(),
            help="Is it a pile of chip or leaves left to rot? Then there is no C:N to aim for.",
            example="true",
            default="false",
        ),
        Field("target_cn", Number(5, 200), help="Carbon to nitrogen to aim for.", example="30", default="30"),
        Field(
            "target_moisture",
            Measure("share", least="30 %", most="80 %"),
            help="Moisture to aim for.",
            example="55 %",
            default="55 %",
        ),
        Field(
            "turn_every", Duration(), help="How often it is turned; left out, it is not.", example="2 weeks"
        ),
        Field("chopped", Flag(), help="Are the pieces smaller than 5 cm?", example="true", default="true"),
        Field(
            "from",
            ListOf(INGREDIENT, 1, 40),
            help="What goes in.",
            example="[{material: autumn leaves, volume: 300 L}]",
            required=True,
        ),
        Field(
            "material",
            MATERIAL_NAME,
            help="What it yields; else home compost, and of a pile left to rot rotted chip or leaf mould.",
            example="home compost",
        ),
        Field(
            "readings",
            ListOf(READING, 0, 2000),
            help="A log of core temperatures.",
            example="[{date: 2027-05-02, temperature: 58 degC}]",
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
        Field("cost", Cash(), help="Plants or seed, once.", example="30 EUR"),
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
            "in_place", Flag(), help="Is it cut and dropped where it grows?", example="false", default="false"
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
