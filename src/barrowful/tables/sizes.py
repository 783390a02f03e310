"""The table of sizes: what each place and need comes to."""

from __future__ import annotations

from barrowful.answers.sizes import SizeRow
from barrowful.tables import shared
from barrowful.tables.columns import DEPTH, MASS, count, grams, number
from barrowful.tables.layout import Layout


def _depth(row: SizeRow) -> float | None:
    """Return the depth a need states [m], where its kind has one."""
    return getattr(row.need, "depth", None)


SIZES: Layout[SizeRow] = Layout(
    name="sizes",
    identifies=("place", "need"),
    shown=(
        *("place", "need", "count", "area_m2", "depth_m", "volume_m3", "material", "loose_m3"),
        *("mass_kg", "barrows"),
    ),
    ranged=(*("loose_m3", "mass_kg", "dry_kg", "organic_matter_kg", "carbon_kg", "nitrogen_g", "barrows"),),
    shown_ranged=(
        *("place", "need", "count", "area_m2", "depth_m", "material", "loose_m3", "loose_m3_10"),
        *("loose_m3_90", "mass_kg", "mass_kg_10", "mass_kg_90", "barrows"),
    ),
    first_to_go=("mass_kg",),
    columns=(
        shared.place(lambda row: row.place.name),
        shared.need(lambda row: row.need.kind),
        count("count", "how many", "Equal places counted together.", lambda row: row.place.count),
        shared.area(lambda row: row.place.total_area),
        number("depth_m", "depth", DEPTH, "Depth as the need states it.", _depth),
        shared.volume(lambda row: row.volume),
        shared.way(lambda row: row.way or None),
        shared.material(lambda row: row.material.name if row.material else None),
        shared.loose(lambda row: row.loose),
        shared.mass(lambda row: row.mass),
        shared.dry(lambda row: row.dry),
        number(
            "organic_matter_kg",
            "organic matter",
            MASS,
            "Organic matter in it.",
            lambda row: row.holds("organic_matter"),
        ),
        shared.carbon(lambda row: row.holds("carbon")),
        shared.nitrogen(lambda row: grams(row.holds("nitrogen"))),
        shared.barrows(lambda row: row.barrows),
    ),
)
