"""The html form: a page that stands by itself, without script or outside resource, to read and to print."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from functools import cache
from html import escape
from importlib.resources import files
from itertools import groupby
from typing import NamedTuple

from barrowful.tables.cells import letters
from barrowful.tables.page import Groups, Page, Section
from barrowful.tables.report import ABOVE_CAUTIONS, Look, Note, Report, Table
from barrowful.tables.writers.chart import Chart
from barrowful.tables.writers.sheet import NOTE, SeenColumn, Sheet, sheet_of
from barrowful.tables.writers.svg import svg

#: What a page may load: nothing; its style stands in it.
POLICY = "default-src 'none'; style-src 'unsafe-inline'"
BOX, TICKED_BOX = "to do", "done"
#: What the lines of an answer begin with, which stand in a list here.
BULLET = "- "
#: A word of more letters may be broken anywhere.
LONG_WORD = 24
_DATE = re.compile(r"\b[0-9]{4}-[0-9]{2}-[0-9]{2}\b")


def write_html(page: Page, look: Look) -> Iterator[str]:
    """Yield a page as an HTML document, piece by piece; the same page gives the same text."""
    yield "\n".join(
        [
            "<!DOCTYPE html>",
            '<html lang="en">',
            "<head>",
            '<meta charset="utf-8">',
            f'<meta http-equiv="Content-Security-Policy" content="{POLICY}">',
            '<meta name="viewport" content="width=device-width, initial-scale=1">',
            f"<title>{text(page.title)}</title>",
            f"<style>\n{_style()}</style>",
            "</head>",
            "<body>",
            "<header>",
            f"<h1>{text(page.title)}</h1>",
            *(f"<p>{prose(sentence)}</p>" for sentence in page.told),
            *_contents(page.sections),
            "</header>",
            "<main>\n",
        ]
    )
    for number, section in enumerate(page.sections, 1):
        yield "\n".join(_section(section, f"s{number}", look)) + "\n"
    yield "</main>\n</body>\n</html>\n"


@cache
def _style() -> str:
    return files("barrowful.tables.writers").joinpath("page.css").read_bytes().decode("utf-8")


def text(words: str) -> str:
    """Return words as they stand in a document, whatever they hold.

    >>> text('Beds <1 & "2">')
    'Beds &lt;1 &amp; &quot;2&quot;&gt;'
    """
    return escape(letters(words))


def prose(words: str) -> str:
    """Return the words of a sentence as they stand in a document, its dates in one piece.

    >>> prose("Ready <2027-05-01>.")
    'Ready &lt;<span class="w">2027-05-01</span>&gt;.'
    """
    return _DATE.sub(r'<span class="w">\g<0></span>', text(words))


def _contents(sections: Sequence[Section]) -> Iterator[str]:
    """Yield links to the sections."""
    yield '<nav aria-label="Contents">'
    yield from _list(
        (f'<a href="#s{number}">{text(section.title)}</a>' for number, section in enumerate(sections, 1))
    )
    yield "</nav>"


def _list(items: Iterable[str], kind: str = "ul", marks: str = "") -> Iterator[str]:
    """Yield a list of what is marked up already, where there is anything in it."""
    lines = [item if item.startswith("<li") else f"<li>{item}</li>" for item in items]
    if lines:
        yield f"<{kind}{marks}>"
        yield from lines
        yield f"</{kind}>"


def _section(section: Section, name: str, look: Look) -> Iterator[str]:
    """Yield a section: the answer, tables, charts, sentences, warnings and cautions of its report."""
    report, fresh = section.report, ' class="new-page"' if section.new_page else ""
    yield f'<section id="{name}" aria-labelledby="{name}-title"{fresh}>'
    yield f'<h2 id="{name}-title">{text(section.title)}</h2>'
    told = (prose(sentence.removeprefix(BULLET)) for sentence in report.answer)
    yield from _list(told, marks=' class="answer"')
    if report.warnings:
        yield "<p>Look at this first:</p>"
        yield from _list(map(prose, report.warnings), marks=' class="warnings"')
    for number, table in enumerate(shown for shown in report.tables if shown.for_people):
        grid = _Grid(table, report, look, f"{name}-{number + 1}")
        yield from grid.lines(section.groups.get(table.name))
    for chart in report.charts:
        yield from _figure(chart)
    yield from (f"<p>{prose(sentence)}</p>" for sentence in report.further_sentences)
    yield from _cautions(report.gravest(look.all_cautions))
    yield "</section>"


def _cautions(notes: Sequence[Note]) -> Iterator[str]:
    """Yield cautions with their sources, under what comes before them."""
    if notes:
        yield f"<p>{text(ABOVE_CAUTIONS)}</p>"
        yield from _list(
            (
                f"{prose(note.text)} <small>For {text(note.about)}. Source: {text(note.source)}.</small>"
                for note in notes
            ),
            "ol",
        )


def _figure(chart: Chart) -> Iterator[str]:
    """Yield a chart with what it shows in words; on a narrow screen it is moved by itself."""
    yield "<figure>"
    yield f'<div class="scroll" role="region" tabindex="0" aria-label="{text(chart.title)}">'
    yield svg(chart).rstrip("\n")
    yield "</div>"
    yield f"<figcaption>{prose(chart.about)}</figcaption>"
    yield "</figure>"


class _Row(NamedTuple):
    """A row of a table as it is written: its place among the rows, the group it is in, whether it is done."""

    number: int
    group: str
    done: bool


class _Grid:
    """A table as it is written: under its caption, with its notes."""

    def __init__(self, table: Table, report: Report, look: Look, name: str) -> None:
        self.table = replace(table, rows=table.rows[: table.head.rows]) if table.head else table
        self.sheet: Sheet = sheet_of(self.table, report, look)
        self.name = name
        keys = [column.key for column in self.sheet.columns]
        self.names_the_row = next((key for key in table.identifies if key in keys), keys[0] if keys else "")

    def lines(self, groups: Groups | None) -> Iterator[str]:
        """Yield the table and what must be said under it; rows in groups with a box each, where asked for."""
        title, boxes = self.table.title or self.table.name, bool(groups and groups.done)
        if not self.table.rows:
            yield f"<p>{text(title)}: nothing to show.</p>"
            return
        yield f'<div class="scroll" role="region" tabindex="0" aria-label="{text(title)}">'
        yield "<table>"
        yield f"<caption>{text(title)}</caption>"
        yield from self._head(boxes)
        for group, rows in groupby(self._rows(groups), key=lambda row: row.group):
            yield from self._body(group, list(rows), boxes)
        yield "</table>"
        yield "</div>"
        yield from self._under()

    def _rows(self, groups: Groups | None) -> Iterator[_Row]:
        for number, row in enumerate(self.table.rows):
            if groups is None:
                yield _Row(number, "", False)
            else:
                title = groups.titles[row[groups.by]]
                yield _Row(number, title, bool(groups.done) and row[groups.done] is not None)

    def _head(self, boxes: bool) -> Iterator[str]:
        yield "<thead>"
        yield "<tr>"
        if boxes:
            yield '<th scope="col">done</th>'
        for column in self.sheet.columns:
            yield f'<th scope="col"{_side(column)}>{text(column.heading)}</th>'
        yield "</tr>"
        yield "</thead>"

    def _body(self, group: str, rows: Sequence[_Row], boxes: bool) -> Iterator[str]:
        yield "<tbody>"
        if group:
            wide = len(self.sheet.columns) + boxes
            yield f'<tr class="group"><th scope="rowgroup" colspan="{wide}">{text(group)}</th></tr>'
        for row in rows:
            box = [f"<td>{_box(row.done)}</td>"] if boxes else []
            cells = (self._cell(column, row.number) for column in self.sheet.columns)
            yield f"<tr>{''.join((*box, *cells))}</tr>"
        yield "</tbody>"

    def _cell(self, column: SeenColumn, number: int) -> str:
        words, marks = column.cells[number], _side(column)
        if column.breaks and any(len(word) > LONG_WORD for word in words.split()):
            marks = ' class="long"'
        if column.key == self.names_the_row:
            return f'<th scope="row"{marks}>{text(words)}</th>'
        inside = self._links(words) if column.key == NOTE else text(words)
        return f"<td{marks}>{inside}</td>"

    def _links(self, numbers: str) -> str:
        """Return the numbers of notes as links to them."""
        return re.sub("[0-9]+", rf'<a href="#{self.name}-\g<0>">\g<0></a>', numbers)

    def _under(self) -> Iterator[str]:
        """Yield the notes, what every row shares, and which rows are not there."""
        notes = (
            f'<li id="{self.name}-{number}">{prose(note)}</li>'
            for number, note in enumerate(self.sheet.notes, 1)
        )
        yield from _list(notes, "ol", ' class="notes"')
        told = [self.sheet.shared, self.table.head.told if self.table.head else ""]
        yield from (f"<p>{prose(sentence)}</p>" for sentence in told if sentence)


def _side(column: SeenColumn) -> str:
    """Return the class of cells: numbers stand on the right, and what is no text is never broken."""
    return ' class="n"' if column.on_the_right else "" if column.breaks else ' class="w"'


def _box(done: bool) -> str:
    """Return a box to tick on paper, ticked where something is done."""
    told, inside = (TICKED_BOX, "x") if done else (BOX, "")
    return f'<span class="box" role="img" aria-label="{told}">{inside}</span>'
