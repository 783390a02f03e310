"""The description of the ways: buy, have, make and grow."""

from __future__ import annotations

from barrowful.sitefile.language.containers import Field, Group, ListOf
from barrowful.sitefile.language.kinds import Cash, Choice, Day, Duration, Flag, Number, Words
from barrowful.sitefile.language.quantity import Measure

WAY_KINDS = ("buy", "make", "grow", "have")

VOLUME = Measure(("volume",), least="1 cm3", most="100000 m3")
STUFF = Measure(("volume", "mass"), least="1 cm3", most="100000 m3")
MASS = Measure(("mass",), least="1 g", most="1000000 kg")
MONTHS = ListOf(Number(1, 12, whole=True), 1, 12)
NAME = Words(60)

BUY = Group(
    title="Way: buy",
    fields=(
        Field("material", NAME, "What is bought.", "green compost", required=True),
        Field(
            "price",
            Cash(("volume", "mass", "bag", "load")),
            "Price for a volume, a mass, a bag or a load.",
            "46 EUR/m3",
            required=True,
        ),
        Field("bag", STUFF, "What one bag holds, by volume or mass.", "40 L"),
        Field("load", VOLUME, "What one load holds.", "10 m3"),
        Field("whole_loads", Flag(), "Are only whole loads brought?", "true", default="true"),
        Field("step", STUFF, "The seller's step; orders are rounded up to it.", "0.5 m3"),
        Field("minimum", STUFF, "The least the seller brings.", "2 m3"),
        Field("delivery", Cash(), "Cost of each trip.", "55 EUR", default=""),
        Field("truck", VOLUME, "What one trip can bring, by volume.", "8 m3"),
        Field("payload", MASS, "What one trip can carry, by mass.", "600 kg"),
        Field("box", VOLUME, "Volume of your own trailer or truck bed, when you collect.", "1.5 m3"),
        Field("tax", Measure(("share",), least="0 %", most="100 %"), "Tax on price and delivery.", "20 %"),
        Field("lead", Duration(zero=True), "From ordering to delivery.", "2 weeks"),
        Field("drop", Choice(("yard", "road")), "Where it is tipped.", "yard", default="yard"),
        Field("origin", Words(200), "Where it comes from, as the seller says.", "local trees"),
        Field("notes", Words(400), "Anything to remember about the seller.", "ring the day before"),
    ),
)
HAVE = Group(
    title="Way: have",
    fields=(
        Field("material", NAME, "What there is.", "autumn leaves", required=True),
        Field("amount", STUFF, "How much of it.", "12 barrow", required=True),
        Field("per_year", Flag(), "Does that much come every year?", "false", default="false"),
        Field("origin", Words(200), "Where it comes from.", "the lane"),
        Field(
            "from_site",
            Flag(),
            "Did it grow on this site? Then it is moved, not brought in.",
            "false",
            default="false",
        ),
    ),
)
INGREDIENT = Group(
    title="An ingredient of a heap",
    one_of=(("material", "way"),),
    fields=(
        Field("material", NAME, "A material of the catalogue or of this file.", "coffee grounds"),
        Field("way", NAME, "A way of this file it is drawn from.", "tree crew chip"),
        Field("mass", MASS, "One lot, by mass.", "40 kg"),
        Field("volume", VOLUME, "One lot, by volume.", "300 L"),
        Field("amount", STUFF, "One lot, in any measure.", "12 bucket"),
        Field("weekly", STUFF, "What comes in each week.", "25 kg"),
        Field("months", MONTHS, "The months it comes in; all when left out.", "[4, 5, 6, 7, 8, 9]"),
        Field("price", Cash(("volume", "mass")), "What it costs, if anything.", "4 EUR/kg"),
        Field(
            "from_site",
            Flag(),
            "Did it grow on this site? Cut greens and leaves are taken to, others not.",
            "true",
        ),
    ),
)
READING = Group(
    title="A temperature reading",
    fields=(
        Field("date", Day(), "Day it was read.", "2027-05-02", required=True),
        Field(
            "temperature",
            Measure(("temperature",), least="-20 degC", most="95 degC"),
            "Temperature in the core.",
            "58 degC",
            required=True,
        ),
        Field("turned", Flag(), "Was the heap turned that day?", "true", default="false"),
    ),
)
MAKE = Group(
    title="Way: make",
    fields=(
        Field("bays", Number(1, 1000, whole=True), "Bays or heaps that can stand at once.", "2", default="1"),
        Field(
            "bay",
            Measure(("volume",), least="1 L", most="1000 m3", usual=("0.2 m3", "20 m3")),
            "Volume of one.",
            "1 m3",
            required=True,
        ),
        Field("height", Measure(("length",), most="10 m"), "Height of a full heap.", "1.1 m"),
        Field("target_cn", Number(5, 200), "Carbon to nitrogen to aim for.", "30", default="30"),
        Field(
            "target_moisture",
            Measure(("share",), least="30 %", most="80 %"),
            "Moisture to aim for.",
            "55 %",
            default="55 %",
        ),
        Field("turn_every", Duration(), "How often it is turned; left out, it is not turned.", "2 weeks"),
        Field("chopped", Flag(), "Are the pieces smaller than 5 cm?", "true", default="true"),
        Field(
            "from",
            ListOf(INGREDIENT, 1, 40),
            "What goes in.",
            "[{material: straw, volume: 300 L}]",
            required=True,
        ),
        Field("material", NAME, "What it yields.", "home compost", default="home compost"),
        Field(
            "readings",
            ListOf(READING, 0, 2000),
            "A log of core temperatures.",
            "[{date: 2027-05-02, temperature: 58 degC}]",
        ),
    ),
)
SAMPLE = Group(
    title="A weighed sample",
    fields=(
        Field("area", Measure(("area",), most="100 m2"), "Ground cut.", "0.5 m2", required=True),
        Field("fresh", MASS, "What was cut, fresh.", "2.1 kg"),
        Field("dry", MASS, "What was cut, dried.", "0.4 kg"),
        Field("dry_share", Measure(("share",), most="100 %"), "Dry share of the fresh mass.", "18 %"),
        Field("nitrogen", Measure(("share",), most="8 %"), "Nitrogen of the dry matter.", "3.2 %"),
    ),
)
GROW = Group(
    title="Way: grow",
    some_of=("area", "row", "start_with", "around"),
    fields=(
        Field("plant", NAME, "A plant of the catalogue.", "comfrey", required=True),
        Field("start_with", Number(1, 1_000_000, whole=True), "Plants or cuttings to start with.", "20"),
        Field("area", Measure(("area",), most="100 ha"), "Land there is for it.", "14 m2"),
        Field("row", Measure(("length",), most="100 km"), "Length of row or fence there is for it.", "30 m"),
        Field("planted", Day(), "Date planted or sown; the site's start when left out.", "2026-04-15"),
        Field(
            "spacing",
            Measure(("length",), most="20 m"),
            "From plant to plant; else the catalogue's.",
            "80 cm",
        ),
        Field("rests", MONTHS, "Months in which it does not grow: a dry season, or a winter.", "[1, 2, 12]"),
        Field(
            "ended",
            Day(),
            "Date a cover crop is ended; a full term after sowing when left out.",
            "2027-04-25",
        ),
        Field("next_planting", Day(), "Date the ground is wanted again after a cover crop.", "2027-05-20"),
        Field("around", Words(), "A place of trees it is planted round, as a living cover.", "young plums"),
        Field("cost", Cash(), "Plants or seed, once.", "30 EUR"),
        Field("seed", Cash(("mass",)), "Price of seed.", "6 EUR/kg"),
        Field(
            "sample",
            SAMPLE,
            "A weighed cut that replaces the table's yield.",
            "{area: 0.5 m2, fresh: 2.1 kg}",
        ),
        Field(
            "fixed_share",
            Measure(("share",), least="0 %", most="100 %"),
            "Share of its nitrogen from the air; legumes only.",
            "70 %",
        ),
        Field("in_place", Flag(), "Is it cut and dropped where it grows?", "false", default="false"),
        Field("displaces", Cash(), "Worth of the crop it keeps off the ground, each year.", "40 EUR"),
    ),
)
WAY = Group(
    title="A way",
    one_of=(WAY_KINDS,),
    fields=(
        Field("name", Words(), "Your name for it.", "yard compost", required=True),
        Field("buy", BUY, "Material bought and brought.", "{material: green compost, price: 46 EUR/m3}"),
        Field("make", MAKE, "A heap of your own.", "{bay: 1 m3, from: [{material: straw, volume: 300 L}]}"),
        Field("grow", GROW, "Biomass grown on the site.", "{plant: comfrey, start_with: 20}"),
        Field("have", HAVE, "Stock on hand.", "{material: autumn leaves, amount: 2 m3}"),
    ),
)
