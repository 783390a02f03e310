"""The table of sizes by way: the same needs by every way that can serve them."""

from __future__ import annotations

from barrowful.answers.sizes import SizeRow
from barrowful.tables.layout import Layout
from barrowful.tables.sizes import SIZES

BY_WAY: Layout[SizeRow] = Layout(
    name="by_way",
    title="The same needs by every way that can serve them",
    appears="where the site has ways",
    identifies=("place", "need", "way"),
    ranged=("loose_m3", "mass_kg", "dry_kg", "barrows"),
    shown_ranged=(
        *("place", "need", "way", "material", "loose_m3", "loose_m3_10", "loose_m3_90"),
        *("mass_kg", "mass_kg_10", "mass_kg_90"),
    ),
    first_to_go=("dry_kg",),
    columns=SIZES.pick("place", "need", "way", "material", "loose_m3", "mass_kg", "dry_kg", "barrows"),
)
