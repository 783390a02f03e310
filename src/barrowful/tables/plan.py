"""The table of a plan: what goes where of what and when, each line with its part of what all costs."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date

from barrowful.measures.elementwise import round_up
from barrowful.planning.sharing import PlanLineCost
from barrowful.supplies.lot import YEAR
from barrowful.tables import shared
from barrowful.tables.columns import day
from barrowful.tables.layout import Layout
from barrowful.tables.report import Head

#: Lines that people see at least and at most, where they do not ask for all.
LEAST_SHOWN, MOST_SHOWN = 12, 40

PART = "Its part of the orders and payments of its way; the parts add up to the cash of plan_totals."

PLAN: Layout[PlanLineCost] = Layout(
    name="plan",
    title="The plan",
    identifies=("day", "place", "need", "way"),
    shown=("day", "place", "need", "way", "loose_m3", "mass_kg", "barrows", "cash", "hours"),
    always_shown=("day", "loose_m3", "cash", "hours"),
    first_to_go=("barrows", "mass_kg"),
    summed=("loose_m3", "mass_kg", "barrows", "cash", "hours"),
    columns=(
        shared.place(lambda line: line.place.name),
        shared.need(lambda line: line.need),
        shared.way(lambda line: line.way),
        shared.material(lambda line: line.material.name),
        day(
            "day",
            "day",
            "Day it is put on; empty where the way is planted and stands there.",
            lambda line: line.day,
        ),
        shared.loose(lambda line: None if line.day is None else line.loose),
        shared.mass(lambda line: _mass(line)),
        shared.barrows(lambda line: None if line.day is None else round_up(line.loose / line.barrow)),
        shared.cash(lambda line: line.cash, PART),
        shared.hours(lambda line: line.hours),
    ),
)


def _mass(line: PlanLineCost) -> float | None:
    """Return the wet mass [kg] of what is put on, where it is known."""
    if line.day is None or line.material.lacks("density"):
        return None
    return line.material.wet_mass(line.loose)


def in_order(lines: Iterable[PlanLineCost]) -> list[PlanLineCost]:
    """Return lines in the order of a plan: what is planted, then by day, as they come on one day."""
    return sorted(lines, key=lambda line: line.day or date.min)


def head_of(lines: Sequence[PlanLineCost], start: date) -> Head | None:
    """Return which lines people see first, of a plan in order: about those of the first twelve months."""
    end = YEAR.after(start)
    soon = sum(line.day is None or line.day < end for line in lines)
    shown = min(max(soon, LEAST_SHOWN), MOST_SHOWN)
    if shown >= len(lines):
        return None
    return Head(shown, f"The first {shown} of {len(lines)} lines; --table plan shows all.")
