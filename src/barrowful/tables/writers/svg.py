"""The svg form of a chart: a picture by itself, without script or outside resource, readable in grey."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from itertools import pairwise
from typing import NamedTuple

from barrowful.tables.writers.axes import Axis, day_axis, value_axis
from barrowful.tables.writers.chart import NOTHING, Chart, Corner, Point, drawable, stairs
from barrowful.tables.writers.elements import (
    COLUMN,
    EDGE,
    LINE,
    SIZE,
    TITLE_SIZE,
    WIDTH,
    Page,
    columns_in,
    escaped,
    mark,
    path,
    px,
    text_line,
    text_width,
)
from barrowful.tables.writers.placing import Box, Room, Spot

#: The height of what is between the axes [px].
FRAME_HEIGHT = 320
#: How far half the label of a day goes beyond its tick [columns].
HALF_A_DAY = 5
#: Half the width of a mark and of a line, and from a point to its label, its number, any other label [px].
MARK, STROKE, GAP, NUMBER_GAPS, CLEAR = 4, 1, 7, (7, 12), 9
#: Intervals on the axis of values, about.
INTERVALS = 5


def svg(chart: Chart) -> str:
    """Return a chart as an SVG document; the same chart gives the same text."""
    chart = drawable(chart)
    page = Page()
    page.write(chart.title, TITLE_SIZE)
    if chart.points:
        _picture(page, chart)
    else:
        page.write(NOTHING)
    height = px(page.filled + EDGE)
    return "\n".join(
        [
            f'<svg xmlns="http://www.w3.org/2000/svg" role="img" width="{WIDTH}" height="{height}" '
            f'viewBox="0 0 {WIDTH} {height}" font-family="monospace" fill="#222">',
            f"<title>{escaped(chart.title)}</title>",
            f"<desc>{escaped(chart.about)}</desc>",
            f'<rect width="{WIDTH}" height="{height}" fill="#fff"/>',
            *page.parts,
            "</svg>\n",
        ]
    )


@dataclass(frozen=True)
class _Plane:
    """What lies between the axes: where on the page it is, and the axes of days and of values."""

    frame: Box
    days: Axis
    values: Axis

    def spot(self, day_number: Decimal | int, value: Decimal | float) -> Spot:
        """Return where a value of a day is on the page."""
        frame, right, up = self.frame, self.days.share(day_number), self.values.share(value)
        across, down = frame.right - frame.left, frame.bottom - frame.top
        return frame.left + right * across, frame.bottom - up * down


class _Labels(NamedTuple):
    """The labels of points as text elements, and the points that are told under the picture instead."""

    texts: list[str]
    left_over: list[Point]


def _picture(page: Page, chart: Chart) -> None:
    """Draw the axes with all that is between them, and write under them what has no room there."""
    page.filled += GAP
    page.write(chart.value_heading)
    plane = _plane(page, chart)
    spots = [plane.spot(point.day.toordinal(), point.value) for point in chart.points]
    steps = _steps(plane, stairs(chart.points) if chart.staircase else [])
    labels = _labels(chart, plane.frame, spots, steps)
    page.parts += _axes(plane)
    page.parts += [path(steps, "#555", 2 * STROKE)] if steps else []
    for point, spot in zip(chart.points, spots, strict=True):
        page.parts.append(mark(spot, MARK, point.hollow, chart.described(point)))
    page.parts += labels.texts
    page.filled = plane.frame.bottom + GAP + LINE
    indent = " " * columns_in(plane.frame.left - EDGE)
    page.write(chart.days, first=indent, rest=indent)
    _legend(page, chart, labels.left_over)


def _plane(page: Page, chart: Chart) -> _Plane:
    """Return the plane under what is on the page, with room for the labels of ticks."""
    values = value_axis([point.value for point in chart.points], INTERVALS)
    label = max(text_width(tick.label) for tick in values.ticks)
    half_a_day = HALF_A_DAY * COLUMN * SIZE
    left, top = EDGE + max(label, half_a_day) + GAP, page.filled + SIZE
    frame = Box(left, top, WIDTH - EDGE - half_a_day, top + FRAME_HEIGHT)
    days = day_axis([point.day for point in chart.points], columns_in(frame.right - frame.left))
    return _Plane(frame, days, values)


def _steps(plane: _Plane, corners: Sequence[Corner]) -> list[Spot]:
    """Return the staircase through some corners, up to the right edge."""
    steps: list[Spot] = []
    for day, value in corners:
        x, y = plane.spot(day.toordinal(), value)
        steps += [*((x, level) for _, level in steps[-1:]), (x, y)]
    return [*steps, *((plane.frame.right, level) for _, level in steps[-1:])]


def _axes(plane: _Plane) -> Iterator[str]:
    """Yield both axes with ticks and labels, and faint lines across for the values."""
    (left, top, right, bottom), half = plane.frame, LINE / 2
    for tick in plane.values.ticks:
        _, y = plane.spot(plane.days.least, tick.at)
        yield path([(left, y), (right, y)], "#ddd", STROKE)
        yield text_line(tick.label, Box(left - GAP, y - half, left - GAP, y + half), "end")
    for tick in plane.days.ticks:
        x, _ = plane.spot(tick.at, plane.values.least)
        yield path([(x, bottom), (x, bottom + MARK)], "#222", STROKE)
        yield text_line(tick.label, Box(x, bottom + GAP, x, bottom + GAP + LINE), "middle")
    yield path([(left, top), (left, bottom), (right, bottom)], "#222", STROKE)


def _labels(chart: Chart, frame: Box, spots: Sequence[Spot], steps: Sequence[Spot]) -> _Labels:
    """Return the labels that have room beside their points, solid ones first, and numbers for the others."""
    room = Room(frame, spots, CLEAR, [_around(*ends) for ends in pairwise(steps)])
    texts: list[str] = []

    def is_placed(label: str, spot: Spot, *gaps: float) -> bool:
        box = room.take((text_width(label), LINE), spot, gaps, may_cross=len(gaps) > 1)
        texts.extend([text_line(label, box, _side(box, spot))] if box else [])
        return box is not None

    named = [(point, spot) for point, spot in zip(chart.points, spots, strict=True) if point.label.strip()]
    named.sort(key=lambda pair: pair[0].hollow)
    left_over = [(point, spot) for point, spot in named if not is_placed(point.label, spot, GAP)]
    for number, (_, spot) in enumerate(left_over, 1):
        is_placed(str(number), spot, *NUMBER_GAPS)
    return _Labels(texts, [point for point, _ in left_over])


def _side(box: Box, spot: Spot) -> str:
    """Return the end of a text that is the nearer to its point."""
    return "start" if box.left > spot[0] else "end" if box.right < spot[0] else "middle"


def _around(start: Spot, end: Spot) -> Box:
    """Return what a level or an upright line covers."""
    (left, right), (top, bottom) = sorted((start[0], end[0])), sorted((start[1], end[1]))
    return Box(left, top, right, bottom).widened(STROKE)


def _legend(page: Page, chart: Chart, left_over: Sequence[Point]) -> None:
    """Write what hollow marks are, and the points told by a number."""
    page.filled += GAP
    if chart.hollow_means and any(point.hollow for point in chart.points):
        page.write(f"Hollow: {chart.hollow_means}")
    digits = len(str(len(left_over)))
    for number, point in enumerate(left_over, 1):
        page.write(chart.described(point), first=f"{number:>{digits}} ", rest=" " * (digits + 1))
