"""Totals at the foot of a table, numbers with their units in one column, and what gives way first."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest

from barrowful.tables import columns as c
from barrowful.tables.formats import FORMATS
from barrowful.tables.layout import Layout
from barrowful.tables.report import Head, Look, Note, Report
from barrowful.tables.writers.text import AT_ONCE, under_tables

Row = dict[str, Any]
WAY: c.Column[Row] = c.text("way", "way", "The way.", lambda row: row["way"])
NEED: c.Column[Row] = c.text("need", "need", "The need.", lambda row: row["need"])
MANY: c.Column[Row] = c.number("many", "order", c.SELLERS_OWN, "How many.", lambda row: row["many"])
UNIT: c.Column[Row] = c.text("unit", "unit", "Of what.", lambda row: row["unit"])
CASH: c.Column[Row] = c.money("cash", "cash", "Money.", lambda row: row["cash"])
HOURS: c.Column[Row] = c.number("hours", "hours", c.HOURS, "Time.", lambda row: row["hours"])
WORDS: c.Column[Row] = c.text("words", "words", "Words.", lambda row: row["words"])
LAYOUT = Layout(
    name="orders",
    columns=(NEED, WAY, MANY, UNIT, CASH, HOURS, WORDS),
    identifies=("need", "way"),
    joined=(("many", "unit"),),
    summed=("cash", "hours"),
    first_to_go=("words",),
)
ROWS: list[Row] = [
    {"way": "yard compost", "many": 12.0, "unit": "m3", "cash": Decimal("80.10"), "hours": 2.0},
    {"way": "lane chip + leaf mould", "many": None, "unit": None, "cash": None, "hours": 0.5},
    {"way": "lime", "many": 1.5, "unit": "bag", "cash": Decimal("6.95"), "hours": 0.25},
]
#: Words that leave no room for all.
WIDE = "loose and damp, sieved and heaped up, number"
SAME: Row = {"need": "cover", "words": "loose and damp"}


def screen(rows: list[Row], width: int = 100, head: Head | None = None) -> list[str]:
    """Return the lines of the screen of some rows."""
    table = replace(LAYOUT.table([{**SAME, **row} for row in rows]), head=head)
    return FORMATS["table"].write(Report("orders", "", "EUR", [table]), Look(width=width)).splitlines()


def test_a_foot_with_the_totals() -> None:
    """What is summed stands under a rule; units stand beside their numbers; what all rows share is said once."""
    assert screen(ROWS) == [
        "way                     order    cash, EUR  hours, h",
        "----------------------  -------  ---------  --------",
        "yard compost             12 m3       80.10       2.0",
        "lane chip + leaf mould                           0.5",
        "lime                    1.5 bag       6.95       0.2",
        "----------------------  -------  ---------  --------",
        "in all                               87.05       2.8",
        "",
        "In every row: need cover; words loose and damp.",
    ]


def test_the_total_is_of_all_rows() -> None:
    """Where the first rows are shown, what stands under them is of all, and says so."""
    lines = screen(ROWS, head=Head(2, "The first 2 of 3 rows; --all shows them."))
    assert [line.split() for line in lines if line.startswith("all ")] == [["all", "3", "87.05", "2.8"]]
    assert "The first 2 of 3 rows; --all shows them." in lines


@pytest.mark.parametrize("rows", [ROWS[:1], [{**row, "cash": None, "hours": 0.0} for row in ROWS]])
def test_nothing_to_add_up(rows: list[Row]) -> None:
    """One row has no total, and neither have rows without anything."""
    assert not any("in all" in line for line in screen(rows))


def test_equal_amounts_keep_their_column() -> None:
    """Amounts that are the same in every row are added up all the same."""
    lines = screen([{**row, "hours": 2.0} for row in ROWS])
    assert lines[-3].split() == ["in", "all", "87.05", "6.0"]


def test_a_lesser_column_goes_before_a_name_is_broken() -> None:
    """Names stay on one line as long as leaving out what may go first is enough; joint ways part at the +."""
    rows = [{**row, "words": f"loose and damp, number {number}"} for number, row in enumerate(ROWS)]
    lines = screen(rows, width=66)
    told = "Left out for want of width: words;"
    assert told not in "\n".join(lines)
    assert [line.split("  ")[0] for line in lines[3:7]] == [
        "yard compost",
        "lane chip +",
        "leaf mould",
        "lime",
    ]
    lines = screen([{**row, "way": row["way"].replace(" + ", " with ")} for row in rows], width=66)
    assert told in "\n".join(lines)
    assert any(line.startswith("lane chip with leaf mould ") for line in lines)


def test_layouts_sum_amounts_alone() -> None:
    """Words have no sum, and a column that is not there cannot be joined."""
    with pytest.raises(ValueError, match="only amounts can be summed: words"):
        replace(LAYOUT, summed=("words",))
    with pytest.raises(ValueError, match="not among its columns: lots"):
        replace(LAYOUT, joined=(("lots", "unit"),))


def test_of_two_columns_of_a_name_it_is_told_which_is_left_out() -> None:
    """A column that is left out is named with its unit where another of that name is there."""
    mass: c.Column[Row] = c.number(
        "mass", "hours", c.MASS, "Hours put as a mass.", lambda row: row["hours"] * 1e6
    )
    layout = replace(LAYOUT, columns=(*LAYOUT.columns, mass), first_to_go=("mass", "words"))
    table = layout.table([{**SAME, **row, "words": f"{WIDE} {number}"} for number, row in enumerate(ROWS)])
    text = FORMATS["table"].write(Report("orders", "", "EUR", [table]), Look(width=60))
    assert "Left out for want of width: words, hours in kg;" in text


@pytest.mark.parametrize(
    ("count", "told"), [(3, ""), (4, "1 more caution applies"), (5, "2 more cautions apply")]
)
def test_cautions_left_out_are_counted(count: int, told: str) -> None:
    """One that is left out is told of as one."""
    notes = [Note(str(number), 1, "Take care.", "", ()) for number in range(count)]
    lines = under_tables(Report("options", "", "", [], cautions=notes), Look())
    assert [line.partition(";")[0] for line in lines if "more caution" in line] == ([told] if told else [])


def test_a_long_table_has_columns_of_one_width() -> None:
    """However many rows are drawn at a time, all stand under their headings, and sums under all."""
    count = 2 * AT_ONCE + 1
    lines = screen([{**ROWS[0], "way": "x" * (1 + 12 * (number == AT_ONCE))} for number in range(count)])
    assert lines[:3] == [
        "way             cash, EUR  hours, h",
        "-------------  ----------  --------",
        "x                   80.10       2.0",
    ]
    assert lines[2 + AT_ONCE] == "xxxxxxxxxxxxx       80.10       2.0"
    assert lines[2 + count : 4 + count] == [lines[1], "in all         160,280.10   4,002.0"]
