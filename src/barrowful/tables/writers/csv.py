"""The csv and tsv forms: one table, all its columns, for machines."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator

from barrowful.tables.cells import clean, for_machines
from barrowful.tables.columns import Value
from barrowful.tables.report import Report

#: A spreadsheet takes a cell that starts with one of these for a formula (OWASP, CSV injection).
FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")


def write_csv(report: Report, guard: bool = True) -> str:
    """Return the first table as RFC 4180 text."""
    out = io.StringIO(newline="")
    csv.writer(out, lineterminator="\r\n").writerows(_records(report, ",", guard))
    return out.getvalue()


def write_tsv(report: Report, guard: bool = True) -> Iterator[str]:
    """Yield the lines of the first table as tab-separated text; tabs in cells are made spaces."""
    return ("\t".join(record) + "\n" for record in _records(report, "\t", guard))


def _records(report: Report, delimiter: str, guard: bool) -> Iterator[list[str]]:
    table = report.tables[0]
    keys = [column.key for column in table.columns]
    yield keys
    for row in table.rows:
        yield [_cell(row[key], delimiter, guard) for key in keys]


def _cell(value: Value, delimiter: str, guard: bool) -> str:
    """Return a cell; guarded text that a spreadsheet would run gets an apostrophe, numbers stay numbers."""
    text = for_machines(value)
    if not isinstance(value, str):
        return text
    text = clean(text) if delimiter == "\t" else text
    return "'" + text if guard and text.startswith(FORMULA_STARTS) else text
