"""Rows of the ``heap`` command: the recipe, the batches, and the temperature log's verdicts."""

from __future__ import annotations

from barrowful.measures.dates import years_between
from barrowful.site.ways import Make
from barrowful.supplies.heap.batches import Batch
from barrowful.supplies.heap.heap import Heap
from barrowful.supplies.heap.hygiene import judge
from barrowful.supplies.heap.recipe import Recipe
from barrowful.tables.columns import YD3, Column, Shown
from barrowful.tables.report import Row, Table, grams, percent, table

RECIPE_KEYS = (
    "way", "material", "share_percent", "volume_m3", "mass_kg", "dry_kg", "moisture_percent", "cn_ratio",
    "carbon_kg", "nitrogen_g", "water_kg",
)  # fmt: skip
_YD = Shown("yd3", YD3, 2)
EXTRA = (
    Column("share_percent", "number", "by volume", "Share of the loose volume.", "%", Shown("%", 1, 0)),
    Column("built_on", "date", "built", "Day the heap is built."),
    Column("ready_early", "date", "ready early", "Earliest day it may be compost."),
    Column("ready_late", "date", "ready late", "Latest day it should be compost."),
    Column("months", "number", "months", "Months from building to compost, curing included.", "month",
           Shown("months", 1, 1)),
    Column("care", "text", "care", "How it is looked after: often, turned or unturned; small heaps count as unturned."),
    Column("turns", "count", "turns", "How often it is turned."),
    Column("yield_m3", "number", "yield", "Compost, loose.", "m3", Shown("m3", 1, 2), _YD),
    Column("yield_m3_low", "number", "yield low", "Compost, loose, at the low end.", "m3", Shown("m3", 1, 2), _YD),
    Column("yield_m3_high", "number", "yield high", "Compost, loose, at the high end.", "m3", Shown("m3", 1, 2), _YD),
    Column("yield_kg", "number", "yield", "Compost, wet.", "kg", Shown("kg", 1, 0)),
    Column("nitrogen_g_low", "number", "N low", "Nitrogen kept, at the low end.", "g", Shown("g", 1, 0)),
    Column("nitrogen_g_high", "number", "N high", "Nitrogen kept, at the high end.", "g", Shown("g", 1, 0)),
    Column("rule", "text", "rule", "Name of the rule."),
    Column("met", "text", "verdict", "Met or not met by the readings given."),
    Column("days", "count", "days", "Days the readings show at or above its temperature."),
    Column("source", "text", "source", "Where the rule is from."),
)  # fmt: skip
BATCH_KEYS = (
    "way", "built_on", "ready_on", "ready_early", "ready_late", "months", "care", "turns", "volume_m3",
    "yield_m3", "yield_m3_low", "yield_m3_high", "yield_kg", "cn_ratio", "moisture_percent", "water_kg",
    "nitrogen_g", "nitrogen_g_low", "nitrogen_g_high", "hours", "hours_low", "hours_high",
)  # fmt: skip
BATCH_SHOWN = (
    "way", "built_on", "ready_on", "ready_late", "months", "care", "turns", "volume_m3", "yield_m3", "cn_ratio",
    "water_kg", "hours",
)  # fmt: skip


def recipe_table(recipes: list[tuple[str, Recipe]]) -> Table:
    """Return a row for each material of each recipe, and a total row under each."""
    rows = [row for way, recipe in recipes for row in _recipe_rows(way, recipe)]
    shown = (
        "way",
        "material",
        "share_percent",
        "volume_m3",
        "mass_kg",
        "dry_kg",
        "moisture_percent",
        "cn_ratio",
    )
    return table("heap", RECIPE_KEYS, rows, shown, extra=EXTRA)


def _recipe_rows(way: str, recipe: Recipe) -> list[Row]:
    rows: list[Row] = []
    for offer, mass in zip(recipe.offers, recipe.masses, strict=True):
        stuff, volume = offer.material, offer.loose_of(mass)
        dry = stuff.dry_of(mass)
        nitrogen = dry * stuff["nitrogen"]
        rows.append(
            {
                "way": way or None, "material": stuff.name, "share_percent": percent(volume / recipe.volume),
                "volume_m3": volume, "mass_kg": mass, "dry_kg": dry, "moisture_percent": percent(stuff["moisture"]),
                "cn_ratio": stuff["carbon"] / stuff["nitrogen"] if stuff["nitrogen"] else None,
                "carbon_kg": dry * stuff["carbon"], "nitrogen_g": grams(nitrogen),
            }
        )  # fmt: skip
    if recipe.water > 0:
        rows.append(
            {
                "way": way or None,
                "material": "water",
                "mass_kg": recipe.water,
                "dry_kg": 0.0,
                "moisture_percent": 100.0,
            }
        )
    mass = sum(recipe.masses) + recipe.water
    rows.append(
        {
            "way": way or None, "material": "total", "share_percent": 100.0, "volume_m3": recipe.volume,
            "mass_kg": mass, "dry_kg": recipe.dry, "moisture_percent": percent(recipe.moisture),
            "cn_ratio": recipe.cn, "carbon_kg": recipe.total("carbon"),
            "nitrogen_g": grams(recipe.total("nitrogen")), "water_kg": recipe.water,
        }
    )  # fmt: skip
    return rows


def batch_table(heaps: list[Heap]) -> Table:
    """Return a row for each batch of each heap."""
    rows = [_batch_row(heap, batch) for heap in heaps for batch in heap.batches]
    return table("batches", BATCH_KEYS, rows, BATCH_SHOWN, "Batches", extra=EXTRA)


def _batch_row(heap: Heap, batch: Batch) -> Row:
    recipe, hours = batch.recipe, heap.batch_hours(batch)
    return {
        "way": heap.way.name, "built_on": batch.built, "ready_early": batch.ready[0], "ready_on": batch.ready[1],
        "ready_late": batch.ready[2], "months": 12 * years_between(batch.built, batch.ready[1]),
        "care": batch.care, "turns": batch.turns, "volume_m3": recipe.volume, "yield_m3": batch.volume[1],
        "yield_m3_low": batch.volume[0], "yield_m3_high": batch.volume[2],
        "yield_kg": heap.material.wet_of(batch.dry[1]), "cn_ratio": recipe.cn,
        "moisture_percent": percent(recipe.moisture), "water_kg": recipe.water,
        "nitrogen_g": grams(batch.nitrogen[1]), "nitrogen_g_low": grams(batch.nitrogen[0]),
        "nitrogen_g_high": grams(batch.nitrogen[2]), "hours": hours.likely, "hours_low": hours.low,
        "hours_high": hours.high,
    }  # fmt: skip


def hygiene_table(heaps: list[Heap]) -> Table | None:
    """Return the verdicts on temperature logs, or None when no heap has one."""
    rows: list[Row] = []
    for heap in heaps:
        assert isinstance(heap.way, Make)
        starting = heap.batches[0].recipe.cn if heap.batches else None
        for verdict in judge(heap.way, starting):
            rule = verdict.rule
            rows.append(
                {
                    "way": heap.way.name, "rule": rule.name, "met": "met" if verdict.met else "not met",
                    "days": verdict.days, "turns": verdict.turns, "why_not": verdict.why_not or None,
                    "source": f"{rule.source}: {rule.place} ({rule.grade})",
                }
            )  # fmt: skip
    keys = ("way", "rule", "met", "days", "turns", "why_not", "source")
    shown = ("way", "rule", "met", "why_not")
    title = "The temperature log against published rules"
    return table("hygiene", keys, rows, shown, title, extra=EXTRA) if rows else None
