"""The tables of a what-if: the whole site of each case, the options, and what differs from the base."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import zip_longest
from typing import Any, Generic, NamedTuple, TypeVar

from barrowful.answers.cases import (
    CaseAnswer,
    CaseLine,
    Changes,
    Key,
    Standing,
    WholeCaseLine,
    case_line,
    whole_case_line,
)
from barrowful.answers.lines import OptionLine, WholeLine
from barrowful.sitefile.text.cases import BASE
from barrowful.sitefile.text.vary import Cell, Varied
from barrowful.tables.columns import (
    HOURS,
    MASS,
    VOLUME,
    Column,
    Display,
    Scale,
    Subject,
    as_is,
    day,
    money,
    number,
    text,
)
from barrowful.tables.layout import Layout
from barrowful.tables.options import OPTIONS
from barrowful.tables.report import Row, Table
from barrowful.tables.whole_site import WHOLE_SITE

Line = TypeVar("Line")
CaseRow = TypeVar("CaseRow", CaseLine, WholeCaseLine)

#: How the page of columns tells of the values that are varied.
FURTHER = (
    "Behind `case` stand `varied_1`, `varied_2` and so on, one for each `--vary` in their order: the value"
    " that the case has of it, a number in the unit of its range (`unit` of the column says which), a date or"
    " a text; `meaning` of the column says its path."
)


def _case() -> Column[Any]:
    meaning = "Which case: base is the file as it stands."
    return text("case", "case", meaning, lambda row: row.case)


def _changes(read: Callable[[Any], Changes]) -> tuple[Column[Any], ...]:
    """Return the columns of what a row adds to the base's."""
    return (
        money("cash_change", "cash +/-", "Cash less the base's.", lambda row: read(row).cash),
        number("hours_change", "hours +/-", HOURS, "Hours less the base's.", lambda row: read(row).hours),
        number(
            "days_change",
            "days +/-",
            as_is("day", 0, "days"),
            "Days later than the base.",
            lambda row: read(row).days,
        ),
        number(
            "loose_m3_change",
            "loose +/-",
            VOLUME,
            "Loose volume less the base's.",
            lambda row: read(row).loose,
        ),
    )


WHATIF_SITE: Layout[WholeCaseLine] = Layout(
    name="whatif_site",
    title="The whole site",
    identifies=("case", "way"),
    shown=(
        *("case", "way", "cash", "cash_change", "hours", "hours_change", "ready_on", "days_change"),
        "needs_unmet",
    ),
    always_shown=("cash", "hours", "ready_on"),
    first_to_go=("days_change", "hours_change"),
    further=FURTHER,
    columns=(
        _case(),
        *(column.of(lambda row: row.line) for column in WHOLE_SITE.columns),
        *_changes(lambda row: row.changes),
    ),
)

WHATIF: Layout[CaseLine] = Layout(
    name="whatif",
    title="Ways side by side",
    identifies=("case", "need", "way"),
    shown=(
        *("case", "need", "way", "cash", "cash_change", "hours", "hours_change", "ready_on", "days_change"),
        *("loose_m3", "loose_m3_change", "remark"),
    ),
    noted=("remark",),
    always_shown=("cash", "hours", "ready_on"),
    first_to_go=("loose_m3_change", "loose_m3"),
    further=FURTHER,
    columns=(
        _case(),
        *(column.of(lambda row: row.line) for column in OPTIONS.columns),
        *_changes(lambda row: row.changes),
        number(
            "matter_left_kg_change",
            "OM +/-",
            MASS,
            "Organic matter left after a year less the base's.",
            lambda row: row.changes.matter,
        ),
    ),
)


class Other(NamedTuple):
    """A case: its name, its values of what is varied, and its rows that are others than the base's.

    None stands for a row of the base that the case has not.
    """

    name: str
    cells: tuple[Cell, ...]
    rows: dict[Key, Row | None]


