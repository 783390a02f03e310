"""The svg form of a chart: a picture by itself, without script or outside resource, readable in grey."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

from barrowful.tables.writers.chart import NOTHING, Chart, Corner, Point, drawable, stairs
from barrowful.tables.writers.elements import (
    EDGE,
    LINE,
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
from barrowful.tables.writers.marks import line_boxes, marks
from barrowful.tables.writers.placing import Box, Room, Spot
from barrowful.tables.writers.plane import GAP, STROKE, Plane, axes, plane_of
from barrowful.tables.writers.span_rows import draw_spans

#: Half the width of a mark, and from a point to its number and to any other label [px].
MARK, NUMBER_GAPS, CLEAR = 4, (7, 12), 9
#: Between two charts of a picture [px].
BETWEEN = 24


def svg(*charts: Chart) -> str:
    """Return charts one under another as an SVG document; the same charts give the same text."""
    drawn = [drawable(chart) for chart in charts]
    page = Page()
    for number, chart in enumerate(drawn):
        page.filled += BETWEEN if number else 0
        page.write(chart.title, TITLE_SIZE)
        _draw(page, chart)
    height = px(page.filled + EDGE)
    return "\n".join(
        [
            f'<svg xmlns="http://www.w3.org/2000/svg" role="img" width="{WIDTH}" height="{height}" '
            f'viewBox="0 0 {WIDTH} {height}" font-family="monospace" fill="#222">',
            f"<title>{escaped('; '.join(chart.title for chart in drawn))}</title>",
            f"<desc>{escaped(' '.join(chart.about for chart in drawn))}</desc>",
            f'<rect width="{WIDTH}" height="{height}" fill="#fff"/>',
            *page.parts,
            "</svg>\n",
        ]
    )


def _draw(page: Page, chart: Chart) -> None:
    """Draw what a chart has, by what it has."""
    if chart.spans:
        draw_spans(page, chart)
    elif chart.all_days:
        _picture(page, chart)
    else:
        page.write(NOTHING)


class _Labels(NamedTuple):
    """The labels of points as text elements, and the points that are told under the picture instead."""

    texts: list[str]
    left_over: list[Point]


def _picture(page: Page, chart: Chart) -> None:
    """Draw the axes with all that is between them, and write under them what has no room there."""
    page.filled += GAP
    page.write(chart.value_heading)
    plane = plane_of(page, chart)
    spots = [plane.spot(point.day.toordinal(), point.value) for point in chart.points]
    steps = _steps(plane, stairs(chart.points) if chart.staircase else [])
    lines = [*(_around(*ends) for ends in pairwise(steps)), *line_boxes(plane, chart)]
    labels = _labels(chart, plane.frame, spots, lines)
    page.parts += [*axes(plane), *marks(plane, chart)]
    page.parts += [path(steps, "#555", 2 * STROKE)] if steps else []
    for point, spot in zip(chart.points, spots, strict=True):
        page.parts.append(mark(spot, MARK, point.hollow, chart.described(point)))
    page.parts += labels.texts
    page.filled = plane.frame.bottom + GAP + LINE
    indent = " " * columns_in(plane.frame.left - EDGE)
    page.write(chart.days, first=indent, rest=indent)
    _legend(page, chart, labels.left_over)


def _steps(plane: Plane, corners: Sequence[Corner]) -> list[Spot]:
    """Return the staircase through some corners, up to the right edge."""
    steps: list[Spot] = []
    for day, value in corners:
        x, y = plane.spot(day.toordinal(), value)
        steps += [*((x, level) for _, level in steps[-1:]), (x, y)]
    return [*steps, *((plane.frame.right, level) for _, level in steps[-1:])]


def _labels(chart: Chart, frame: Box, spots: Sequence[Spot], lines: Sequence[Box]) -> _Labels:
    """Return the labels that have room beside their points, solid ones first, and numbers for the others."""
    room = Room(frame, spots, CLEAR, lines)
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
    for told in chart.legend:
        page.write(told)
    if chart.hollow_means and any(point.hollow for point in chart.points):
        page.write(f"Hollow: {chart.hollow_means}")
    digits = len(str(len(left_over)))
    for number, point in enumerate(left_over, 1):
        page.write(chart.described(point), first=f"{number:>{digits}} ", rest=" " * (digits + 1))
