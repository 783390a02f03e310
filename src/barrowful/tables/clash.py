"""The table of needs that a plan does not meet: what each clashes with, and what would do."""

from __future__ import annotations

from barrowful.planning.clashes import Clash
from barrowful.tables import shared
from barrowful.tables.columns import text
from barrowful.tables.layout import Layout

CLASH: Layout[Clash] = Layout(
    name="clash",
    title="What is not met, and what would do",
    appears="where a need is not met",
    identifies=("need", "place", "limit"),
    noted=("least_change",),
    columns=(
        shared.need(lambda clash: clash.need),
        shared.place(lambda clash: clash.place),
        text(
            "limit", "clashes with", "Limit, ceiling or way that it clashes with.", lambda clash: clash.limit
        ),
        text(
            "least_change",
            "least change",
            "The least change that would do, or why none does.",
            lambda clash: clash.least_change,
        ),
    ),
)
