"""The table of recipes: what goes on a heap, the water to add, and the total."""

from __future__ import annotations

from barrowful.answers.heaps import RecipeLine
from barrowful.tables import shared
from barrowful.tables.columns import ROUND_SHARE, grams, number, percent
from barrowful.tables.layout import Layout

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
    ),
)
