"""The markdown form: a heading and a table for each table, then sentences and cautions as a list."""

from __future__ import annotations

from barrowful.tables.report import Look, Report, Table
from barrowful.tables.writers.text import seen, texts, under_tables


def write_markdown(report: Report, look: Look) -> str:
    """Return a report as markdown."""
    body = "\n\n".join(_titled(table, report, look) for table in report.tables if table.for_people)
    tail = "\n".join(f"- {line}" for line in under_tables(report, look))
    return body + (f"\n\n{tail}" if tail else "") + "\n"


def _titled(table: Table, report: Report, look: Look) -> str:
    title = f"## {table.title}\n\n" if table.title else ""
    if not table.rows:
        return f"{title}nothing to show"
    headings, rows = texts(seen(table), table, report, look)
    rule = "|" + " --- |" * len(headings)
    return title + "\n".join([_line(headings), rule, *(_line(row) for row in rows)])


def _line(cells: list[str]) -> str:
    return "| " + " | ".join(_escaped(cell) for cell in cells) + " |"


def _escaped(text: str) -> str:
    for sign in ("\\", "|", "<", "`", "*", "_"):
        text = text.replace(sign, "\\" + sign)
    return text
