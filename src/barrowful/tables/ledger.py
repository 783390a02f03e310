"""The table of the ledger: what each zone gained and lost of each nutrient."""

from __future__ import annotations

from barrowful.answers.ledger import PLACE, Account
from barrowful.tables import shared
from barrowful.tables.columns import FEED, GRAMS, grams, number, text
from barrowful.tables.layout import Layout

NUTRIENT = "nitrogen, phosphorus or potassium, the elements."

LEDGER: Layout[Account] = Layout(
    name="ledger",
    identifies=("zone", "sort", "nutrient"),
    noted=("remark",),
    shown=(
        *("zone", "sort", "nutrient", "brought_in_g", "fixed_g", "moved_in_g", "moved_out_g", "harvested_g"),
        *("lost_g", "balance_g", "balance_g_m2", "remark"),
    ),
    repeats="stuff of the site that goes on a heap may be called as a stock is",
    columns=(
        text("zone", "zone", "Place, heap, strip or stock; site is the whole.", lambda line: line.zone),
        text("sort", "sort", "place, heap, strip, stock or site.", lambda line: line.sort),
        text("nutrient", "nutrient", NUTRIENT, lambda line: line.nutrient),
        number(
            "brought_in_g",
            "brought in",
            GRAMS,
            "Brought in from outside the site.",
            lambda line: grams(line.brought),
        ),
        number("fixed_g", "fixed", GRAMS, "Fixed from the air by legumes.", lambda line: grams(line.fixed)),
        number(
            "moved_in_g",
            "moved in",
            GRAMS,
            "From other zones of the site.",
            lambda line: grams(line.moved_in),
        ),
        number(
            "moved_out_g",
            "moved out",
            GRAMS,
            "To other zones of the site.",
            lambda line: grams(line.moved_out),
        ),
        number(
            "harvested_g",
            "harvested",
            GRAMS,
            "Taken by one season of the crop named; empty where that is not known.",
            lambda line: grams(line.harvested),
        ),
        number("lost_g", "lost", GRAMS, "Lost from heaps as gas or water.", lambda line: grams(line.lost)),
        number("balance_g", "balance", GRAMS, "Gains less losses.", lambda line: grams(line.balance)),
        number(
            "balance_g_m2",
            "balance",
            FEED,
            "Balance for each area.",
            lambda line: 1000 * line.balance / line.area if line.area else None,
        ),
        shared.remark(
            lambda line: line.remark or None,
            "Where it runs down or builds up; a harvest not known.",
        ),
        shared.place(lambda line: line.zone if line.sort == PLACE else None, "The place, where it is one."),
    ),
)
