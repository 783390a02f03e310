"""The table of break-evens: from which value on the whole site is best served otherwise, and by what."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date

from barrowful.answers.break_even import BreakEven, Search
from barrowful.tables import columns as c
from barrowful.tables import shared
from barrowful.tables.layout import Layout
from barrowful.tables.report import Table

TITLE = "Where the best ways change"
BREAK_EVEN: Layout[BreakEven] = Layout(
    name="break_even",
    title=TITLE,
    appears="where `--break-even` asks for it",
    identifies=("path", "at", "at_date", "need"),
    shown=("path", "at", "unit", "at_date", "need", "ways_before", "ways_after", "cash_before", "cash_after"),
    always_shown=("ways_before", "ways_after", "cash_before", "cash_after"),
    columns=(
        c.text("path", "path", "What is changed, by its path in the site file.", lambda row: row.path),
        c.number(
            "at",
            "from",
            c.SELLERS_OWN._replace(metric=c.Display("", 1.0, 6, strip=True)),
            "The first value from which on the need is met otherwise, in unit; none for a date.",
            lambda row: row.at if isinstance(row.at, float) else None,
        ),
        c.text("unit", "unit", "Unit of that value.", lambda row: row.unit or None),
        c.day(
            "at_date",
            "from day",
            "The first day from which on the need is met otherwise, where a date is changed.",
            lambda row: row.at if isinstance(row.at, date) else None,
        ),
        shared.need(lambda row: row.need),
        c.text("ways_before", "before by", "By what the need is met just before.", lambda row: row.before),
        c.text("ways_after", "then by", "By what the need is met from there on.", lambda row: row.after),
        c.money("cash_before", "cash before", "Cash, all in, just before.", lambda row: row.was.cash),
        c.money("cash_after", "cash then", "Cash, all in, there.", lambda row: row.now.cash),
        c.money(
            "cash_unchanged",
            "by those before",
            "Cash, all in, there by the ways from before, where these meet as much.",
            lambda row: row.unchanged,
        ),
        c.number("hours_before", "hours before", c.HOURS, "Hours just before.", lambda row: row.was.hours),
        c.number("hours_after", "hours then", c.HOURS, "Hours there.", lambda row: row.now.hours),
        c.day("ready_before", "ready before", "Day all is ready just before.", lambda row: row.was.ready_on),
        c.day("ready_after", "ready then", "Day all is ready there.", lambda row: row.now.ready_on),
        c.count("met_before", "met before", "Needs of places met just before.", lambda row: row.was.met),
        c.count("met_after", "met then", "Needs of places met there.", lambda row: row.now.met),
    ),
)


def break_even_table(searches: Sequence[Search]) -> Table:
    """Return the table of all that was found; of a single path, that stands in the title for people."""
    layout, paths = BREAK_EVEN, {search.scale.path for search in searches}
    if len(paths) == 1:
        layout = replace(layout, title=f"{TITLE}, by {paths.pop()}", shown=layout.shown[1:])
    return layout.table(change for search in searches for change in search.changes)
