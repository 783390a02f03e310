"""The json form: the whole report, for machines."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from datetime import date
from decimal import Decimal
from typing import Any

from barrowful.catalogue import CATALOGUE_VERSION
from barrowful.tables.columns import Column
from barrowful.tables.report import Report

FORMAT_VERSION = 1
#: What holds other values.
NESTING = frozenset({list, dict})


def write_json(report: Report) -> Iterator[str]:
    """Yield the report as JSON, piece by piece: numbers are numbers, absent is null, never NaN."""
    return _pieces(
        {
            "format_version": FORMAT_VERSION,
            "command": report.command,
            "site": report.site,
            "currency": report.currency,
            "catalogue_version": CATALOGUE_VERSION,
            "tables": [
                {
                    "name": table.name,
                    "columns": [_described(column, report.currency) for column in table.columns],
                    "rows": table.rows,
                }
                for table in report.tables
            ],
            "sentences": [*report.answer, *report.further_sentences],
            "cautions": [
                {"key": note.key, "severity": note.severity, "text": note.text, "source": note.source}
                for note in report.cautions
            ],
            "warnings": report.warnings,
        }
    )


def _described(column: Column[Any], currency: str) -> dict[str, str | None]:
    unit = currency if column.kind == "money" else column.unit or None
    return {"key": column.key, "unit": unit, "meaning": column.meaning}


def to_json(content: Any) -> str:
    """Return JSON text, refusing NaN, with dates and decimals made plain; a row of a table is a line.

    >>> print(to_json({"rows": [{"a": 1, "b": "x"}, {"a": 2, "b": None}]}), end="")
    {
      "rows": [
        {"a": 1, "b": "x"},
        {"a": 2, "b": null}
      ]
    }
    """
    return "".join(_pieces(content))


def _pieces(content: Any) -> Iterator[str]:
    encoder = json.JSONEncoder(ensure_ascii=False, allow_nan=False, default=_plain)
    yield from _written(content, encoder.encode, "\n")
    yield "\n"


def _written(content: Any, encode: Callable[[Any], str], end: str) -> Iterator[str]:
    """Yield what holds lists or objects on several lines, each begun by ``end``, all else on one."""
    inside = content.values() if isinstance(content, dict) else content if isinstance(content, list) else ()
    if NESTING.isdisjoint(map(type, inside)):
        yield encode(content)
        return
    named = isinstance(content, dict)
    parts = content.items() if named else ((None, part) for part in content)
    further = f"{end}  "
    yield "{" if named else "["
    for number, (key, part) in enumerate(parts):
        yield f",{further}" if number else further
        if named:
            yield f"{encode(key)}: "
        yield from _written(part, encode, further)
    yield end
    yield "}" if named else "]"


def _plain(value: object) -> object:
    if isinstance(value, Decimal):
        return int(value) if value == value.to_integral_value() else float(value)
    if isinstance(value, date):
        return value.isoformat()
    raise TypeError(type(value).__name__)
