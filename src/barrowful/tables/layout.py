"""The layout of a table: its columns with the functions that fill them, and what identifies a row."""

from __future__ import annotations

from collections.abc import Iterable
from math import isfinite
from typing import Generic

from barrowful.measures.fixed import fixed
from barrowful.measures.text import without_dust
from barrowful.tables.columns import Column, Subject, Value
from barrowful.tables.report import Row, Table

#: Kinds of columns that have a sum.
SUMMED = {"number", "money", "count"}


@fixed
class Layout(Generic[Subject]):
    """A table described: rows can hold nothing but its columns, and each column fills itself.

    ``identifies`` are the keys that no two rows share; where rows may share them, ``repeats`` says
    why. ``shown`` are the keys people see, in their order; all when empty. ``appears`` says when the
    table has rows, where it has not always: without any, people do not see it. On a screen the texts
    of ``noted`` are numbered notes under the table, ``always_shown`` have their column even where every
    row holds the same, and ``first_to_go`` are left out first, in that order, where the screen is too
    narrow for all, those ``together`` at once; ``joined`` are numbers with the key of the words that tell
    their unit, one column there, and ``summed`` stand under the rows in all. ``further`` says which columns
    stand beside these where they are asked for. ``ranged`` are the keys that have a range beside them where
    that is asked for, and ``shown_ranged`` what people see then.
    """

    name: str
    columns: tuple[Column[Subject], ...]
    identifies: tuple[str, ...]
    repeats: str = ""
    shown: tuple[str, ...] = ()
    title: str = ""
    appears: str = ""
    for_people: bool = True
    noted: tuple[str, ...] = ()
    always_shown: tuple[str, ...] = ()
    first_to_go: tuple[str, ...] = ()
    together: tuple[tuple[str, ...], ...] = ()
    joined: tuple[tuple[str, str], ...] = ()
    summed: tuple[str, ...] = ()
    further: str = ""
    ranged: tuple[str, ...] = ()
    shown_ranged: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        """Refuse keys that stand twice, names of columns there are not, and what cannot be on a screen."""
        keys = self.keys
        if len(set(keys)) != len(keys):
            raise ValueError(f"{self.name}: a key stands twice")
        named = {*self.shown, *self.identifies, *self.noted, *self.always_shown, *self.first_to_go}
        named |= {*self.ranged}
        named |= {*self.summed, *(key for pair in self.joined for key in pair)}
        if named - set(keys) or not self.identifies:
            raise ValueError(f"{self.name}: not among its columns: {', '.join(sorted(named - set(keys)))}")
        if needed := {*self.identifies, *self.noted} & {*self.first_to_go}:
            raise ValueError(f"{self.name}: may not be left out: {', '.join(sorted(needed))}")
        if figures := [column.key for column in self.pick(*self.noted) if column.kind != "text"]:
            raise ValueError(f"{self.name}: only text can be a note: {', '.join(figures)}")
        if words := [column.key for column in self.pick(*self.summed) if column.kind not in SUMMED]:
            raise ValueError(f"{self.name}: only amounts can be summed: {', '.join(words)}")

    @property
    def keys(self) -> tuple[str, ...]:
        """Return the keys of the columns, in order."""
        return tuple(column.key for column in self.columns)

    def pick(self, *keys: str) -> tuple[Column[Subject], ...]:
        """Return some of its columns, for a table of fewer about the same."""
        known = {column.key: column for column in self.columns}
        return tuple(known[key] for key in keys)

    def row(self, subject: Subject) -> Row:
        """Return the row of a subject."""
        return {column.key: tidy(column.value(subject)) for column in self.columns}

    def table(self, subjects: Iterable[Subject]) -> Table:
        """Return the table with a row for each subject."""
        return self.of_rows([self.row(subject) for subject in subjects])

    def of_rows(self, rows: list[Row]) -> Table:
        """Return the table of rows that were read before."""
        return Table(
            name=self.name,
            columns=self.columns,
            rows=rows,
            shown=self.shown or self.keys,
            title=self.title,
            for_people=self.for_people and bool(rows or not self.appears),
            identifies=self.identifies,
            noted=self.noted,
            always_shown=self.always_shown,
            first_to_go=self.first_to_go,
            together=self.together,
            joined=self.joined,
            summed=self.summed,
        )


def tidy(value: Value) -> Value:
    """Return a value fit for every writer: no infinities, no float dust beyond ten digits.

    >>> tidy(0.1 + 0.2), tidy(float("inf")), tidy(-1e-12), tidy("as it is")
    (0.3, None, 0.0, 'as it is')
    """
    if not isinstance(value, float):
        return value
    if not isfinite(value):
        return None
    return 0.0 if abs(value) < 1e-9 else without_dust(value)
