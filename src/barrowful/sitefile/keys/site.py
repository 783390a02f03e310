"""The description of the whole site file: every top-level key, once."""

from __future__ import annotations

from barrowful.catalogue.judgements import judged_text
from barrowful.measures.problems import ParseError
from barrowful.measures.text import read_own_name
from barrowful.sitefile.keys.amounts import DONE_STUFF, MATERIAL_NAME, MONTHS, STUFF
from barrowful.sitefile.keys.buy import DROP_AT
from barrowful.sitefile.keys.material import MATERIAL
from barrowful.sitefile.keys.need import NEED_KINDS
from barrowful.sitefile.keys.place import PLACE, PRACTICES, SOIL
from barrowful.sitefile.keys.way import WAY
from barrowful.sitefile.language.containers import Field, Group
from barrowful.sitefile.language.kinds import Choice, Currency, Day, Duration, Flag, MonthDay, Words
from barrowful.sitefile.language.lists import ListOf
from barrowful.sitefile.language.materials import Materials
from barrowful.sitefile.language.money import Cash, CashPer
from barrowful.sitefile.language.names import NameOf
from barrowful.sitefile.language.quantity import Measure, OwnMeasure, OwnMeasures
from barrowful.sitefile.language.rules import asks_for, at_most_one

MONTH_DAY = MonthDay(12)
TEMPERATURE = Measure("temperature", least="-30 degC", most="45 degC", usual=("-5 degC", "32 degC"))
#: Of a month; winters of inland places are far colder than their years.
OF_MONTH = Measure("temperature", least="-30 degC", most="45 degC", usual=("-25 degC", "32 degC"))

CLIMATE = Group(
    title="The climate",
    fields=(
        Field("annual_mean", TEMPERATURE, help="Mean air temperature over the year.", example="12.5 degC"),
        Field(
            "monthly_mean",
            ListOf(OF_MONTH, 12, 12),
            help="Mean of each month, January first; better than the annual mean where seasons differ.",
            example="[4 degC, 5 degC, 7 degC, 10 degC, 13 degC, 16 degC,"
            " 18 degC, 18 degC, 15 degC, 11 degC, 7 degC, 5 degC]",
        ),
        Field(
            "rain_less_evaporation",
            Measure("water depth", least="-3000 mm", most="6000 mm"),
            help="Rain and watering less potential evaporation, in a year.",
            example="-250 mm",
        ),
        Field("last_frost", MONTH_DAY, help="Usual last frost in spring, as month-day.", example="04-20"),
        Field("first_frost", MONTH_DAY, help="Usual first frost in autumn, as month-day.", example="10-25"),
        Field(
            "rain_months",
            MONTHS,
            help="The months of rain, of a wet winter or a dry country: they bear on when jobs are done.",
            example="[11, 12, 1, 2]",
        ),
    ),
)
LABOUR = Group(
    title="Labour",
    fields=(
        Field(
            "hourly_value",
            CashPer("hours"),
            help="What an hour is worth to you; 0 leaves it out.",
            example="12 EUR/h",
        ),
        Field(
            "push",
            Measure("length", least="0 m", most="5 km", usual=("0 m", "300 m")),
            help="How far the barrow is pushed, one way.",
            example="40 m",
            default=judged_text("push"),
            source="common practice, no source",
        ),
        Field(
            "hours_per_week",
            Measure("hours", least="0 h", most="168 h"),
            help="Hours you have each week.",
            example="6 h",
        ),
    ),
)
HISTORY = Group(
    title="What was done",
    some_of=("place", "way", "job"),
    rules=(at_most_one("amount", "depth"), asks_for("material", "amount", "depth")),
    fields=(
        Field("date", Day(), help="Day it was done.", example="2026-11-20", required=True),
        Field(
            "place",
            NameOf(of="place"),
            help="A place of this file; without one nothing was put on: a stock was used or spoilt, a heap"
            " built or turned, a job done.",
            example="young plums",
        ),
        Field(
            "way",
            NameOf(of="way"),
            help="The way of this file it came by. From the start on it leaves less of a stock and of heaps"
            " that were built.",
            example="tree crew chip",
        ),
        Field(
            "job",
            Words(200),
            help="Which job it was. Of a heap: built or turned, as its first word; of what filled a bed or"
            " pot: fill.",
            example="built",
        ),
        Field(
            "material",
            MATERIAL_NAME,
            help="What was put on; with a way it is what that brings.",
            example="arborist chip",
        ),
        Field(
            "amount",
            DONE_STUFF,
            help="How much in all; of a heap that was built, its volume, a whole bay when left out; 0 m3 of a"
            " delivery: nothing more comes.",
            example="18 barrow",
        ),
        Field("depth", Measure("length", most="5 m"), help="Or how deep, as spread.", example="8 cm"),
        Field("dug", Flag(), help="Was it dug in?", example="false"),
        Field("hours", Measure("hours", least="0 h", most="10000 h"), help="Hours it took.", example="5 h"),
        Field("cash", Cash(), help="What it cost.", example="0 EUR"),
        Field(
            "organic_matter",
            Measure("share", least="0 %", most="100 %"),
            help="A soil test's result.",
            example="2.4 %",
        ),
        Field(
            "temperature",
            Measure("temperature", least="-20 degC", most="95 degC"),
            help="Temperature in the core of a heap, named as the way.",
            example="58 degC",
        ),
        Field("note", Words(400), help="Anything to remember.", example="second half of the load"),
    ),
)
PLAN = Group(
    title="A line of the plan",
    fields=(
        Field("place", NameOf(of="place"), help="A place of this file.", example="long beds", required=True),
        Field("need", Choice(NEED_KINDS), help="Which of its needs.", example="raise", required=True),
        Field("way", NameOf(of="way"), help="The way to use.", example="yard compost", required=True),
        Field(
            "amount",
            STUFF,
            help="How much in all; when left out, what is needed beside the other lines, within ceilings.",
            example="3 m3",
        ),
        Field(
            "date",
            Day(),
            help="When; without an amount, when it begins. Left out, as the way's row in `options` has it.",
            example="2027-04-10",
        ),
    ),
)
LIMITS = Group(
    title="Limits",
    fields=(
        Field(
            "cash",
            Cash(),
            help="The most money to spend in all, to the end of the horizon.",
            example="400 EUR",
        ),
        Field(
            "hours",
            Measure("hours", least="0 h", most="100000 h"),
            help="The most hours to spend in all, to the end of the horizon; those a week are in labour.",
            example="60 h",
        ),
        *PRACTICES,
        Field(
            "by",
            Day(),
            help="The date everything is to be met by; a raise by its own where that is sooner.",
            example="2029-03-01",
        ),
    ),
)


