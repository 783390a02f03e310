"""Rows of the ``whatif`` command: the options of each case and their differences from the base."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Any

from barrowful.answers.options import Answer
from barrowful.tables.columns import COLUMNS, YD3, Column, Shown
from barrowful.tables.options import OPTION_KEYS, option_row
from barrowful.tables.report import Row, Table, Value, table, tidy

_VOLUME = COLUMNS["loose_m3"].customary
CASE: Column[Any] = Column("case", "text", "case", "Which case: base is the file as it stands.")
CHANGES: tuple[Column[Any], ...] = (
    Column("cash_change", "money", "cash +/-", "Cash less the base's."),
    Column("hours_change", "number", "hours +/-", "Hours less the base's.", "h", Shown("h", 1, 1)),
    Column("days_change", "number", "days +/-", "Days later than the base.", "day", Shown("days", 1, 0)),
    Column(
        "loose_m3_change", "number", "loose +/-", "Loose volume less the base's.", "m3", Shown("m3", 1, 2),
        Shown("yd3", YD3, 2),
    ),
    Column("matter_left_kg_change", "number", "OM +/-", "Organic matter left after a year less the base's.",
           "kg", Shown("kg", 1, 0)),
)  # fmt: skip
SHOWN = (
    "case", "need", "way", "cash", "cash_change", "hours", "hours_change", "ready_on", "days_change",
    "loose_m3", "loose_m3_change", "remark",
)  # fmt: skip
KEYS = ("case", *OPTION_KEYS, *(column.key for column in CHANGES))


def whatif_tables(answers: list[tuple[str, Answer]]) -> list[Table]:
    """Return one table: every case's options under each other, differences beside them."""
    base = {(row.need, row.way.name): option_row(answers[0][1], row) for row in answers[0][1].options}
    rows: list[Row] = []
    for name, answer in answers:
        for row in answer.options:
            found = option_row(answer, row)
            before = base.get((row.need, row.way.name))
            changes = _changes(found, before) if before is not None and name != "base" else {}
            rows.append({"case": name, **found, **changes})
    return [table("whatif", KEYS, rows, SHOWN, extra=(CASE, *CHANGES))]


def _changes(now: Row, before: Row) -> Row:
    return {
        "cash_change": _less(now.get("cash"), before.get("cash")),
        "hours_change": _less(now.get("hours"), before.get("hours")),
        "days_change": _less(now.get("ready_on"), before.get("ready_on")),
        "loose_m3_change": _less(now.get("loose_m3"), before.get("loose_m3")),
        "matter_left_kg_change": _less(
            now.get("organic_matter_left_kg"), before.get("organic_matter_left_kg")
        ),
    }


def _less(now: Value, before: Value) -> Value:
    if isinstance(now, date) and isinstance(before, date):
        return (now - before).days
    if isinstance(now, Decimal) and isinstance(before, Decimal):
        return now - before
    if isinstance(now, int | float) and isinstance(before, int | float):
        return tidy(now - before)
    return None
