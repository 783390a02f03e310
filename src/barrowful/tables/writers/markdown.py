"""The markdown form: the answer as a list, each table under its heading, then the rest as a list."""

from __future__ import annotations

from collections.abc import Iterable

from barrowful.tables.cells import clean, for_people, heading
from barrowful.tables.report import Look, Report, Table
from barrowful.tables.writers.sheet import seen
from barrowful.tables.writers.text import under_tables


def write_markdown(report: Report, look: Look) -> str:
    """Return a report as markdown; its lines may be long."""
    parts = [
        _list(map(clean, report.answer)),
        *(_titled(table, report, look) for table in report.tables if table.for_people),
        _list(under_tables(report, look)),
    ]
    return "\n\n".join(filter(None, parts)) + "\n"


def _list(sentences: Iterable[str]) -> str:
    return "\n".join(f"- {sentence}" for sentence in sentences)


def _titled(table: Table, report: Report, look: Look) -> str:
    title = f"## {table.title}\n\n" if table.title else ""
    columns, measures, currency = seen(table), look.measures, report.currency
    headings = [heading(column, measures, currency) for column in columns]
    rows = [
        [for_people(row[column.key], column, measures, currency) for column in columns] for row in table.rows
    ]
    rule = "|" + " --- |" * len(headings)
    return title + "\n".join([_line(headings), rule, *map(_line, rows)])


def _line(cells: list[str]) -> str:
    return "| " + " | ".join(escaped(cell) for cell in cells) + " |"


def escaped(text: str) -> str:
    """Return a text in which no sign means anything to markdown."""
    text = clean(text)
    for sign in ("\\", "|", "<", "`", "*", "_"):
        text = text.replace(sign, "\\" + sign)
    return text.replace("](", "]\\(")
