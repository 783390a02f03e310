"""Rows of the ``sizes`` command."""

from __future__ import annotations

from barrowful.answers.sizes import SizeRow, alternatives, sizes
from barrowful.site.records import Site
from barrowful.tables.report import Row, Table, grams, table

KEYS = (
    "place", "need", "count", "area_m2", "depth_m", "volume_m3", "way", "material", "loose_m3", "mass_kg",
    "dry_kg", "organic_matter_kg", "carbon_kg", "nitrogen_g", "barrows",
)  # fmt: skip
SHOWN = (
    "place",
    "need",
    "count",
    "area_m2",
    "depth_m",
    "volume_m3",
    "material",
    "loose_m3",
    "mass_kg",
    "barrows",
)
OTHERS = ("place", "need", "way", "material", "loose_m3", "mass_kg", "dry_kg", "barrows")


def size_tables(site: Site, every_way: bool = True) -> list[Table]:
    """Return the sizes, and the same needs by every way that can serve them."""
    found = [table("sizes", KEYS, [_row(row) for row in sizes(site)], SHOWN)]
    if every_way and site.ways:
        rows = [_row(row) for row in alternatives(site)]
        found.append(table("by_way", OTHERS, rows, (), "The same needs by every way that can serve them"))
    return found


def _row(row: SizeRow) -> Row:
    return {
        "place": row.place.name, "need": row.need.kind, "count": row.place.count,
        "area_m2": row.place.total_area, "depth_m": getattr(row.need, "depth", None),
        "volume_m3": row.volume,
        "way": row.way or None, "material": row.material.name if row.material else None,
        "loose_m3": row.loose, "mass_kg": row.mass, "dry_kg": row.dry,
        "organic_matter_kg": row.holds("organic_matter"),
        "carbon_kg": row.holds("carbon"), "nitrogen_g": grams(row.holds("nitrogen")), "barrows": row.barrows,
    }  # fmt: skip
