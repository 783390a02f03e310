"""The table of what is grown: from cuttings to a full stand, and each cover crop's term."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

from barrowful.answers.growing import GrowingLine
from barrowful.supplies.crop.cover_crop import Sowing
from barrowful.supplies.crop.stand import Stand
from barrowful.tables import shared
from barrowful.tables.columns import (
    AREA,
    GRAMS,
    LENGTH,
    SMALL_MASS,
    as_is,
    count,
    day,
    flag,
    grams,
    number,
    text,
)
from barrowful.tables.layout import Layout

Cell = TypeVar("Cell")
FIXES = "Does it take nitrogen from the air? If not, it moves what is there."
ROOM = "Plants the land takes, or that close the ground round the trees."
FULL = "Day the land is planted full from cuttings; empty when never."
YEARLY = GRAMS


def _stand(read: Callable[[Stand], Cell]) -> Callable[[GrowingLine], Cell | None]:
    """Return what is read of a stand; nothing for a cover crop."""
    return lambda line: None if line.stand is None else read(line.stand)


def _sowing(read: Callable[[Sowing], Cell]) -> Callable[[GrowingLine], Cell | None]:
    """Return what is read of a sowing; nothing for a stand, or without a term within the horizon."""
    return lambda line: None if line.sowing is None else read(line.sowing)


GROWING: Layout[GrowingLine] = Layout(
    name="growing",
    title="What is grown",
    appears="where the site grows something and `--by place` is not asked for",
    identifies=("way",),
    shown=(
        *("way", "plant", "fixes", "area_m2_grown", "row_m", "plants_start", "plants_room", "plants_each"),
        *("full_stand_on", "first_harvest_on", "full_harvest_on", "closes_on", "dry_kg_year", "sow_by"),
        *("sown_on", "ended_on", "plant_from", "seed_kg", "remark"),
    ),
    noted=("remark",),
    first_to_go=("fixes", "sow_by", "seed_kg", "full_harvest_on", "plants_start"),
    columns=(
        shared.way(lambda line: line.crop.way.name),
        text("plant", "plant", "The plant.", lambda line: line.crop.way.plant.name),
        text("habit", "habit", "perennial, hedge or cover crop.", lambda line: line.crop.way.plant.habit),
        flag("fixes", "fixes N", FIXES, lambda line: line.crop.way.plant.fixes_nitrogen),
        count("plants_room", "room for", ROOM, _stand(lambda stand: stand.room)),
        count(
            "plants_each",
            "each tree",
            "Plants round each tree, for a living cover.",
            _stand(lambda stand: stand.each or None),
        ),
        count(
            "plants_start",
            "alive",
            "Plants alive of those started with.",
            _stand(lambda stand: stand.plants[0][1]),
        ),
        day("full_stand_on", "planted full", FULL, _stand(lambda stand: stand.full_on)),
        count(
            "surplus_cuttings",
            "spare cuttings",
            "Cuttings a full stand gives in each cycle.",
            _stand(lambda stand: stand.surplus),
        ),
        day(
            "first_harvest_on", "first cut", "First cut within the horizon.", lambda line: line.first_harvest
        ),
        day(
            "full_harvest_on",
            "full cut",
            "First cut of a full stand at full yield.",
            lambda line: line.full_harvest,
        ),
        day(
            "closes_on",
            "closes",
            "Day a living cover has closed the ground.",
            lambda line: line.crop.closes_on if line.stand else None,
        ),
        number(
            "dry_kg_year", "dry a year", SMALL_MASS, "Dry matter in a full year.", lambda line: line.dry[1]
        ),
        number(
            "dry_kg_year_low", "low", SMALL_MASS, "Dry matter in a full year, low.", lambda line: line.dry[0]
        ),
        number(
            "dry_kg_year_high",
            "high",
            SMALL_MASS,
            "Dry matter in a full year, high.",
            lambda line: line.dry[2],
        ),
        number(
            "nitrogen_g_year",
            "N a year",
            YEARLY,
            "Nitrogen carried in a full year.",
            lambda line: grams(line.nutrients["nitrogen"]),
        ),
        number(
            "phosphorus_g_year",
            "P a year",
            YEARLY,
            "Phosphorus carried in a full year.",
            lambda line: grams(line.nutrients["phosphorus"]),
        ),
        number(
            "potassium_g_year",
            "K a year",
            YEARLY,
            "Potassium carried in a full year.",
            lambda line: grams(line.nutrients["potassium"]),
        ),
        day("sow_by", "best sown", "Best sowing day, from the frost dates.", _sowing(lambda term: term.best)),
        day("sown_on", "sown", "Day sown.", _sowing(lambda term: term.sown)),
        number(
            "weeks_late",
            "weeks late",
            as_is("week", 1, ""),
            "Weeks sown after the best day.",
            _sowing(lambda term: term.weeks_late),
        ),
        day("ended_on", "ended", "Day a cover crop is ended.", _sowing(lambda term: term.ended)),
        day(
            "plant_from", "plant from", "First day to plant after it.", _sowing(lambda term: term.plant_from)
        ),
        number(
            "bed_weeks",
            "weeks on the ground",
            as_is("week", 0, ""),
            "Weeks it keeps the ground.",
            _sowing(lambda term: term.weeks),
        ),
        number("seed_kg", "seed", SMALL_MASS, "Seed for one sowing.", lambda line: line.seed),
        number("area_m2_grown", "land", AREA, "Area there is.", lambda line: line.crop.way.area),
        number("row_m", "row", LENGTH, "Row there is.", lambda line: line.crop.way.row),
        shared.land(lambda line: line.crop.land.size),
        shared.land_unit(lambda line: line.crop.land.unit),
        shared.remark(lambda line: line.remark, "Why it gives nothing, or what may kill it."),
    ),
)
