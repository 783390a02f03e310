"""The table of recipes: what goes on a heap, the water to add, and the total."""

from __future__ import annotations

from barrowful.answers.heaps import RecipeLine
from barrowful.tables import shared
from barrowful.tables.columns import MASS, ROUND_SHARE, count, day, grams, number, percent, text
from barrowful.tables.layout import Layout

PUT_BACK = "Of the wet mass that goes in, what was screened out of a batch before."
CEILING = "Ceilings of good practice that the mix is at with this material."

HEAP: Layout[RecipeLine] = Layout(
    name="heap",
    identifies=("way", "material"),
    repeats="two ingredients may be one material; water and total stand under the materials",
    shown=(
        *("way", "material", "share_percent", "volume_m3", "mass_kg", "dry_kg", "moisture_percent"),
        "cn_ratio",
    ),
    columns=(
        shared.way(lambda line: line.way or None),
        shared.material(lambda line: line.material, "What goes in; water; the total."),
        number(
            "share_percent",
            "by volume",
            ROUND_SHARE,
            "Share of the loose volume.",
            lambda line: percent(line.share),
        ),
        shared.volume(lambda line: line.volume, "Loose volume that goes in."),
        shared.mass(lambda line: line.mass, "Wet mass that goes in."),
        shared.dry(lambda line: line.dry),
        shared.moisture(lambda line: percent(line.moisture)),
        shared.cn_ratio(lambda line: line.cn),
        shared.carbon(lambda line: line.carbon),
        shared.nitrogen(lambda line: grams(line.nitrogen)),
        shared.water(lambda line: line.water),
        number("put_back_kg", "put back", MASS, PUT_BACK, lambda line: line.put_back),
        text("ceiling", "ceiling", CEILING, lambda line: line.ceiling or None),
    ),
)
RECIPES: Layout[RecipeLine] = Layout(
    name="recipes",
    title="Recipes",
    appears="with --recipes",
    identifies=("way", "batch", "material"),
    repeats="two ingredients may be one material; water and total stand under the materials",
    first_to_go=("moisture_percent", "built_on", "put_back_kg"),
    shown=(
        *("way", "batch", "built_on", "material", "share_percent", "volume_m3", "mass_kg", "put_back_kg"),
        *("moisture_percent", "cn_ratio", "ceiling"),
    ),
    columns=(
        *HEAP.pick("way"),
        count("batch", "batch", "Number of the batch, in the order they are built.", lambda line: line.batch),
        day("built_on", "built", "Day the heap is built.", lambda line: line.built),
        *HEAP.pick(*(key for key in HEAP.keys if key != "way")),
    ),
)
