"""The table form, fitted to the width of a screen, and the plain form, which is not."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from barrowful.tables.cells import clean, for_people, heading
from barrowful.tables.report import Look, Report, Table
from barrowful.tables.writers.fitting import GAP, Fitting, fitted
from barrowful.tables.writers.sheet import FILL, JOINT, SeenColumn, Sheet, sheet_of
from barrowful.tables.writers.widths import columns_of, wrapped

#: What a sentence that needs more than one line goes on with.
HANGING = "  "
#: Rows that are drawn at a time: a setting of the machine.
AT_ONCE = 1000


def write_table(report: Report, look: Look) -> Iterator[str]:
    """Yield the lines of the answer, tables with a rule under the headings, sentences and cautions."""
    parts: list[Iterable[str]] = [
        _paragraph(report.answer, look),
        *(_titled(table, report, look) for table in report.tables if table.for_people),
        _drawing(report, look),
        _paragraph(under_tables(report, look), look),
    ]
    begun = between = False
    for lines in parts:
        for line in lines:
            yield f"\n{line}\n" if between else f"{line}\n"
            begun, between = True, False
        between = begun


def _drawing(report: Report, look: Look) -> list[str]:
    """Return the lines of the charts of a report, where it has any."""
    if not report.charts:
        return []
    from barrowful.tables.writers.plot import plot

    drawn = "\n".join(plot(chart, look.width, look.braille) for chart in report.charts)
    return drawn.removesuffix("\n").split("\n")


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


def _paragraph(sentences: Iterable[str], look: Look) -> list[str]:
    """Return the lines of some sentences, each of which begins on a line of its own."""
    return [line for sentence in sentences for line in wrapped(clean(sentence), look.width, rest=HANGING)]


def _titled(table: Table, report: Report, look: Look) -> Iterator[str]:
    """Yield the lines of a table under its title, and what must be said under it."""
    yield from _paragraph([table.title] if table.title else [], look)
    if not table.rows:
        yield "nothing to show"
        return
    sheet = sheet_of(table, report, look)
    fitting = fitted(sheet.columns, table, look.width)
    yield from _grid(fitting)
    told = [table.head.told] if table.head else []
    under = [*_notes(sheet, look), *_paragraph([*told, *_unseen(sheet, fitting)], look)]
    yield from ["", *under] if under else []


def _grid(fitting: Fitting) -> Iterator[str]:
    """Yield the lines of columns side by side: headings end on the rule, cells begin at the top.

    Rows go to tabulate some at a time, as it keeps many copies of them; a first line that is filled makes
    columns as wide each time, and is left away with the rules at the top and the bottom. Headings are rows,
    as tabulate makes a column two wider than what it is told is a heading.
    """
    from tabulate import SEPARATING_LINE, tabulate

    columns, widths = fitting.columns, fitting.widths
    headings = [wrapped(column.heading, width) for column, width in zip(columns, widths, strict=True)]
    height = max(map(len, headings))
    heads = [[""] * (height - len(lines)) + lines for lines in headings]
    bodies = [*map(_broken, columns, widths)]
    totals = [column.total for column in columns]
    widest = [
        FILL * max(columns_of(line) for text in {*head, *body, total} for line in text.split("\n"))
        for head, body, total in zip(heads, bodies, totals, strict=True)
    ]
    align = ["right" if column.on_the_right else "left" for column in columns]

    def drawn(*rows: Any) -> Iterator[str]:
        grid = tabulate([widest, *rows], tablefmt="simple", disable_numparse=True, colalign=align)
        return (line.replace(FILL, " ").rstrip(" ") for line in grid.split("\n")[2:-1])

    yield from drawn(*zip(*heads, strict=True), SEPARATING_LINE)
    for first in range(0, len(bodies[0]), AT_ONCE):
        yield from drawn(*zip(*(body[first : first + AT_ONCE] for body in bodies), strict=True))
    if any(totals):
        yield from drawn(SEPARATING_LINE, totals)


def _broken(column: SeenColumn, width: int) -> list[str]:
    """Return the cells of a column, broken into lines where they are wider than it is."""
    return ["\n".join(wrapped(cell, width)) for cell in _parts(column, width)]


def _parts(column: SeenColumn, width: int) -> list[str]:
    """Return the cells of a column; joint ways are parted between their names where these have room."""
    if not column.breaks or width < column.widest_name:
        return column.cells
    return [
        cell.replace(" ", FILL).replace(JOINT.replace(" ", FILL), f"{FILL}+ ") if JOINT in cell else cell
        for cell in column.cells
    ]


def _notes(sheet: Sheet, look: Look) -> list[str]:
    """Return the lines of the notes, each with its number."""
    digits = len(str(len(sheet.notes)))
    indent = " " * (digits + GAP)
    return [
        line
        for number, text in enumerate(sheet.notes, 1)
        for line in wrapped(text, look.width, first=f"{number:>{digits}}" + " " * GAP, rest=indent)
    ]


def _unseen(sheet: Sheet, fitting: Fitting) -> list[str]:
    """Return what columns hold that every row shares, and which had no room."""
    lines = [sheet.shared] if sheet.shared else []
    if fitting.left_out:
        shown = {column.name for column in fitting.columns}
        names = ", ".join(
            f"{column.name} in {column.unit}" if column.unit and column.name in shown else column.name
            for column in fitting.left_out
        )
        lines.append(f"Left out for want of width: {names}; --format plain shows every column.")
    return lines


def under_tables(report: Report, look: Look) -> list[str]:
    """Return what stands under the tables: sentences, then cautions, the three gravest or all."""
    lines = report.caution_lines(look.all_cautions, with_sources=look.all_cautions)
    more = len(report.cautions) - len(report.gravest(look.all_cautions))
    if more > 0:
        single = "caution applies; --all-cautions prints it with its source."
        several = "cautions apply; --all-cautions prints them with their sources."
        lines.append(f"{more} more {single if more == 1 else several}")
    return [clean(line) for line in (*report.further_sentences, *lines)]
