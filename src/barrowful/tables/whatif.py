"""The table of a what-if: the options of each case and their differences from the base."""

from __future__ import annotations

from barrowful.answers.cases import CaseLine
from barrowful.tables.columns import HOURS, VOLUME, as_is, money, number, text
from barrowful.tables.layout import Layout
from barrowful.tables.options import OPTIONS

WHATIF: Layout[CaseLine] = Layout(
    name="whatif",
    identifies=("case", "need", "way"),
    repeats="a case may be called base too",
    shown=(
        *("case", "need", "way", "cash", "cash_change", "hours", "hours_change", "ready_on", "days_change"),
        *("loose_m3", "loose_m3_change", "remark"),
    ),
    noted=("remark",),
    always_shown=("cash", "hours", "ready_on"),
    first_to_go=("loose_m3_change", "loose_m3"),
    columns=(
        text("case", "case", "Which case: base is the file as it stands.", lambda row: row.case),
        *(column.of(lambda row: row.line) for column in OPTIONS.columns),
        money("cash_change", "cash +/-", "Cash less the base's.", lambda row: row.changes.cash),
        number(
            "hours_change",
            "hours +/-",
            HOURS,
            "Hours less the base's.",
            lambda row: row.changes.hours,
        ),
        number(
            "days_change",
            "days +/-",
            as_is("day", 0, "days"),
            "Days later than the base.",
            lambda row: row.changes.days,
        ),
        number(
            "loose_m3_change",
            "loose +/-",
            VOLUME,
            "Loose volume less the base's.",
            lambda row: row.changes.loose,
        ),
        number(
            "matter_left_kg_change",
            "OM +/-",
            as_is("kg", 0),
            "Organic matter left after a year less the base's.",
            lambda row: row.changes.matter,
        ),
    ),
)
