"""The description of places and of the soil."""

from __future__ import annotations

from barrowful.catalogue.ceilings import liftable
from barrowful.catalogue.judgements import judged_text
from barrowful.sitefile.keys.need import NEED, SHARE
from barrowful.sitefile.keys.shape import SHAPE
from barrowful.sitefile.language.containers import Field, Group
from barrowful.sitefile.language.kinds import Choice, Day, Flag, MonthDay, Number, Words
from barrowful.sitefile.language.lists import ListOf, SetOf
from barrowful.sitefile.language.names import NameOf
from barrowful.sitefile.language.quantity import Measure

PLACE_KINDS = ("bed", "tree", "row", "pot")
MANAGED = ("bare", "cropped", "rested")

SOIL = Group(
    title="The soil",
    fields=(
        Field("organic_matter", SHARE, help="Organic matter in the dry soil now.", example="1.8 %"),
        Field(
            "bulk_density",
            Measure("density", least="0.05 g/cm3", most="2.6 g/cm3", usual=("0.6 g/cm3", "1.9 g/cm3")),
            help="Dry soil in each volume.",
            example="1.35 g/cm3",
        ),
        Field("clay", SHARE, help="Clay as a share of the fine soil.", example="34 %"),
        Field(
            "stones",
            Measure("share", least="0 %", most="95 %"),
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
            "ph",
            Number(3, 10),
            help="pH in water; from 7 on, nothing that limes the ground is put on.",
            example="6.2",
        ),
        Field(
            "nitrogen_index",
            Number(0, 6, whole=True),
            help="Nitrogen index of the soil, by last crop or test: 0 is poor; 1 where none is given.",
            example="2",
        ),
        Field(
            "nitrogen_supply",
            Measure("feed", gives="dose", most="100 g/m2"),
            help="Nitrogen the soil itself gives a crop in a season; for crops without a table of rates.",
            example="60 kg/ha",
        ),
        Field(
            "tested",
            Day(),
            help="Date of the soil test; only later history is replayed.",
            example="2026-09-10",
        ),
        Field(
            "managed",
            Choice(MANAGED),
            help="How the ground is kept: the humus there now falls on bare ground, half as far where crops"
            " are grown and taken off whole, and holds on rested ground. Not said, it is held as it is.",
            example="rested",
        ),
    ),
)
#: Limits of good practice, of a place or of the whole site.
PRACTICES = (
    Field(
        "depth_per_year",
        Measure("length", least="0 m", most="1 m"),
        help="Deepest compost and manure in any twelve months, loose, instead of the garden rule's.",
        example="2 cm",
    ),
    Field(
        "nitrogen",
        Measure("feed", gives="dose", least="0 g/m2", most="200 g/m2"),
        help="Most total nitrogen in any twelve months, of mineral fertiliser too.",
        example="170 kg/ha",
    ),
    Field(
        "farm",
        Flag(),
        help="Do the rules of farms bind, and not the garden's?",
        example="true",
    ),
    Field(
        "useful_depth",
        Measure("length", least="0 mm", most="20 cm"),
        help="The thinnest layer worth spreading where there is too little for all, as spread;"
        f" {judged_text('least_useful_depth')} where none is given.",
        example="1 cm",
    ),
    Field(
        "lift",
        SetOf(Choice(liftable()), 1, 20),
        help="Ceilings of good practice that are not to bind, by name.",
        example="[yearly_depth]",
    ),
)
PRACTICE = Group(title="Limits of a place", fields=PRACTICES)
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
        Field(
            "ways",
            SetOf(NameOf(of="way"), 1, 100),
            help="The only ways to use here.",
            example="[yard compost]",
        ),
        Field(
            "layer_now",
            Measure("length", least="0 m", most="5 m", usual=("0 m", "60 cm")),
            help="Mulch already lying there, settled.",
            example="3 cm",
        ),
        Field(
            "new",
            Flag(),
            help="Is it a bed that is being made? Then its first dressing may be deep, once.",
            example="true",
        ),
        Field(
            "harvest_from",
            MonthDay(12),
            help="First harvest, as month-day: raw manure waits ahead of it, nothing is dug in where the crop"
            " stands.",
            example="06-15",
        ),
        Field(
            "eaten_raw",
            Flag(),
            help="Does what is eaten raw touch the soil? Then raw manure waits longer. Left out, it goes by"
            " the crop that a feed is `for`: that of roots, salads and strawberries does.",
            example="true",
        ),
        Field(
            "priority",
            Number(1, 3, whole=True),
            help="Who comes first where a way or a limit has too little for all places of a kind of need: 1"
            " before 2 before 3. Within limits most needs met come first, and it chooses among as many. In"
            " `season` so it is of jobs due on one day. It sets no kind of need before another, and `plan`"
            " does not look at it.",
            example="1",
            default="2",
        ),
        Field(
            "limits",
            PRACTICE,
            help="Limits of good practice of its own, over the site's.",
            example="{farm: true}",
        ),
        Field(
            "near_water",
            Flag(),
            help="Within 10 m of open water or 50 m of a well or spring? Then no manure goes on.",
            example="false",
        ),
    ),
)
