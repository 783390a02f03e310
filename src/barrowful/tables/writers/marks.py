"""The marks of a picture beside points: bars, a limit, and a line with the band it may lie in."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from barrowful.tables.writers.chart import Bar, Chart
from barrowful.tables.writers.elements import area, block, path
from barrowful.tables.writers.placing import Box
from barrowful.tables.writers.plane import STROKE, Plane

#: What stays free between two bars, at most, and the least width of one [px].
BAR_GAP, LEAST_BAR = 1, 1


def marks(plane: Plane, chart: Chart) -> Iterator[str]:
    """Yield the band, its edges and the line in it; the bars; the limit."""
    if chart.line:
        yield from _line(plane, chart)
    yield from (_bar(plane, chart, bar) for bar in chart.bars if bar.value > 0)
    if chart.limit:
        _, level = plane.spot(plane.days.least, chart.limit.value)
        yield path([(plane.frame.left, level), (plane.frame.right, level)], "#222", 2 * STROKE, broken=True)


def _line(plane: Plane, chart: Chart) -> Iterator[str]:
    low = [plane.spot(reach.day.toordinal(), reach.low) for reach in chart.line]
    high = [plane.spot(reach.day.toordinal(), reach.high) for reach in chart.line]
    if chart.band_means:
        yield area([*low, *reversed(high)], "#ddd")
        yield from (path(edge, "#767676", STROKE) for edge in (low, high))
    yield path([plane.spot(reach.day.toordinal(), reach.likely) for reach in chart.line], "#222", 2 * STROKE)


def _bar(plane: Plane, chart: Chart, bar: Bar) -> str:
    left, bottom = plane.spot(bar.first.toordinal(), 0.0)
    right, top = plane.spot(bar.last.toordinal(), bar.value)
    told = f"{bar.first.isoformat()}: {chart.told(bar.value)}"
    return block(Box(left, top, max(left + LEAST_BAR, right - BAR_GAP), bottom), told)


def line_boxes(plane: Plane, chart: Chart) -> Iterator[Box]:
    """Yield what the line covers, piece by piece, so that labels keep clear of it."""
    spots = [plane.spot(reach.day.toordinal(), reach.likely) for reach in chart.line]
    for (x, y), (right, other) in pairwise(spots):
        yield Box(x, min(y, other), right, max(y, other)).widened(STROKE)
