"""The plot form of a chart: the same picture in a terminal, in dots of braille or in plain letters."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import zip_longest
from string import ascii_uppercase

from barrowful.tables.writers.axes import day_axis, value_axis
from barrowful.tables.writers.canvas import AXIS, BRAILLE_PEN, PLAIN_PEN, Canvas, Pen, foot
from barrowful.tables.writers.chart import NOTHING, Chart, drawable, stairs
from barrowful.tables.writers.plot_spans import HALF_A_DAY, plot_spans
from barrowful.tables.writers.widths import columns_of, wrapped

#: Lines between the axes, and intervals on the axis of values, about.
ROWS, INTERVALS = 16, 5
#: What stands for a point for which there is no letter left, solid and hollow.
NO_LETTER = ("*", ".")
#: The fewest columns for the label of a point beside its day and value.
LEAST_LABEL = 16


def plot(chart: Chart, width: int, encoding_has_braille: bool) -> str:
    """Return a chart as lines of at most so many columns, with a key of its points under it."""
    chart = drawable(chart)
    lines = wrapped(chart.title, width)
    if not chart.all_days:
        return "\n".join([*lines, NOTHING, ""])
    letters = letters_of(chart)
    pen = BRAILLE_PEN if encoding_has_braille else PLAIN_PEN
    if chart.spans:
        lines += ["", *plot_spans(chart, width, pen)]
    else:
        lines += ["", *wrapped(chart.value_heading, width), *_picture(chart, letters, width, pen)]
    for block in (list(key(chart, letters, width)), _legend(chart, width)):
        lines += ["", *block] if block else []
    if chart.hollow_means and any(point.hollow for point in chart.points):
        lines += ["", *wrapped(f"Small letters: {chart.hollow_means}", width)]
    return "\n".join([*(line.rstrip(" ") for line in lines), ""])


def letters_of(chart: Chart) -> list[str]:
    """Return the letter of each point, a small one where it is hollow; no letter is there twice."""
    capitals = zip_longest(chart.points, ascii_uppercase[: len(chart.points)])
    return [
        (letter.lower() if point.hollow else letter) if letter else NO_LETTER[point.hollow]
        for point, letter in capitals
    ]


def _picture(chart: Chart, letters: list[str], width: int, pen: Pen) -> Iterator[str]:
    """Yield the lines of the axes and of all that is between them."""
    values = value_axis(chart.all_values, INTERVALS)
    left = max(HALF_A_DAY, *(len(tick.label) for tick in values.ticks))
    columns = width - left - AXIS - HALF_A_DAY
    canvas = Canvas(columns, ROWS, pen, day_axis(chart.all_days, columns), values)
    _draw(canvas, chart)
    canvas.write([(point.day, point.value) for point in chart.points], letters)
    labels = {canvas.row(tick.at): tick.label for tick in values.ticks}
    for row, line in enumerate(canvas.lines()):
        yield f"{labels.get(row, ''):>{left}} {pen.value_tick if row in labels else pen.upright_axis}{line}"
    yield from foot(canvas, left, pen)
    indent = " " * (left + AXIS)
    yield from wrapped(chart.days, width, indent, indent)


def _legend(chart: Chart, width: int) -> list[str]:
    """Return what the marks are that have no letter."""
    return [line for told in chart.legend for line in wrapped(told, width)]


def _draw(canvas: Canvas, chart: Chart) -> None:
    """Draw what lies under the letters of points."""
    canvas.draw_stairs(stairs(chart.points) if chart.staircase else [])
    if chart.band_means:
        low = [(reach.day, reach.low) for reach in chart.line]
        canvas.draw_band(low, [(reach.day, reach.high) for reach in chart.line])
    canvas.draw_line([(reach.day, reach.likely) for reach in chart.line])
    for bar in chart.bars:
        if bar.value > 0:
            canvas.draw_bar(*bar)
    if chart.limit:
        canvas.draw_level(chart.limit.value)


def key(chart: Chart, letters: list[str], width: int) -> Iterator[str]:
    """Yield each point by its letter with its day, value and label, side by side where there is room."""
    amounts = [chart.told(point.value) for point in chart.points]
    widest = max(map(columns_of, amounts), default=0)
    for point, letter, amount in zip(chart.points, letters, amounts, strict=True):
        space = " " * (widest - columns_of(amount))
        words, text = f"{letter}  {point.day.isoformat()}  {space}{amount}  ", point.label
        if columns_of(words) > width - LEAST_LABEL:
            words, text = f"{letter}  ", chart.described(point)
        yield from wrapped(text, width, words, " " * columns_of(words))
