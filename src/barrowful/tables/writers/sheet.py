"""What people see of a table before it is fitted: its columns as text, its notes, what every row shares."""

from __future__ import annotations

from dataclasses import replace
from functools import cached_property
from sys import intern
from typing import Any, NamedTuple

from barrowful.measures.fixed import fixed
from barrowful.site.references import IN_ALL
from barrowful.tables.cells import for_people, unit_seen
from barrowful.tables.columns import Column
from barrowful.tables.report import Look, Report, Table
from barrowful.tables.writers.widths import columns_of, longest_word

#: Key and heading of the column of the numbers of notes.
NOTE = "note"
#: What parts a number from its unit in one column, and fills up to the widest, until the lines are made: a
#: letter that nobody writes, as spaces would be broken at, or cut off.
FILL = "\ue000"
#: Between the names of several ways that serve jointly.
JOINT = " + "


@fixed
class SeenColumn:
    """A column as people see it; the texts of one that ``breaks`` may go on over more lines.

    ``total`` is what stands under its rows, where it is summed.
    """

    key: str
    name: str
    cells: list[str]
    unit: str = ""
    on_the_right: bool = False
    breaks: bool = False
    total: str = ""

    @property
    def heading(self) -> str:
        """Return its name with the unit."""
        return f"{self.name}, {self.unit}" if self.unit else self.name

    @cached_property
    def width(self) -> int:
        """Return the columns of a screen its widest cell takes."""
        return max(map(columns_of, [*self.cells, self.total]))

    @cached_property
    def longest_word(self) -> int:
        """Return the columns of a screen that the longest piece takes that no space parts."""
        return max(map(longest_word, self.cells), default=0) if self.breaks else self.width

    @cached_property
    def widest_name(self) -> int:
        """Return the columns of a screen the widest cell takes that is broken between joint ways alone."""
        if not self.breaks:
            return self.width
        parts = [f"{part} +" for cell in self.cells for part in cell.split(JOINT)[:-1]]
        return max(map(columns_of, [*parts, *(cell.split(JOINT)[-1] for cell in self.cells), self.total]))


class Sheet(NamedTuple):
    """What people see of a table: columns, notes from number 1 on, and what holds in every row."""

    columns: list[SeenColumn]
    notes: list[str]
    throughout: list[SeenColumn]

    @property
    def shared(self) -> str:
        """Return in a sentence what holds in every row, or nothing."""
        told = [" ".join(filter(None, (of.name, of.cells[0], of.unit))) for of in self.throughout]
        return f"In every row: {'; '.join(told).replace(FILL, ' ').removesuffix('.')}." if told else ""


def seen(table: Table) -> list[Column[Any]]:
    """Return the columns people see, in their order; those with nothing in them are left out of rows."""
    known = {column.key: column for column in table.columns}
    rows = table.rows
    return [known[key] for key in table.shown if not rows or any(row[key] is not None for row in rows)]


def sheet_of(table: Table, report: Report, look: Look) -> Sheet:
    """Return what people see of a table: texts as numbered notes, and no column that tells nothing."""
    shown = replace(table, rows=table.rows[: table.head.rows]) if table.head else table
    columns = [
        replace(_column(column, shown, report, look), total=_total(column, table, report, look))
        for column in seen(shown)
    ]
    columns = _joined([column for column in columns if any(column.cells)], table)
    throughout = _throughout(columns, table)
    if len(throughout) == len(columns):
        throughout = []
    kept = _labelled([column for column in columns if column not in throughout], table)
    return _with_notes(kept, throughout, table)


def _column(column: Column[Any], table: Table, report: Report, look: Look) -> SeenColumn:
    texts = (for_people(row[column.key], column, look.measures, report.currency) for row in table.rows)
    return SeenColumn(
        key=column.key,
        name=column.heading,
        cells=[intern(text) for text in texts],  # few are different: each is kept once
        unit=unit_seen(column, look.measures, report.currency),
        on_the_right=column.on_the_right,
        breaks=column.kind == "text",
    )


def _total(column: Column[Any], table: Table, report: Report, look: Look) -> str:
    """Return what all rows of a column come to, where it is summed and there is anything to add up."""
    values: list[Any] = [row[column.key] for row in table.rows if row[column.key] is not None]
    if column.key not in table.summed or len(table.rows) < 2 or not any(values):
        return ""
    return for_people(sum(values[1:], values[0]), column, look.measures, report.currency)


def _joined(columns: list[SeenColumn], table: Table) -> list[SeenColumn]:
    """Return the columns with the numbers and the units that go together in one, each in line."""
    known = {column.key: column for column in columns}
    for number, unit in table.joined:
        if number in known and unit in known:
            known[number] = _with_units(known[number], known.pop(unit))
    return list(known.values())


def _with_units(number: SeenColumn, unit: SeenColumn) -> SeenColumn:
    cells = [
        FILL * (number.width - columns_of(amount))
        + FILL.join((amount, word)).strip(FILL)
        + FILL * (unit.width - columns_of(word))
        for amount, word in zip(number.cells, unit.cells, strict=True)
    ]
    return replace(number, cells=[cell if cell.strip(FILL) else "" for cell in cells], on_the_right=False)


def _labelled(columns: list[SeenColumn], table: Table) -> list[SeenColumn]:
    """Return the columns with the word for what stands under the rows in the first that is not summed."""
    place = next((place for place, column in enumerate(columns) if column.key not in table.summed), None)
    if place is None or not any(column.total for column in columns):
        return [replace(column, total="") for column in columns]
    word = f"all {len(table.rows)}" if table.head else IN_ALL
    return [*columns[:place], replace(columns[place], total=word), *columns[place + 1 :]]


def _throughout(columns: list[SeenColumn], table: Table) -> list[SeenColumn]:
    """Return the columns that tell no row from another, and need not be there all the same.

    Of those that identify rows one that does is left.
    """
    same = [column for column in columns if len(column.cells) > 1 and len(set(column.cells)) == 1]
    there = {column.key for column in columns} - {column.key for column in same}
    needed = {*table.always_shown, *(table.identifies if there.isdisjoint(table.identifies) else ())}
    return [column for column in same if column.key not in needed and not column.total]


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
