"""Rows of the ``ledger`` command."""

from __future__ import annotations

from typing import Any

from barrowful.answers.ledger import Account
from barrowful.tables.columns import LB, Column, Shown
from barrowful.tables.report import Row, Table, grams, table

_G = {"unit": "g", "metric": Shown("g", 1, 0), "customary": Shown("lb", LB / 1000, 2)}
EXTRA: tuple[Column[Any], ...] = (
    Column("zone", "text", "zone", "Place, heap, strip or stock; site is the whole."),
    Column("sort", "text", "sort", "place, heap, strip, stock or site."),
    Column("nutrient", "text", "nutrient", "nitrogen, phosphorus or potassium, the elements."),
    Column("brought_in_g", "number", "brought in", "Brought in from outside the site.", **_G),  # type: ignore[arg-type]
    Column("fixed_g", "number", "fixed", "Fixed from the air by legumes.", **_G),  # type: ignore[arg-type]
    Column("moved_in_g", "number", "moved in", "From other zones of the site.", **_G),  # type: ignore[arg-type]
    Column("moved_out_g", "number", "moved out", "To other zones of the site.", **_G),  # type: ignore[arg-type]
    Column("harvested_g", "number", "harvested", "Taken by one season of the crop named.", **_G),  # type: ignore[arg-type]
    Column("lost_g", "number", "lost", "Lost from heaps as gas or water.", **_G),  # type: ignore[arg-type]
    Column("balance_g", "number", "balance", "Gains less losses.", **_G),  # type: ignore[arg-type]
    Column("balance_g_m2", "number", "balance", "Balance for each area.", "g/m2", Shown("g/m2", 1, 1)),
)
KEYS = (
    "zone", "sort", "nutrient", "brought_in_g", "fixed_g", "moved_in_g", "moved_out_g", "harvested_g", "lost_g",
    "balance_g", "balance_g_m2", "remark",
)  # fmt: skip


def ledger_table(accounts: list[Account]) -> Table:
    """Return a row for each zone and nutrient."""
    return table("ledger", KEYS, [_row(one) for one in accounts], extra=EXTRA)


def _row(one: Account) -> Row:
    return {
        "zone": one.zone, "sort": one.sort, "nutrient": one.nutrient, "brought_in_g": grams(one.brought),
        "fixed_g": grams(one.fixed), "moved_in_g": grams(one.moved_in), "moved_out_g": grams(one.moved_out),
        "harvested_g": grams(one.harvested), "lost_g": grams(one.lost), "balance_g": grams(one.balance),
        "balance_g_m2": 1000 * one.balance / one.area if one.area else None, "remark": one.remark or None,
    }  # fmt: skip
