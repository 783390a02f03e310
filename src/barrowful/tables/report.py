"""A report: tables of rows under described columns, with sentences, cautions and warnings."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from barrowful.tables.columns import COLUMNS, Column, Value, grams, percent

__all__ = ["Value", "grams", "percent"]
Row = dict[str, Value]


@dataclass(frozen=True)
class Table:
    """A named table; ``shown`` are the columns people see, the others are for machines."""

    name: str
    columns: tuple[Column[Any], ...]
    rows: list[Row]
    shown: tuple[str, ...]
    title: str = ""
    for_people: bool = True


@dataclass(frozen=True)
class Note:
    """A caution with its source, or any remark with a key and a severity."""

    key: str
    severity: int
    text: str
    source: str
    ways: tuple[str, ...] = ()

    @property
    def about(self) -> str:
        """Return the ways it is about, the first two by name."""
        more = len(self.ways) - 2
        return ", ".join(self.ways[:2]) + (f" and {more} more" if more > 0 else "")


@dataclass(frozen=True)
class Report:
    """What a command answers."""

    command: str
    site: str
    currency: str
    tables: list[Table]
    sentences: list[str] = field(default_factory=list)
    cautions: list[Note] = field(default_factory=list)
    warnings: list[str] = field(default_factory=list)

    def only(self, name: str) -> Report:
        """Return the report with one table."""
        one = next(table for table in self.tables if table.name == name)
        return replace(self, tables=[replace(one, for_people=True)])


def table(
    name: str, keys: Sequence[str], rows: list[Row], shown: Sequence[str] = (), title: str = "",
    extra: Sequence[Column[Any]] = (), for_people: bool = True,
) -> Table:  # fmt: skip
    """Return a table with the columns of some keys; every row gets every key, absent is None."""
    own = {column.key: column for column in extra}
    columns = tuple(own[key] if key in own else COLUMNS[key] for key in keys)
    full = [{key: tidy(row.get(key)) for key in keys} for row in rows]
    return Table(name, columns, full, tuple(shown) or tuple(keys), title, for_people)


def tidy(value: Any) -> Value:
    """Return a value fit for every writer: no infinities, no float dust beyond ten digits."""
    if isinstance(value, float):
        if value != value or value in (float("inf"), float("-inf")):
            return None
        return 0.0 if abs(value) < 1e-9 else float(f"{value:.10g}")
    return value  # type: ignore[no-any-return]