class Rows(Generic[Line, CaseRow]):
    """The rows of a table, case under case: those only that some case changes, unless all are asked for."""

    def __init__(
        self,
        layout: Layout[CaseRow],
        line: Callable[[str, tuple[Cell, ...], Line, Line | None], CaseRow],
        base: dict[Key, Line],
    ) -> None:
        self.layout: Layout[CaseRow] = layout
        self.line: Callable[[str, tuple[Cell, ...], Line, Line | None], CaseRow] = line
        self.base = base
        self.own = {"case", *(column.key for column in _changes(lambda row: row))} | {"matter_left_kg_change"}
        self.before = {key: layout.row(line(BASE, (), of, None)) for key, of in base.items()}
        self.others: list[Other] = []
        self.changed: set[Key] = set()

    def add(self, case: CaseAnswer, lines: Iterable[tuple[Key, Line | None]]) -> None:
        """Add a case by those of its rows that may be others than the base's."""
        rows = dict[Key, Row | None]()
        for key, line in lines:
            base = self.base.get(key)
            row = None if line is None else self.layout.row(self.line(case.name, case.cells, line, base))
            if row is None or key not in self.before or self._differs(row, self.before[key]):
                rows[key] = row
        self.changed |= set(rows)
        self.others.append(Other(case.name, case.cells, rows))

    def _differs(self, row: Row, before: Row) -> bool:
        """Say whether a row says anything else than the base's."""
        return any(value != before[key] for key, value in row.items() if key not in self.own)

    def table(self, varied: Sequence[Varied], every: bool) -> Table:
        """Return the table, with a column for each thing that is varied."""
        layout = with_varied(self.layout, varied, named=any(not of.cells for of in self.others))
        rows = [
            _with_cells(row, (), varied) for key, row in self.before.items() if every or key in self.changed
        ]
        for other in self.others:
            rows += [_with_cells(row, other.cells, varied) for row in self._rows_of(other, every)]
        title = layout.title if rows else self.layout.title
        return replace(layout, shown=_worth_showing(layout.shown, rows), title=title).of_rows(rows)

    def _rows_of(self, other: Other, every: bool) -> Iterator[Row]:
        """Give the rows of a case in the order of the base, then those the base has not."""
        for key, line in self.base.items():
            if key in other.rows:
                row = other.rows[key]
                if row is not None:
                    yield row
            elif every or key in self.changed:
                yield self.layout.row(self.line(other.name, other.cells, line, line))
        yield from (row for key, row in other.rows.items() if key not in self.base and row is not None)


def _worth_showing(shown: Iterable[str], rows: Sequence[Row]) -> tuple[str, ...]:
    """Return the keys that people see, without differences where nothing differs."""
    return tuple(
        key for key in shown if not key.endswith("_change") or any(row[key] for row in rows) or not rows
    )


def _with_cells(row: Row, cells: Sequence[Cell], varied: Sequence[Varied]) -> Row:
    """Return a row with its values of what is varied behind its case."""
    if not varied:
        return row
    values = dict(zip_longest(_keys(varied), cells))
    return {"case": row["case"], **values, **row}


def _keys(varied: Sequence[Varied]) -> list[str]:
    return [f"varied_{count}" for count in range(1, len(varied) + 1)]


def with_varied(layout: Layout[Subject], varied: Sequence[Varied], named: bool) -> Layout[Subject]:
    """Return the layout with a column for each thing that is varied.

    People see it in place of the case, whose name says the same, unless some cases are ``named``.
    """
    if not varied:
        return layout
    [case, *others] = layout.columns
    columns = [_column(key, axis) for key, axis in zip(_keys(varied), varied, strict=True)]
    keys = tuple(column.key for column in columns)
    shown = ("case",) * named + keys + layout.shown[1:]
    title = layout.title if named else f"{layout.title}; rows without a value are the file as it stands"
    return replace(layout, columns=(case, *columns, *others), shown=shown, title=title)


def _column(key: str, axis: Varied) -> Column[Any]:
    """Return the column of something that is varied."""
    name = " ".join(axis.path.split(".")[-2:])
    meaning = f"{axis.path}, which is varied."

    def read(row: Any) -> Any:
        return row[key]

    cells = [value.cell for value in axis.values]
    if all(isinstance(cell, float) for cell in cells):
        scale = Scale(axis.unit, Display(axis.unit, 1.0, 6, strip=True))
        return number(key, name, scale, meaning, read)
    return text(key, name, meaning, read) if isinstance(cells[0], str) else day(key, name, meaning, read)


class WhatIfTables:
    """Both tables of a what-if, filled case by case: no case is kept once its rows are read."""

    def __init__(self, standing: Standing) -> None:
        self.standing = standing
        self.whole: Rows[WholeLine, WholeCaseLine] = Rows(WHATIF_SITE, whole_case_line, standing.whole_lines)
        self.ways: Rows[OptionLine, CaseLine] = Rows(WHATIF, case_line, standing.option_lines)

    def add(self, case: CaseAnswer) -> None:
        """Add the rows of a case."""
        self.whole.add(case, self.standing.changed_whole(case))
        self.ways.add(case, self.standing.changed_options(case))

    def tables(self, varied: Sequence[Varied], every: bool) -> list[Table]:
        """Return the whole site first, then the ways."""
        return [self.whole.table(varied, every), self.ways.table(varied, every)]
