"""What lies between the axes of a picture, and the axes with their ticks and labels."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from barrowful.measures.fixed import fixed
from barrowful.tables.writers.axes import Axis, day_axis, value_axis
from barrowful.tables.writers.chart import Chart
from barrowful.tables.writers.elements import (
    COLUMN,
    EDGE,
    LINE,
    SIZE,
    WIDTH,
    Page,
    columns_in,
    path,
    text_line,
    text_width,
)
from barrowful.tables.writers.placing import Box, Spot

#: The height of what is between the axes [px].
FRAME_HEIGHT = 320
#: How far half the label of a day goes beyond its tick [columns].
HALF_A_DAY = 5
#: The length of a tick, half the width of a line, and from an axis to its labels [px].
TICK, STROKE, GAP = 4, 1, 7
#: Intervals on the axis of values, about.
INTERVALS = 5


@fixed(kw_only=False, eq=True)
class Plane:
    """What lies between the axes: where on the page it is, and the axes of days and of values."""

    frame: Box
    days: Axis
    values: Axis

    def spot(self, day_number: Decimal | int, value: Decimal | float) -> Spot:
        """Return where a value of a day is on the page."""
        frame, right, up = self.frame, self.days.share(day_number), self.values.share(value)
        across, down = frame.right - frame.left, frame.bottom - frame.top
        return frame.left + right * across, frame.bottom - up * down


def plane_of(page: Page, chart: Chart) -> Plane:
    """Return the plane under what is on the page, with room for the labels of ticks."""
    values = value_axis(chart.all_values, INTERVALS)
    label = max(text_width(tick.label) for tick in values.ticks)
    half_a_day = HALF_A_DAY * COLUMN * SIZE
    left, top = EDGE + max(label, half_a_day) + GAP, page.filled + SIZE
    frame = Box(left, top, WIDTH - EDGE - half_a_day, top + FRAME_HEIGHT)
    return Plane(frame, day_axis(chart.all_days, columns_in(frame.right - frame.left)), values)


def axes(plane: Plane) -> Iterator[str]:
    """Yield both axes with ticks and labels, and faint lines across for the values."""
    (left, top, right, bottom), half = plane.frame, LINE / 2
    for tick in plane.values.ticks:
        _, y = plane.spot(plane.days.least, tick.at)
        yield path([(left, y), (right, y)], "#ddd", STROKE)
        yield text_line(tick.label, Box(left - GAP, y - half, left - GAP, y + half), "end")
    yield from day_ticks(plane.days, plane.frame)
    yield path([(left, top), (left, bottom), (right, bottom)], "#222", STROKE)


def day_ticks(days: Axis, frame: Box) -> Iterator[str]:
    """Yield the ticks of days under a frame, with their labels."""
    for tick in days.ticks:
        x = frame.left + days.share(tick.at) * (frame.right - frame.left)
        yield path([(x, frame.bottom), (x, frame.bottom + TICK)], "#222", STROKE)
        yield text_line(tick.label, Box(x, frame.bottom + GAP, x, frame.bottom + GAP + LINE), "middle")