def _material_name(name: str) -> str:
    if not name.strip() or len(name) > MATERIAL_NAME.most:
        raise ParseError("too-long", f"a material's name has 1 to {MATERIAL_NAME.most} letters")
    return name


SITE = Group(
    title="The site",
    first=("currency", "measures", "materials"),
    fields=(
        Field("site", Words(), help="Name of the holding.", example="Heron Field", required=True),
        Field("currency", Currency(), help="The currency of all money here.", example="EUR", required=True),
        Field("start", Day(), help="The day planning starts from.", example="2027-03-01", required=True),
        Field(
            "horizon",
            Duration("60 years"),
            help="How far ahead to look.",
            example="4 years",
            default="4 years",
            source="common practice, no source",
        ),
        Field(
            "hemisphere",
            Choice(("north", "south")),
            help="Which half of the world.",
            example="north",
            default="north",
        ),
        Field("climate", CLIMATE, help="What drives decay.", example="{annual_mean: 12.5 degC}"),
        Field(
            "soil", SOIL, help="The soil, from a test where there is one.", example="{organic_matter: 1.8 %}"
        ),
        Field(
            "made_ground",
            Flag(),
            help="City, old buildings, roadside or filled ground?",
            example="false",
            default="false",
        ),
        Field(
            "measures",
            OwnMeasures(OwnMeasure(), read_own_name, volumes=("barrow",)),
            help="Your own measures, usable everywhere.",
            example="{barrow: 80 L, bucket: 12 L}",
        ),
        Field(
            "drop_at",
            DROP_AT,
            help="Where what is brought is tipped, in your words; a way may say otherwise.",
            example="by the lower gate",
        ),
        Field("labour", LABOUR, help="Your hours and how far the barrow goes.", example="{push: 40 m}"),
        Field(
            "places",
            ListOf(PLACE, 0, label="name"),
            help="Beds, trees, rows and pots.",
            example="[]",
            required=True,
        ),
        Field("ways", ListOf(WAY, 0, 500, label="name"), help="How material can be come by.", example="[]"),
        Field(
            "materials",
            Materials(MATERIAL, _material_name),
            help="Figures of your own, over the catalogue's.",
            example="{green compost: {density: 640 kg/m3}}",
        ),
        Field(
            "limits",
            LIMITS,
            help="Limits of good practice on every place, and your own (cash, hours, by) on all together.",
            example="{cash: 400 EUR}",
        ),
        Field(
            "plan",
            ListOf(PLAN, 0, 5000),
            help="Your own decisions, followed instead of the tool's.",
            example="[]",
        ),
        Field("history", ListOf(HISTORY, 0, 100_000), help="What was really done.", example="[]"),
    ),
)
