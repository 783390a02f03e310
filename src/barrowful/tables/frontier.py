"""The table of the least cash for each day everything may be ready."""

from __future__ import annotations

from barrowful.planning.frontier import FrontierPoint
from barrowful.tables import shared
from barrowful.tables.columns import text
from barrowful.tables.layout import Layout

CHANGE = "What it takes more or less of than the plan that is ready next after it."

FRONTIER: Layout[FrontierPoint] = Layout(
    name="frontier",
    title="The least cash for each day everything is ready",
    appears="with `--frontier` or `--chart`",
    identifies=("ready_on",),
    always_shown=("cash", "hours", "orders"),
    noted=("change",),
    columns=(
        shared.ready_on(lambda point: point.ready_on, "Day the last of what is met is ready."),
        shared.cash(lambda point: point.cash, shared.HORIZON),
        shared.hours(lambda point: point.hours),
        shared.orders(lambda point: point.orders),
        text("change", "change", CHANGE, lambda point: point.change),
    ),
)
