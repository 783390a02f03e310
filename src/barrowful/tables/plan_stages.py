"""The table of what each aim of a plan came to, one after another."""

from __future__ import annotations

from barrowful.planning.told import StageLine
from barrowful.tables import shared
from barrowful.tables.columns import text
from barrowful.tables.layout import Layout

PLAN_STAGES: Layout[StageLine] = Layout(
    name="plan_stages",
    title="One aim after another",
    identifies=("aim",),
    for_people=False,
    columns=(
        text("aim", "aim", "What was looked for, all before it kept.", lambda line: line.aim),
        shared.places_met(lambda line: line.met),
        shared.cash(lambda line: line.cash, "Money to pay in the plan that was found for it."),
        shared.hours(lambda line: line.hours),
        shared.orders(lambda line: line.orders),
        text("gained", "gained", "What that gained on the aim before.", lambda line: line.gained or None),
    ),
)
