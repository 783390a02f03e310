"""What people see of a table before it is fitted: its columns as text, its notes, what every row shares."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Any, NamedTuple

from barrowful.tables.cells import for_people, unit_seen
from barrowful.tables.columns import Column
from barrowful.tables.report import Look, Report, Table
from barrowful.tables.writers.widths import columns_of, longest_word

#: Key and heading of the column of the numbers of notes.
NOTE = "note"


@dataclass(frozen=True, kw_only=True, eq=False)
class SeenColumn:
    """A column as people see it; the texts of one that ``breaks`` may go on over more lines."""

    key: str
    name: str
    cells: list[str]
    unit: str = ""
    on_the_right: bool = False
    breaks: bool = False

    @property
    def heading(self) -> str:
        """Return its name with the unit."""
        return f"{self.name}, {self.unit}" if self.unit else self.name

    @cached_property
    def width(self) -> int:
        """Return the columns of a screen its widest cell takes."""
        return max(map(columns_of, self.cells), default=0)

    @cached_property
    def longest_word(self) -> int:
        """Return the columns of a screen that the longest piece takes that no space parts."""
        return max(map(longest_word, self.cells), default=0) if self.breaks else self.width


class Sheet(NamedTuple):
    """What people see of a table: columns, notes from number 1 on, and what holds in every row."""

    columns: list[SeenColumn]
    notes: list[str]
    throughout: list[SeenColumn]

    @property
    def shared(self) -> str:
        """Return in a sentence what holds in every row, or nothing."""
        told = [" ".join(filter(None, (of.name, of.cells[0], of.unit))) for of in self.throughout]
        return f"In every row: {'; '.join(told).removesuffix('.')}." if told else ""


def seen(table: Table) -> list[Column[Any]]:
    """Return the columns people see, in their order; those with nothing in them are left out of rows."""
    known = {column.key: column for column in table.columns}
    rows = table.rows
    return [known[key] for key in table.shown if not rows or any(row[key] is not None for row in rows)]


def sheet_of(table: Table, report: Report, look: Look) -> Sheet:
    """Return what people see of a table: texts as numbered notes, and no column that tells nothing."""
    columns = [_column(column, table, report, look) for column in seen(table)]
    columns = [column for column in columns if any(column.cells)]
    throughout = [column for column in columns if _is_the_same_throughout(column, table)]
    if len(throughout) == len(columns):
        throughout = []
    return _with_notes([column for column in columns if column not in throughout], throughout, table)


def _column(column: Column[Any], table: Table, report: Report, look: Look) -> SeenColumn:
    return SeenColumn(
        key=column.key,
        name=column.heading,
        cells=[for_people(row[column.key], column, look.measures, report.currency) for row in table.rows],
        unit=unit_seen(column, look.measures, report.currency),
        on_the_right=column.on_the_right,
        breaks=column.kind == "text",
    )


def _is_the_same_throughout(column: SeenColumn, table: Table) -> bool:
    """Say whether a column tells no row from another, and need not be there all the same."""
    cells = column.cells
    needed = column.key in {*table.identifies, *table.always_shown}
    return not needed and len(cells) > 1 and cells.count(cells[0]) == len(cells)


def _with_notes(columns: list[SeenColumn], throughout: list[SeenColumn], table: Table) -> Sheet:
    """Return the sheet with one column of numbers in place of the first column of notes."""
    noted = [column for column in columns if column.key in table.noted]
    if not noted:
        return Sheet(columns, [], throughout)
    rows = [list(dict.fromkeys(filter(None, texts))) for texts in zip(*(c.cells for c in noted), strict=True)]
    notes = list(dict.fromkeys(text for texts in rows for text in texts))
    numbers = {text: str(number) for number, text in enumerate(notes, 1)}
    cells = [", ".join(numbers[text] for text in texts) for texts in rows]
    place = columns.index(noted[0])
    kept = [column for column in columns if column not in noted]
    kept.insert(place, SeenColumn(key=NOTE, name=NOTE, cells=cells))
    return Sheet(kept, notes, throughout)
