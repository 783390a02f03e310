"""The table and plain forms, and what text and markdown have in common: cells, headings, cautions."""

from __future__ import annotations

from typing import Any

from barrowful.tables.cells import clean, for_people, heading
from barrowful.tables.columns import Column
from barrowful.tables.report import Look, Report, Table


def write_table(report: Report, look: Look) -> str:
    """Return tables with a rule under the headings, and sentences and cautions under them."""
    body = "\n\n".join(_titled(table, report, look) for table in report.tables if table.for_people)
    tail = "\n".join(under_tables(report, look))
    return body + (f"\n\n{tail}" if tail else "") + "\n"


def write_plain(report: Report, look: Look) -> str:
    """Return one record a line: all columns, cells parted by two spaces, empty cells as "-"."""
    return "\n\n".join(_records(table, report, look) for table in report.tables if table.for_people) + "\n"


def _records(table: Table, report: Report, look: Look) -> str:
    headings = (heading(column, look.measures, report.currency) for column in table.columns)
    lines = ["  ".join(words.replace(" ", "_") for words in headings)]
    for row in table.rows:
        cells = (
            for_people(row[column.key], column, look.measures, report.currency) or "-"
            for column in table.columns
        )
        lines.append("  ".join(cells))
    return "\n".join(lines)


def _titled(table: Table, report: Report, look: Look) -> str:
    from tabulate import tabulate

    title = f"{table.title}\n" if table.title else ""
    if not table.rows:
        return f"{title}nothing to show"
    columns = seen(table)
    headings, rows = texts(columns, table, report, look)
    align = ["right" if column.on_the_right else "left" for column in columns]
    return title + tabulate(rows, headings, tablefmt="simple", disable_numparse=True, colalign=align)


def seen(table: Table) -> list[Column[Any]]:
    """Return the columns people see, in their order; those with nothing in them are left out."""
    known = {column.key: column for column in table.columns}
    return [known[key] for key in table.shown if any(row[key] is not None for row in table.rows)]


def texts(
    columns: list[Column[Any]], table: Table, report: Report, look: Look
) -> tuple[list[str], list[list[str]]]:
    """Return the headings of some columns and the cells of each row as people see them."""
    rows = [
        [for_people(row[column.key], column, look.measures, report.currency) for column in columns]
        for row in table.rows
    ]
    return [heading(column, look.measures, report.currency) for column in columns], rows


def under_tables(report: Report, look: Look) -> list[str]:
    """Return the lines under the tables: sentences, then cautions, the three gravest or all."""
    lines = report.caution_lines(look.all_cautions, with_sources=look.all_cautions)
    more = len(report.cautions) - len(report.gravest(look.all_cautions))
    if more > 0:
        lines.append(f"{more} more cautions apply; --all-cautions prints them with their sources.")
    return [clean(line) for line in (*report.sentences, *lines)]
