"""The description of heaps: what goes in, how they are looked after, what was read in them."""

from __future__ import annotations

from barrowful.sitefile.keys.amounts import BY_MASS, BY_VOLUME, MATERIAL_NAME, MONTHS, STUFF
from barrowful.sitefile.language.containers import Field, Group
from barrowful.sitefile.language.kinds import Day, Duration, Flag, Number
from barrowful.sitefile.language.lists import ListOf
from barrowful.sitefile.language.money import PriceFor
from barrowful.sitefile.language.names import NameOf
from barrowful.sitefile.language.quantity import Measure
from barrowful.sitefile.language.rules import asks_for, at_most_one, switched_on_bars

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
            "months",
            MONTHS,
            help="The months it comes in, one lot in the first of them; all when left out.",
            example="[4, 5, 6, 7, 8, 9]",
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
            "turn_every",
            Duration(),
            help="How often it is turned; left out, it is not turned.",
            example="2 weeks",
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
