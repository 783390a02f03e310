"""The plot form of a chart: the same picture in a terminal, in dots of braille or in plain letters."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import zip_longest
from string import ascii_uppercase

from barrowful.tables.writers.axes import day_axis, value_axis
from barrowful.tables.writers.canvas import BRAILLE_PEN, PLAIN_PEN, Canvas, Pen
from barrowful.tables.writers.chart import NOTHING, Chart, drawable, stairs
from barrowful.tables.writers.widths import columns_of, wrapped

#: Lines between the axes, and intervals on the axis of values, about.
ROWS, INTERVALS = 16, 5
#: Half the label of a day, for which there is room on either side, and what an axis takes [columns].
HALF_A_DAY, AXIS = 5, 2
#: What stands for a point for which there is no letter left, solid and hollow.
NO_LETTER = ("*", ".")
#: The fewest columns for the label of a point beside its day and value.
LEAST_LABEL = 16


def plot(chart: Chart, width: int, encoding_has_braille: bool) -> str:
    """Return a chart as lines of at most so many columns, with a key of its points under it."""
    chart = drawable(chart)
    lines = wrapped(chart.title, width)
    if not chart.points:
        return "\n".join([*lines, NOTHING, ""])
    letters = _letters(chart)
    lines += ["", *wrapped(chart.value_heading, width)]
    lines += _picture(chart, letters, width, BRAILLE_PEN if encoding_has_braille else PLAIN_PEN)
    lines += ["", *_key(chart, letters, width)]
    if chart.hollow_means and any(point.hollow for point in chart.points):
        lines += ["", *wrapped(f"Small letters: {chart.hollow_means}", width)]
    return "\n".join([*(line.rstrip(" ") for line in lines), ""])


def _letters(chart: Chart) -> list[str]:
    """Return the letter of each point, a small one where it is hollow; no letter is there twice."""
    capitals = zip_longest(chart.points, ascii_uppercase[: len(chart.points)])
    return [
        (letter.lower() if point.hollow else letter) if letter else NO_LETTER[point.hollow]
        for point, letter in capitals
    ]


def _picture(chart: Chart, letters: list[str], width: int, pen: Pen) -> Iterator[str]:
    """Yield the lines of the axes and of all that is between them."""
    values = value_axis([point.value for point in chart.points], INTERVALS)
    left = max(HALF_A_DAY, *(len(tick.label) for tick in values.ticks))
    columns = width - left - AXIS - HALF_A_DAY
    days = day_axis([point.day for point in chart.points], columns)
    canvas = Canvas(columns, ROWS, pen, days, values)
    canvas.draw_stairs(stairs(chart.points) if chart.staircase else [])
    canvas.write([(point.day, point.value) for point in chart.points], letters)
    labels = {canvas.row(tick.at): tick.label for tick in values.ticks}
    for row, line in enumerate(canvas.lines()):
        yield f"{labels.get(row, ''):>{left}} {pen.value_tick if row in labels else pen.upright_axis}{line}"
    yield from _foot(canvas, left, pen)
    indent = " " * (left + AXIS)
    yield from wrapped(chart.days, width, indent, indent)


def _foot(canvas: Canvas, left: int, pen: Pen) -> Iterator[str]:
    """Yield the axis of days with its ticks, and their labels."""
    marks = [pen.level_axis] * canvas.columns
    labels = ""
    for tick in canvas.days.ticks:
        column = canvas.column(tick.at)
        marks[column] = pen.day_tick
        labels = labels.ljust(left + AXIS + column - len(tick.label) // 2) + tick.label
    yield " " * (left + 1) + pen.corner + "".join(marks)
    yield labels


def _key(chart: Chart, letters: list[str], width: int) -> Iterator[str]:
    """Yield each point by its letter with its day, value and label, side by side where there is room."""
    amounts = [chart.told(point.value) for point in chart.points]
    widest = max(map(columns_of, amounts))
    for point, letter, amount in zip(chart.points, letters, amounts, strict=True):
        space = " " * (widest - columns_of(amount))
        words, text = f"{letter}  {point.day.isoformat()}  {space}{amount}  ", point.label
        if columns_of(words) > width - LEAST_LABEL:
            words, text = f"{letter}  ", chart.described(point)
        yield from wrapped(text, width, words, " " * columns_of(words))
