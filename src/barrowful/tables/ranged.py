"""Tables with ranges: beside each cell what it is no more than in one, five and nine of ten draws."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from decimal import Decimal
from math import isfinite
from typing import Any, NamedTuple

from barrowful.measures.draws import Spread, spread
from barrowful.measures.money import rounded
from barrowful.tables.columns import Column, Subject, Value
from barrowful.tables.layout import Layout
from barrowful.tables.report import Table

#: What the keys of a range end in, what people see, which part of a spread it is, and in words.
ENDS = (("10", "10%", "ten", "one"), ("50", "50%", "fifty", "five"), ("90", "90%", "ninety", "nine"))


class Ranged(NamedTuple):
    """What a row is about, with what its cells come to in all draws, by their keys."""

    subject: Any
    spreads: Mapping[str, Spread]
    currency: str


def ranged_columns(column: Column[Any]) -> tuple[Column[Ranged], ...]:
    """Return the columns of the range of a column, which stand beside it."""
    return tuple(_end_of(column, *end) for end in ENDS)


def _end_of(column: Column[Any], ending: str, seen: str, end: str, tenths: str) -> Column[Ranged]:
    def value(row: Ranged) -> Value:
        known = row.spreads.get(column.key)
        amount = None if known is None else getattr(known, end)
        if amount is None or not isfinite(amount) or column.value(row.subject) is None:
            return None
        if column.kind == "money":
            return rounded(Decimal(repr(amount)), row.currency)
        return round(amount) if column.kind == "count" else float(amount)

    return Column(
        key=f"{column.key}_{ending}",
        kind=column.kind,
        heading=f"{column.heading} {seen}",
        meaning=f"`{column.key}` is no more than this in {tenths} of ten draws.",
        value=value,
        scale=column.scale,
    )


def with_ranges(layout: Layout[Any]) -> Layout[Ranged]:
    """Return the layout of a table with the ranges that it may have."""

    def beside(column: Column[Any]) -> tuple[Column[Ranged], ...]:
        own: Column[Ranged] = column.of(lambda row: row.subject)
        return (own, *ranged_columns(column)) if column.key in layout.ranged else (own,)

    return replace(
        layout,
        columns=tuple(each for column in layout.columns for each in beside(column)),
        shown=layout.shown_ranged or layout.shown,
        first_to_go=tuple(of for key in layout.first_to_go for of in _ends_first(layout, key)),
        together=tuple(_ends_of(key) for key in layout.ranged),
        ranged=(),
        shown_ranged=(),
    )


def _ends_first(layout: Layout[Any], key: str) -> list[str]:
    """Return a key after those of its ends, which tell nothing without it."""
    return [*(_ends_of(key) if key in layout.ranged else ()), key]


def _ends_of(key: str) -> tuple[str, ...]:
    """Return the keys of the range of a key."""
    return tuple(f"{key}_{ending}" for ending, *_ in ENDS)


def ranged_table(
    layout: Layout[Subject],
    subjects: Iterable[Subject],
    cells: Sequence[Mapping[str, Any]],
    currency: str,
) -> Table:
    """Return the table of subjects with the ranges of their cells, which are draws by keys."""
    rows = [
        Ranged(subject, {key: spread(own[key]) for key in layout.ranged if key in own}, currency)
        for subject, own in zip(subjects, cells, strict=True)
    ]
    return with_ranges(layout).table(rows)
