"""The writers: table, plain, csv, tsv, json and markdown. Each returns the whole text first."""

from __future__ import annotations

import csv
import io
import json
from datetime import date
from decimal import Decimal
from typing import Any

from barrowful.catalogue import CATALOGUE_VERSION
from barrowful.tables.cells import clean, for_machines, for_people, heading
from barrowful.tables.columns import Value
from barrowful.tables.report import Report, Table

FORMATS = ("table", "plain", "csv", "tsv", "json", "markdown")
#: A spreadsheet takes a cell that starts with one of these for a formula (OWASP, CSV injection).
FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r", "\n")
MOST_CAUTIONS = 3


def write(report: Report, form: str, measures: str = "metric", all_cautions: bool = False) -> str:
    """Return a report as text in one of :data:`FORMATS`."""
    if form == "json":
        return write_json(report)
    if form in {"csv", "tsv"}:
        return write_delimited(report.tables[0], "," if form == "csv" else "\t")
    body = "\n\n".join(_section(one, report, form, measures) for one in report.tables if one.for_people)
    under = [*report.sentences, *_caution_lines(report, all_cautions)] if form != "plain" else []
    bullet = "- " if form == "markdown" else ""
    tail = "\n".join(bullet + clean(line) for line in under)
    return body + (f"\n\n{tail}" if tail else "") + "\n"


def _section(one: Table, report: Report, form: str, measures: str) -> str:
    title = one.title and {"markdown": f"## {one.title}\n\n", "table": f"{one.title}\n"}.get(form, "")
    if form == "plain":
        return write_plain(one, report.currency, measures)
    if not one.rows:
        return f"{title}nothing to show"
    headings, rows = _texts(one, report.currency, measures)
    return title + (_markdown(headings, rows) if form == "markdown" else _grid(one, headings, rows))


def _texts(one: Table, currency: str, measures: str) -> tuple[list[str], list[list[str]]]:
    """Return headings and cells of the columns people see, leaving out columns with nothing in them."""
    columns = [column for column in one.columns if column.key in one.shown]
    columns.sort(key=lambda column: one.shown.index(column.key))
    columns = [column for column in columns if any(row[column.key] is not None for row in one.rows)]
    headings = [heading(column, measures, currency) for column in columns]
    rows = [
        [for_people(row[column.key], column, measures, currency) for column in columns] for row in one.rows
    ]
    return headings, rows


def _grid(one: Table, headings: list[str], rows: list[list[str]]) -> str:
    from tabulate import tabulate

    right = {"number", "money", "count"}
    kinds = {column.key: column.kind for column in one.columns}
    by_heading = dict(zip(headings, _kept(one), strict=True))
    align = ["right" if kinds[by_heading[text]] in right else "left" for text in headings]
    return tabulate(rows, headings, tablefmt="simple", disable_numparse=True, colalign=align)


def _kept(one: Table) -> list[str]:
    return [key for key in one.shown if any(row[key] is not None for row in one.rows)]


def _caution_lines(report: Report, every: bool) -> list[str]:
    shown = report.cautions if every else report.cautions[:MOST_CAUTIONS]
    lines = [
        f"Caution ({note.about}): {note.text}" + (f" [{note.source}]" if every else "") for note in shown
    ]
    more = len(report.cautions) - len(shown)
    if more > 0:
        lines.append(f"{more} more cautions apply; --all-cautions prints them with their sources.")
    return lines


def write_plain(one: Table, currency: str, measures: str = "metric") -> str:
    """Return one record a line: all columns, cells parted by two spaces, empty cells as "-"."""
    lines = ["  ".join(heading(column, measures, currency).replace(" ", "_") for column in one.columns)]
    for row in one.rows:
        cells = (for_people(row[column.key], column, measures, currency) or "-" for column in one.columns)
        lines.append("  ".join(cells))
    return "\n".join(lines)


def write_delimited(one: Table, delimiter: str) -> str:
    """Return RFC 4180 text (csv), or tab-separated text with tabs in cells made spaces (tsv)."""
    rows = [[column.key for column in one.columns]]
    rows += [[_cell(row[column.key], delimiter) for column in one.columns] for row in one.rows]
    if delimiter == "\t":
        return "".join("\t".join(row) + "\n" for row in rows)
    out = io.StringIO(newline="")
    csv.writer(out, lineterminator="\r\n").writerows(rows)
    return out.getvalue()


def _cell(value: Value, delimiter: str) -> str:
    """Return a cell; text that a spreadsheet would run gets an apostrophe, numbers stay numbers."""
    text = for_machines(value)
    if not isinstance(value, str):
        return text
    text = clean(text) if delimiter == "\t" else text
    return "'" + text if text.startswith(FORMULA_STARTS) else text


def _markdown(headings: list[str], rows: list[list[str]]) -> str:
    def line(cells: list[str]) -> str:
        return "| " + " | ".join(_escaped(cell) for cell in cells) + " |"

    return "\n".join([line(headings), "|" + " --- |" * len(headings), *(line(row) for row in rows)])


def _escaped(text: str) -> str:
    for sign in ("\\", "|", "<", "`", "*", "_"):
        text = text.replace(sign, "\\" + sign)
    return text


def write_json(report: Report) -> str:
    """Return the report as JSON: numbers are numbers, absent is null, never NaN."""
    return to_json(
        {
            "format_version": 1,
            "command": report.command,
            "site": report.site,
            "catalogue_version": CATALOGUE_VERSION,
            "tables": [_json_table(one, report.currency) for one in report.tables],
            "cautions": [
                {"key": n.key, "severity": n.severity, "text": n.text, "source": n.source}
                for n in report.cautions
            ],
            "warnings": report.warnings,
        }
    )


def to_json(content: Any) -> str:
    """Return JSON text, refusing NaN, with dates and decimals made plain."""
    return json.dumps(content, ensure_ascii=False, indent=2, allow_nan=False, default=_plain) + "\n"


def _plain(value: object) -> object:
    if isinstance(value, Decimal):
        return int(value) if value == value.to_integral_value() else float(value)
    if isinstance(value, date):
        return value.isoformat()
    raise TypeError(type(value).__name__)


def _json_table(one: Table, currency: str) -> dict[str, Any]:
    columns = [
        {"key": c.key, "unit": currency if c.kind == "money" else c.unit or None, "meaning": c.meaning}
        for c in one.columns
    ]
    return {"name": one.name, "columns": columns, "rows": one.rows}
