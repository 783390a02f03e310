"""The json form: the whole report, for machines."""

from __future__ import annotations

import json
from collections.abc import Callable
from datetime import date
from decimal import Decimal
from typing import Any

from barrowful.catalogue import CATALOGUE_VERSION
from barrowful.tables.columns import Column
from barrowful.tables.report import Report

FORMAT_VERSION = 1


def write_json(report: Report) -> str:
    """Return the report as JSON: numbers are numbers, absent is null, never NaN."""
    return to_json(
        {
            "format_version": FORMAT_VERSION,
            "command": report.command,
            "site": report.site,
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
    encoder = json.JSONEncoder(ensure_ascii=False, allow_nan=False, default=_plain)
    return _written(content, encoder.encode, "\n") + "\n"


def _written(content: Any, encode: Callable[[Any], str], end: str) -> str:
    """Return what holds lists or objects on several lines, each begun by ``end``, all else on one."""
    inside = content.values() if isinstance(content, dict) else content if isinstance(content, list) else ()
    if not any(isinstance(part, dict | list) for part in inside):
        return encode(content)
    if isinstance(content, dict):
        marks, parts = (
            "{}",
            [f"{encode(key)}: {_written(content[key], encode, end + '  ')}" for key in content],
        )
    else:
        marks, parts = "[]", [_written(part, encode, end + "  ") for part in content]
    return marks[0] + ",".join(f"{end}  {part}" for part in parts) + end + marks[1]


def _plain(value: object) -> object:
    if isinstance(value, Decimal):
        return int(value) if value == value.to_integral_value() else float(value)
    if isinstance(value, date):
        return value.isoformat()
    raise TypeError(type(value).__name__)
