"""The table of what binds a plan: what a little more of each limit would save."""

from __future__ import annotations

from barrowful.planning.bindings import Binding
from barrowful.tables.columns import count, money, text
from barrowful.tables.layout import Layout

BINDS: Layout[Binding] = Layout(
    name="binds",
    title="What a little more of each limit would save",
    appears="with `--binds`",
    identifies=("limit",),
    always_shown=("more", "saves_cash", "saves_days"),
    columns=(
        text("limit", "limit", "What is limited, by its key where it has one.", lambda line: line.limit),
        text("more", "more", "How much more of it was tried, by itself.", lambda line: line.more),
        money(
            "saves_cash",
            "saves",
            "Money that saves; negative where more is met.",
            lambda line: line.saves_cash,
        ),
        count(
            "saves_days", "days sooner", "Days by which all is ready sooner.", lambda line: line.saves_days
        ),
        count(
            "meets_more", "meets more", "Needs of places that are met besides.", lambda line: line.meets_more
        ),
    ),
)
