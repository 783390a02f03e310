"""The table of batches: when each heap is built and ready, what it yields, the hours it takes."""

from __future__ import annotations

from barrowful.answers.heaps import BatchLine
from barrowful.tables import shared
from barrowful.tables.columns import (
    GRAMS,
    MASS,
    RATIO,
    VOLUME,
    as_is,
    day,
    flag,
    grams,
    number,
    percent,
    text,
)
from barrowful.tables.layout import Layout

MONTHS = "Months from building to compost, curing included."
CARE = (
    "How it is looked after: often, turned or unturned; small heaps count as unturned. Of a pile left to rot:"
    " left or turned."
)
AIM = "Carbon to nitrogen aimed for; a pile left to rot has none."
OVERS = "Loose volume screened out, which goes into the next."
FULLER = "Was it built off the C:N aimed for, so that the bay was fuller?"
RECORDED = "Was it built already, as the history has it? What went in is then taken to be as aimed for."

BATCHES: Layout[BatchLine] = Layout(
    name="batches",
    title="Batches",
    appears="where a site is given",
    identifies=("way", "built_on"),
    repeats="several bays may be built on one day",
    shown=(
        *("way", "built_on", "ready_on", "ready_late", "months", "care", "turns", "volume_m3", "yield_m3"),
        *("overs_m3", "cn_ratio", "water_kg", "hours", "recorded"),
    ),
    always_shown=("hours",),
    first_to_go=("months", "overs_m3", "ready_late", "care"),
    summed=("volume_m3", "yield_m3", "overs_m3", "water_kg", "hours"),
    columns=(
        shared.way(lambda line: line.heap.way.name),
        day("built_on", "built", "Day the heap is built.", lambda line: line.batch.built),
        shared.ready_on(lambda line: line.batch.ready[1], "Likely day it is compost."),
        day(
            "ready_early", "ready early", "Earliest day it may be compost.", lambda line: line.batch.ready[0]
        ),
        day("ready_late", "ready late", "Latest day it should be compost.", lambda line: line.batch.ready[2]),
        number("months", "months", as_is("month", 1, "months"), MONTHS, lambda line: 12 * line.years),
        text("care", "care", CARE, lambda line: line.batch.care),
        shared.turns(lambda line: line.batch.turns),
        shared.volume(lambda line: line.batch.recipe.volume, "Loose volume it is built of."),
        number("yield_m3", "yield", VOLUME, "Compost, loose.", lambda line: line.batch.volume[1]),
        number(
            "yield_m3_low",
            "yield low",
            VOLUME,
            "Compost, loose, at the low end.",
            lambda line: line.batch.volume[0],
        ),
        number(
            "yield_m3_high",
            "yield high",
            VOLUME,
            "Compost, loose, at the high end.",
            lambda line: line.batch.volume[2],
        ),
        number("yield_kg", "yield", MASS, "Compost, wet.", lambda line: line.wet),
        shared.cn_ratio(lambda line: line.batch.recipe.cn),
        number("aim_cn_ratio", "aim C:N", RATIO, AIM, lambda line: line.batch.aim),
        flag("gives_way", "aim given up", FULLER, lambda line: line.batch.gives_way),
        number("overs_m3", "screened out", VOLUME, OVERS, lambda line: line.batch.overs_volume),
        shared.moisture(lambda line: percent(line.batch.recipe.moisture)),
        shared.water(lambda line: line.batch.recipe.water),
        shared.nitrogen(lambda line: grams(line.batch.nitrogen[1]), "Nitrogen kept."),
        number(
            "nitrogen_g_low",
            "N low",
            GRAMS,
            "Nitrogen kept, at the low end.",
            lambda line: grams(line.batch.nitrogen[0]),
        ),
        number(
            "nitrogen_g_high",
            "N high",
            GRAMS,
            "Nitrogen kept, at the high end.",
            lambda line: grams(line.batch.nitrogen[2]),
        ),
        shared.hours(lambda line: line.hours.likely),
        shared.hours_low(lambda line: line.hours.low),
        shared.hours_high(lambda line: line.hours.high),
        flag("recorded", "done", RECORDED, lambda line: line.recorded),
    ),
)
