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


#: So many reasons are given where no way can serve a need.
MOST_REASONS = 3


def size_tables(site: Site, every_way: bool = True) -> tuple[list[Table], list[str]]:
    """Return the sizes, the same needs by every way that can serve them, and the sentences under them."""
    rows = sizes(site)
    tables = [table("sizes", KEYS, [_row(row) for row in rows], SHOWN)]
    if every_way and site.ways:
        others = [_row(row) for row in alternatives(site)]
        tables.append(table("by_way", OTHERS, others, (), "The same needs by every way that can serve them"))
    return tables, _sentences(rows)


def _sentences(rows: list[SizeRow]) -> list[str]:
    """Say of the needs that no way can serve why not: once for all the places with the same reasons."""
    places: dict[tuple[str, str], list[str]] = {}
    for row in rows:
        if row.why_not:
            places.setdefault((row.need.kind, _reasons(row.why_not)), []).append(row.place.name)
    return [f"{kind}, {_first(names)}: no way can serve it ({why})." for (kind, why), names in places.items()]


def _first(names: list[str]) -> str:
    """Return the first of some names and how many more there are."""
    more = len(names) - 1
    return names[0] + (f" and {more} more" if more else "")


def _reasons(refusals: tuple[tuple[str, str], ...]) -> str:
    """Return what ways lack, each reason once with the ways it holds for."""
    ways: dict[str, list[str]] = {}
    for way, reason in refusals:
        ways.setdefault(reason, []).append(way)
    texts = [f"{', '.join(names)}: {reason}" for reason, names in ways.items()]
    more = len(texts) - MOST_REASONS
    return "; ".join(texts[:MOST_REASONS]) + (f"; and {more} more" if more > 0 else "")


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
