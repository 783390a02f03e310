"""Spans of time in a terminal: a row for each, under one another, above an axis of days."""

from __future__ import annotations

from collections.abc import Iterator

from barrowful.tables.writers.axes import day_axis, value_axis
from barrowful.tables.writers.canvas import AXIS, Canvas, Pen, foot
from barrowful.tables.writers.chart import Chart, Span
from barrowful.tables.writers.widths import columns_of, wrapped

#: Where the thin line of a row is, of its height.
HALF = 0.5
#: Half the label of a day, for which there is room on either side, and the most for labels [columns].
HALF_A_DAY, LABEL_COLUMNS = 5, 24


def plot_spans(chart: Chart, width: int, pen: Pen) -> Iterator[str]:
    """Yield the rows of spans, and the axis under them."""
    left = max(HALF_A_DAY, min(LABEL_COLUMNS, max(columns_of(span.label) for span in chart.spans)))
    columns = width - left - AXIS - HALF_A_DAY
    days = day_axis(chart.all_days, columns)
    level = value_axis([0, 1], 1)
    for span in chart.spans:
        canvas = Canvas(columns, 1, pen, days, level)
        if span.latest > span.last:
            canvas.draw_line([(span.last, HALF), (span.latest, HALF)])
        canvas.draw_bar(span.first, span.last, 1.0)
        yield from _row(span, next(canvas.lines()), left, pen)
    yield from foot(Canvas(columns, 1, pen, days, level), left, pen)
    indent = " " * (left + AXIS)
    yield from wrapped(chart.days, width, indent, indent)


def _row(span: Span, drawn: str, left: int, pen: Pen) -> Iterator[str]:
    """Yield a row with its label, which may take more lines."""
    for number, label in enumerate(wrapped(span.label, left)):
        space = " " * (left - columns_of(label))
        yield f"{label}{space} {pen.upright_axis}{'' if number else drawn}"
