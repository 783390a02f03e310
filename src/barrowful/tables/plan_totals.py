"""The table of what a plan comes to, in one row."""

from __future__ import annotations

from barrowful.planning.told import PlanTotals
from barrowful.tables import columns as c
from barrowful.tables import shared
from barrowful.tables.columns import percent
from barrowful.tables.layout import Layout

PLAN_TOTALS: Layout[PlanTotals] = Layout(
    name="plan_totals",
    title="What the plan comes to",
    identifies=("calendar",),
    for_people=False,
    columns=(
        shared.cash(lambda line: line.whole.bill.cash, shared.HORIZON),
        shared.cash_first_year(lambda line: line.whole.bill.cash_first_year),
        shared.hours(lambda line: line.whole.bill.hours.likely),
        shared.ready_on(lambda line: line.whole.ready_on, "Day the last of what is met is ready."),
        c.flag(
            "proven",
            "proven",
            "Is it proven that none costs less, on the calendar?",
            lambda line: line.proven,
        ),
        c.number(
            "gap_percent",
            "gap",
            c.FINE_SHARE,
            "Share by which it may at most be dearer than the least there is, on the calendar; empty where it"
            " meets more than the calendar lets a plan meet.",
            lambda line: None if line.gap is None else percent(line.gap),
        ),
        c.text("calendar", "calendar", "Which days were looked at.", lambda line: line.calendar),
        shared.needs_met(lambda line: ", ".join(line.whole.met) or None),
        shared.needs_unmet(lambda line: ", ".join(line.whole.unmet) or None),
        shared.places_met(lambda line: line.whole.count),
        c.count("needs", "needs", "Needs of places that there are.", lambda line: line.needs),
    ),
)
