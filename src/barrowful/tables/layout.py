"""The layout of a table: its columns with the functions that fill them, and what identifies a row."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import isfinite
from typing import Generic

from barrowful.tables.columns import Column, Subject, Value
from barrowful.tables.report import Table


@dataclass(frozen=True, kw_only=True)
class Layout(Generic[Subject]):
    """A table described: rows can hold nothing but its columns, and each column fills itself.

    ``identifies`` are the keys that no two rows share; where rows may share them, ``repeats`` says
    why. ``shown`` are the keys people see, in their order; all when empty. ``appears`` says when the
    table is there, where it is not always.
    """

    name: str
    columns: tuple[Column[Subject], ...]
    identifies: tuple[str, ...]
    repeats: str = ""
    shown: tuple[str, ...] = ()
    title: str = ""
    appears: str = ""
    for_people: bool = True

    def __post_init__(self) -> None:
        """Refuse keys that stand twice, and names of columns there are not."""
        keys = self.keys
        if len(set(keys)) != len(keys):
            raise ValueError(f"{self.name}: a key stands twice")
        strange = {*self.shown, *self.identifies} - set(keys)
        if strange or not self.identifies:
            raise ValueError(f"{self.name}: not among its columns: {', '.join(sorted(strange))}")

    @property
    def keys(self) -> tuple[str, ...]:
        """Return the keys of the columns, in order."""
        return tuple(column.key for column in self.columns)

    def pick(self, *keys: str) -> tuple[Column[Subject], ...]:
        """Return some of its columns, for a table of fewer about the same."""
        known = {column.key: column for column in self.columns}
        return tuple(known[key] for key in keys)

    def table(self, subjects: Iterable[Subject]) -> Table:
        """Return the table with a row for each subject."""
        readers = [(column.key, column.value) for column in self.columns]
        rows = [{key: tidy(value(subject)) for key, value in readers} for subject in subjects]
        return Table(
            name=self.name,
            columns=self.columns,
            rows=rows,
            shown=self.shown or self.keys,
            title=self.title,
            for_people=self.for_people,
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
    return 0.0 if abs(value) < 1e-9 else float(f"{value:.10g}")
