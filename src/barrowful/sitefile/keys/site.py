"""The description of the whole site file: every top-level key, once."""

from __future__ import annotations

from barrowful.catalogue.judgements import judged_text
from barrowful.measures.problems import ParseError
from barrowful.measures.text import read_own_name
from barrowful.sitefile.keys.material import MATERIAL
from barrowful.sitefile.keys.place import NEED_KINDS, PLACE, SOIL
from barrowful.sitefile.keys.way import NAME, STUFF, WAY
from barrowful.sitefile.language.containers import Field, Group, ListOf, Named
from barrowful.sitefile.language.kinds import Cash, Choice, Currency, Day, Duration, Flag, Words
from barrowful.sitefile.language.quantity import Measure, OwnMeasure

TEMPERATURE = Measure(("temperature",), least="-30 degC", most="45 degC", usual=("-5 degC", "32 degC"))

CLIMATE = Group(
    title="The climate",
    fields=(
        Field("annual_mean", TEMPERATURE, "Mean air temperature over the year.", "12.5 degC"),
        Field(
            "monthly_mean",
            ListOf(TEMPERATURE, 12, 12),
            "Mean of each month, January first; better than the annual mean where seasons differ.",
            "[4 degC, 5 degC, 7 degC, 10 degC, 13 degC, 16 degC, 18 degC, 18 degC, 15 degC, 11 degC, 7 degC, 5 degC]",
        ),
        Field(
            "rain_less_evaporation",
            Measure(("water depth",), least="-3000 mm", most="6000 mm"),
            "Rain and watering less potential evaporation, in a year.",
            "-250 mm",
        ),
        Field("last_frost", Words(12), "Usual last frost in spring, as month-day.", "04-20"),
        Field("first_frost", Words(12), "Usual first frost in autumn, as month-day.", "10-25"),
    ),
)
LABOUR = Group(
    title="Labour",
    fields=(
        Field("hourly_value", Cash(("hours",)), "What an hour is worth to you; 0 leaves it out.", "12 EUR/h"),
        Field(
            "push",
            Measure(("length",), least="0 m", most="5 km", usual=("0 m", "300 m")),
            "How far the barrow is pushed, one way.",
            "40 m",
            default=judged_text("push"),
            source="common practice, no source",
        ),
        Field(
            "hours_per_week",
            Measure(("hours",), least="0 h", most="168 h"),
            "Hours you have each week.",
            "6 h",
        ),
    ),
)
HISTORY = Group(
    title="What was done",
    fields=(
        Field("date", Day(), "Day it was done.", "2026-11-20", required=True),
        Field("place", Words(), "A place of this file.", "young plums", required=True),
        Field("material", NAME, "What was put on.", "arborist chip"),
        Field("amount", STUFF, "How much in all.", "18 barrow"),
        Field("depth", Measure(("length",), most="5 m"), "Or how deep, as spread.", "8 cm"),
        Field("dug", Flag(), "Was it dug in?", "false"),
        Field("hours", Measure(("hours",), least="0 h", most="10000 h"), "Hours it took.", "5 h"),
        Field("cash", Cash(), "What it cost.", "0 EUR"),
        Field(
            "organic_matter", Measure(("share",), least="0 %", most="100 %"), "A soil test's result.", "2.4 %"
        ),
        Field("note", Words(400), "Anything to remember.", "second half of the load"),
    ),
)
PLAN = Group(
    title="A line of the plan",
    fields=(
        Field("place", Words(), "A place of this file.", "long beds", required=True),
        Field("need", Choice(NEED_KINDS), "Which of its needs.", "raise", required=True),
        Field("way", NAME, "The way to use.", "yard compost", required=True),
        Field("amount", STUFF, "How much in all; what is needed when left out.", "3 m3"),
        Field("date", Day(), "When; as soon as the way can when left out.", "2027-04-10"),
    ),
)
LIMITS = Group(
    title="Limits",
    fields=(
        Field("cash", Cash(), "The most money to spend.", "400 EUR"),
        Field("hours", Measure(("hours",), least="0 h", most="100000 h"), "The most hours to spend.", "60 h"),
        Field(
            "nitrogen",
            Measure(("dose",), most="2000 kg/ha"),
            "Most total nitrogen on any place in a year.",
            "170 kg/ha",
        ),
        Field("by", Day(), "The date everything is to be met by.", "2029-03-01"),
    ),
)


def _material_name(name: str) -> str:
    if not name.strip() or len(name) > NAME.most:
        raise ParseError("too-long", f"a material's name has 1 to {NAME.most} letters")
    return name


SITE = Group(
    title="The site",
    fields=(
        Field("site", Words(), "Name of the holding.", "Heron Field", required=True),
        Field("currency", Currency(), "The currency of all money here.", "EUR", required=True),
        Field("start", Day(), "The day planning starts from.", "2027-03-01", required=True),
        Field(
            "horizon",
            Duration("60 years"),
            "How far ahead to look.",
            "4 years",
            default="4 years",
            source="common practice, no source",
        ),
        Field("hemisphere", Choice(("north", "south")), "Which half of the world.", "north", default="north"),
        Field("climate", CLIMATE, "What drives decay.", "{annual_mean: 12.5 degC}"),
        Field("soil", SOIL, "The soil, from a test where there is one.", "{organic_matter: 1.8 %}"),
        Field(
            "made_ground", Flag(), "City, old buildings, roadside or filled ground?", "false", default="false"
        ),
        Field(
            "measures",
            Named(OwnMeasure(), read_own_name),
            "Your own measures, usable everywhere.",
            "{barrow: 80 L, bucket: 12 L}",
        ),
        Field("labour", LABOUR, "Your hours and how far the barrow goes.", "{push: 40 m}"),
        Field("places", ListOf(PLACE, 0, label="name"), "Beds, trees, rows and pots.", "[]", required=True),
        Field("ways", ListOf(WAY, 0, 500, label="name"), "How material can be come by.", "[]"),
        Field(
            "materials",
            Named(MATERIAL, _material_name),
            "Figures of your own, over the catalogue's.",
            "{green compost: {density: 640 kg/m3}}",
        ),
        Field("limits", LIMITS, "Limits for a mix.", "{cash: 400 EUR}"),
        Field("plan", ListOf(PLAN, 0, 5000), "Your own decisions, followed instead of the tool's.", "[]"),
        Field("history", ListOf(HISTORY, 0, 100_000), "What was really done.", "[]"),
    ),
)
