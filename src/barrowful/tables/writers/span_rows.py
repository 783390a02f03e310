"""Spans of time as a picture: a row for each, under one another, above an axis of days."""

from __future__ import annotations

from collections.abc import Iterator

from barrowful.tables.writers.axes import Axis, day_axis
from barrowful.tables.writers.chart import Chart, Span
from barrowful.tables.writers.elements import (
    COLUMN,
    EDGE,
    LINE,
    SIZE,
    WIDTH,
    Page,
    block,
    columns_in,
    path,
    text_line,
)
from barrowful.tables.writers.placing import Box
from barrowful.tables.writers.plane import GAP, HALF_A_DAY, STROKE, day_ticks
from barrowful.tables.writers.widths import columns_of, wrapped

#: The most columns of labels in a line, and the room between two rows [px].
LABEL_COLUMNS, BETWEEN = 26, 5
#: How far a bar stays from the edges of its line, and half the height of the end of a thin line [px].
INSET, END = 3, 4


def draw_spans(page: Page, chart: Chart) -> None:
    """Draw the rows of spans, the axis under them, and what they are."""
    widest = min(LABEL_COLUMNS, max(columns_of(span.label) for span in chart.spans))
    left = EDGE + max(widest, HALF_A_DAY) * COLUMN * SIZE + GAP
    right, top = WIDTH - EDGE - HALF_A_DAY * COLUMN * SIZE, page.filled + GAP
    days = day_axis(chart.all_days, columns_in(right - left))
    rows: list[str] = []
    page.filled = top
    for span in chart.spans:
        lines = wrapped(span.label, widest)
        bottom = page.filled + LINE * len(lines)
        rows += _row(span, lines, Box(left, page.filled, right, bottom), days)
        page.filled = bottom + BETWEEN
    frame = Box(left, top, right, page.filled)
    page.parts += [*_grid(days, frame), *rows]
    page.filled = frame.bottom + GAP + LINE
    indent = " " * columns_in(left - EDGE)
    page.write(chart.days, first=indent, rest=indent)
    page.filled += GAP
    for told in chart.legend:
        page.write(told)


def _grid(days: Axis, frame: Box) -> Iterator[str]:
    """Yield faint upright lines at the ticks, the ticks, and the axes."""
    for tick in days.ticks:
        x = frame.left + days.share(tick.at) * (frame.right - frame.left)
        yield path([(x, frame.top), (x, frame.bottom)], "#ddd", STROKE)
    yield from day_ticks(days, frame)
    corners = [(frame.left, frame.top), (frame.left, frame.bottom), (frame.right, frame.bottom)]
    yield path(corners, "#222", STROKE)


def _row(span: Span, label: list[str], row: Box, days: Axis) -> Iterator[str]:
    """Yield the lines of a label, right of it the bar, and the thin line to the latest day."""
    for number, words in enumerate(label):
        top = row.top + LINE * number
        yield text_line(words, Box(EDGE, top, EDGE, top + LINE), "start")
    across = row.right - row.left
    first, last, latest = (
        row.left + days.share(day.toordinal()) * across for day in (span.first, span.last, span.latest)
    )
    middle = row.top + LINE / 2
    if span.latest > span.last:
        yield path([(last, middle), (latest, middle)], "#222", STROKE)
        yield path([(latest, middle - END), (latest, middle + END)], "#222", STROKE)
    told = f"{span.label}: {span.first.isoformat()} to {span.last.isoformat()}"
    yield block(Box(first, row.top + INSET, max(last, first + STROKE), row.top + LINE - INSET), told)
