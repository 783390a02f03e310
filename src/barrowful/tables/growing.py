"""The table of what is grown: from cuttings to a full stand, and each cover crop's sowing."""

from __future__ import annotations

from dataclasses import replace

from barrowful.supplies.crop.crop import Crop
from barrowful.tables.columns import FT2, LB, Column, Shown
from barrowful.tables.report import Row, Table, grams, table

_KG = {"unit": "kg", "metric": Shown("kg", 1, 1), "customary": Shown("lb", LB, 1)}
EXTRA = (
    Column("plant", "text", "plant", "The plant."),
    Column("habit", "text", "habit", "perennial, hedge or cover crop."),
    Column("fixes", "flag", "fixes N", "Does it take nitrogen from the air? If not, it moves what is there."),
    Column(
        "plants_room", "count", "room for", "Plants the land takes, or that close the ground round the trees."
    ),
    Column("plants_each", "count", "each tree", "Plants round each tree, for a living cover."),
    Column("plants_start", "count", "alive", "Plants alive of those started with."),
    Column(
        "full_stand_on",
        "date",
        "planted full",
        "Day the land is planted full from cuttings; empty when never.",
    ),
    Column("surplus_cuttings", "count", "spare cuttings", "Cuttings a full stand gives in each cycle."),
    Column("first_harvest_on", "date", "first cut", "First cut within the horizon."),
    Column("full_harvest_on", "date", "full cut", "First cut of a full stand at full yield."),
    Column("closes_on", "date", "closes", "Day a living cover has closed the ground."),
    Column("dry_kg_year", "number", "dry a year", "Dry matter in a full year.", **_KG),  # type: ignore[arg-type]
    Column("dry_kg_year_low", "number", "low", "Dry matter in a full year, low.", **_KG),  # type: ignore[arg-type]
    Column("dry_kg_year_high", "number", "high", "Dry matter in a full year, high.", **_KG),  # type: ignore[arg-type]
    Column(
        "nitrogen_g_year", "number", "N a year", "Nitrogen carried in a full year.", "g", Shown("g", 1, 0)
    ),
    Column(
        "phosphorus_g_year", "number", "P a year", "Phosphorus carried in a full year.", "g", Shown("g", 1, 0)
    ),
    Column(
        "potassium_g_year", "number", "K a year", "Potassium carried in a full year.", "g", Shown("g", 1, 0)
    ),
    Column("sow_by", "date", "best sown", "Best sowing day, from the frost dates."),
    Column("sown_on", "date", "sown", "Day sown."),
    Column("weeks_late", "number", "weeks late", "Weeks sown after the best day.", "week", Shown("", 1, 1)),
    Column("ended_on", "date", "ended", "Day a cover crop is ended."),
    Column("plant_from", "date", "plant from", "First day to plant after it."),
    Column(
        "bed_weeks", "number", "weeks on the ground", "Weeks it keeps the ground.", "week", Shown("", 1, 0)
    ),
    Column("seed_kg", "number", "seed", "Seed for one sowing.", **_KG),  # type: ignore[arg-type]
    Column(
        "area_m2_grown", "number", "land", "Area there is.", "m2", Shown("m2", 1, 1), Shown("ft2", FT2, 0)
    ),
)
KEYS = ("way", *(column.key for column in EXTRA), "land", "land_unit", "remark")
SHOWN = (
    "way", "plant", "fixes", "land", "land_unit", "plants_start", "plants_room", "plants_each", "full_stand_on",
    "first_harvest_on", "full_harvest_on", "closes_on", "dry_kg_year", "sow_by", "sown_on", "ended_on", "plant_from",
    "seed_kg", "remark",
)  # fmt: skip


#: A coldest month within this of a plant's limit [degC] is worth a remark: frosts go below the mean.
NEAR_KILLING = 12.0


def growing_table(supplies: list[Crop]) -> Table:
    """Return a row for each way that grows something."""
    rows = [_sown_row(one) if one.is_sown else _stand_row(one) for one in supplies]
    return table("growing", KEYS, rows, SHOWN, "What is grown", extra=EXTRA)


def _common(supply: Crop, dry: tuple[float, float, float]) -> Row:
    plant, stuff = supply.way.plant, supply.material
    size, unit = supply.land.size, supply.land.unit
    found: Row = {
        "way": supply.way.name, "plant": plant.name, "habit": plant.habit, "fixes": plant.fixes_nitrogen,
        "land": size, "land_unit": unit, "area_m2_grown": supply.way.area, "dry_kg_year": dry[1],
        "dry_kg_year_low": dry[0], "dry_kg_year_high": dry[2], "remark": supply.note or _cold(supply),
    }  # fmt: skip
    for nutrient in ("nitrogen", "phosphorus", "potassium"):
        share = stuff.get(nutrient)
        found[f"{nutrient}_g_year"] = grams(dry[1] * share) if share is not None else None
    return found


def _cold(supply: Crop) -> str | None:
    killed = supply.way.plant.get("killed_below")
    coldest = min(supply.site.climate.temperatures)
    near = killed is not None and coldest < killed + NEAR_KILLING
    return f"killed below {killed:.0f} degC" if near else None


def _stand_row(supply: Crop) -> Row:
    stand = supply.stand
    low, high = (replace(stand, end=end) for end in ("low", "high"))
    dry = tuple(one.room * one.yield_of_one for one in (low, stand, high))
    first = supply.harvests[0][0] if supply.harvests else None
    most = max((amount for _, amount in supply.harvests), default=0.0)
    full = next((day for day, amount in supply.harvests if amount >= most * (1 - 1e-9)), None)
    reached = stand.full_on is not None and most > 0
    return {
        **_common(supply, (dry[0], dry[1], dry[2])), "plants_room": stand.room, "plants_each": stand.each or None,
        "plants_start": stand.plants[0][1], "full_stand_on": stand.full_on, "surplus_cuttings": stand.surplus,
        "first_harvest_on": first, "full_harvest_on": full if reached else None, "closes_on": supply.closes_on,
    }  # fmt: skip


def _sown_row(supply: Crop) -> Row:
    sowings = supply.sowings
    figure = supply.way.plant.figures.get("dry_matter")
    area = supply.way.area or 0.0
    likely = sowings[0].dry if sowings else 0.0
    share = likely / (figure.likely * area) if figure and area else 1.0
    spread = (figure.low * area * share, likely, figure.high * area * share) if figure else (likely,) * 3
    found = _common(supply, spread)
    if sowings:
        sowing = sowings[0]
        found |= {
            "sow_by": sowing.best, "sown_on": sowing.sown, "weeks_late": sowing.weeks_late, "ended_on": sowing.ended,
            "plant_from": sowing.plant_from, "bed_weeks": sowing.weeks, "first_harvest_on": sowing.ended,
            "full_harvest_on": sowing.ended,
        }  # fmt: skip
    return found | {"seed_kg": supply.seed_mass}
