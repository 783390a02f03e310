"""The table of totals: each way for all it can serve, and the cheapest way for each need."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

from barrowful.answers.costs import Bill
from barrowful.answers.lines import WholeLine
from barrowful.tables import shared
from barrowful.tables.layout import Layout

Cell = TypeVar("Cell")


def _bill(read: Callable[[Bill], Cell]) -> Callable[[WholeLine], Cell | None]:
    """Return what is read of the options together; nothing where none is carried out."""
    return lambda line: read(line.whole.bill) if line.acts else None


WHOLE_SITE: Layout[WholeLine] = Layout(
    name="whole_site",
    title="The whole site",
    appears="where `--by place` is not asked for",
    identifies=("way",),
    shown=("way", "needs_met", "needs_unmet", "cash", "hours", "ready_on", "why_not"),
    noted=("why_not",),
    always_shown=("needs_met", "cash", "hours", "ready_on"),
    first_to_go=("needs_unmet",),
    ranged=("cash", "cash_first_year", "hours", "loose_m3"),
    shown_ranged=(
        *("way", "needs_met", "cash", "cash_10", "cash_90"),
        *("hours", "hours_10", "hours_90", "ready_on", "why_not"),
    ),
    columns=(
        shared.way(lambda line: line.whole.title, shared.FOLLOWED),
        shared.needs_met(lambda line: ", ".join(line.whole.met) or "nothing"),
        shared.needs_unmet(lambda line: ", ".join(line.whole.unmet) or None),
        shared.places_met(lambda line: line.whole.count),
        shared.cash(_bill(lambda bill: bill.cash), shared.HORIZON),
        shared.cash_first_year(_bill(lambda bill: bill.cash_first_year)),
        shared.hours(_bill(lambda bill: bill.hours.likely)),
        shared.hours_low(_bill(lambda bill: bill.hours.low)),
        shared.hours_high(_bill(lambda bill: bill.hours.high)),
        shared.cash_and_hours(lambda line: line.worth),
        shared.loose(lambda line: line.loose),
        shared.trips(lambda line: line.trips),
        shared.ready_on(lambda line: line.whole.ready_on),
        shared.why_not(
            lambda line: line.whole.over or None, "Which of your limits it is over, and by how much."
        ),
    ),
)
