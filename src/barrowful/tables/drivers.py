"""The table of drivers: which figures make a range as wide as it is."""

from __future__ import annotations

from barrowful.planning.ranges.drivers import Driver
from barrowful.tables.columns import ROUND_SHARE, number, percent, text
from barrowful.tables.layout import Layout

DRIVERS: Layout[Driver] = Layout(
    name="drivers",
    title="What drives the ranges",
    appears="with `--ranges`",
    identifies=("table", "row", "key", "figure"),
    always_shown=("figure", "share_percent"),
    columns=(
        text("table", "table", "The table that the range stands in.", lambda driver: driver.table),
        text("row", "row", "What the row is of: its way, need or place.", lambda driver: driver.row),
        text("key", "of", "The key of the range.", lambda driver: driver.key),
        text(
            "figure",
            "figure",
            "The figure that drives it, by what it is of and its name, as `figures` has them.",
            lambda driver: driver.figure,
        ),
        number(
            "share_percent",
            "share",
            ROUND_SHARE,
            "Share of the range that it explains: its rank correlation on the draws, squared.",
            lambda driver: percent(driver.share),
        ),
    ),
)
