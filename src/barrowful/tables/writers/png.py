"""The png form of charts: matplotlib draws them one under another, readable in grey."""

from __future__ import annotations

from collections.abc import Iterable
from io import BytesIO
from typing import Any

from barrowful.measures.problems import WrongUse
from barrowful.tables.writers.axes import day_axis, value_axis
from barrowful.tables.writers.chart import NOTHING, Chart, drawable, stairs
from barrowful.tables.writers.plot import key, letters_of
from barrowful.tables.writers.widths import wrapped

#: Width of a picture, height of its axes and of a line under them [inch], and its letters [pt].
WIDTH, HEIGHT, LINE, LETTERS, SMALL = 8.0, 4.0, 0.15, 9, 8
#: Columns of text under a picture; how near two letters may be [px].
COLUMNS, NEAR = 100, 12
#: The width of a line [pt], and how high the bar of a span is, of its row; intervals of values, about.
THIN, BAR, INTERVALS = 1.0, 0.6, 5
#: Greys, from black to white.
DARK, GREY, LIGHT, WHITE = "0.13", "0.6", "0.87", "1"


def pyplot() -> Any:
    """Return what draws, which takes every word as it stands; :class:`WrongUse` without the extra."""
    try:
        import matplotlib
    except ImportError:
        raise WrongUse(
            "charts as .png need matplotlib: pip install 'barrowful[full]'; as .svg they need nothing more"
        ) from None
    matplotlib.use("Agg")
    matplotlib.rcParams.update({"font.size": LETTERS, "text.parse_math": False})
    from matplotlib import pyplot as drawing

    return drawing


def saved(figure: Any, drawing: Any) -> bytes:
    """Return a figure as PNG."""
    out = BytesIO()
    figure.savefig(out, format="png")
    drawing.close(figure)
    return out.getvalue()


def png(*charts: Chart) -> bytes:
    """Return charts one under another as PNG."""
    drawing, drawn = pyplot(), [drawable(chart) for chart in charts]
    told = [list(_under(chart)) for chart in drawn]
    heights = [HEIGHT + LINE * len(lines) for lines in told]
    figure, every = drawing.subplots(
        len(drawn),
        1,
        squeeze=False,
        figsize=(WIDTH, sum(heights)),
        layout="constrained",
        height_ratios=heights,
    )
    for chart, lines, (axes,) in zip(drawn, told, every, strict=True):
        axes.set_title("\n".join(wrapped(chart.title, COLUMNS)), loc="left", fontsize=LETTERS)
        axes.set_xlabel("\n".join(lines), loc="left", fontsize=SMALL, family="monospace")
        axes.set_ylabel(chart.value_heading)
        axes.grid(color=LIGHT, linewidth=THIN / 2)
        draw(axes, chart)
    return saved(figure, drawing)


def _under(chart: Chart) -> Iterable[str]:
    """Yield the lines under a picture: what the days are of, each point by its letter, and what marks are."""
    if not chart.all_days:
        yield NOTHING
        return
    yield from wrapped(chart.days, COLUMNS)
    yield from key(chart, letters_of(chart), COLUMNS)
    for told in chart.legend:
        yield from wrapped(told, COLUMNS)
    if chart.hollow_means and any(point.hollow for point in chart.points):
        yield from wrapped(f"Hollow: {chart.hollow_means}", COLUMNS)


def draw(axes: Any, chart: Chart) -> None:
    """Draw what a chart has, by what it has; days are drawn by their numbers."""
    axes.set_axisbelow(True)
    if not chart.all_days:
        axes.set_axis_off()
        return
    days = day_axis(chart.all_days, COLUMNS)
    axes.set_xlim(float(days.least), float(days.most))
    axes.set_xticks([float(tick.at) for tick in days.ticks], [tick.label for tick in days.ticks])
    if chart.spans:
        _draw_spans(axes, chart)
        return
    values = value_axis(chart.all_values, INTERVALS)
    axes.set_ylim(float(values.least), float(values.most))
    axes.set_yticks([float(tick.at) for tick in values.ticks], [tick.label for tick in values.ticks])
    _draw_lines(axes, chart, float(days.most))
    _draw_points(axes, chart)


def _draw_lines(axes: Any, chart: Chart, end: float) -> None:
    """Draw the staircase up to the end, the line in its band, the bars and the limit."""
    corners = [(of.day.toordinal(), float(of.value)) for of in stairs(chart.points) if chart.staircase]
    if corners:
        steps = [*corners, (end, corners[-1][1])]
        axes.plot(*zip(*steps, strict=True), color=DARK, linewidth=THIN, drawstyle="steps-post")
    days = [reach.day.toordinal() for reach in chart.line]
    if chart.band_means:
        low, high = [of.low for of in chart.line], [of.high for of in chart.line]
        axes.fill_between(days, low, high, color=LIGHT, linewidth=0)
    axes.plot(days, [of.likely for of in chart.line], color=DARK, linewidth=THIN)
    for bar in chart.bars:
        width = (bar.last - bar.first).days
        axes.bar(bar.first.toordinal(), bar.value, width, align="edge", color=GREY, edgecolor=WHITE)
    if chart.limit:
        axes.axhline(chart.limit.value, color=DARK, linestyle="--", linewidth=THIN)


def _draw_spans(axes: Any, chart: Chart) -> None:
    """Draw each span in a row of its own, the first on top, with a thin line to its latest day."""
    for row, span in enumerate(chart.spans):
        first, last, latest = (day.toordinal() for day in (span.first, span.last, span.latest))
        axes.barh(row, last - first, BAR, left=first, color=GREY)
        axes.plot([last, latest], [row, row], color=DARK, linewidth=THIN)
    axes.set_yticks(range(len(chart.spans)), [span.label for span in chart.spans], fontsize=SMALL)
    axes.invert_yaxis()


def _draw_points(axes: Any, chart: Chart) -> None:
    """Draw the points with their letters; letters that would lie on one another stand side by side."""
    for point in chart.points:
        face, value = WHITE if point.hollow else DARK, float(point.value)
        axes.plot([point.day.toordinal()], [value], "o", color=DARK, markerfacecolor=face, clip_on=False)
    for spot, letters in _beside(axes, chart):
        axes.annotate(letters, spot, (LETTERS / 2, LETTERS / 2), textcoords="offset points")


def _beside(axes: Any, chart: Chart) -> Iterable[tuple[tuple[float, float], str]]:
    """Return where letters stand, those of points that lie close together in one place."""
    placed: dict[tuple[float, float], list[str]] = {}
    for point, letter in zip(chart.points, letters_of(chart), strict=True):
        spot = (float(point.day.toordinal()), float(point.value))
        x, y = axes.transData.transform(spot)
        near = (
            other
            for other in placed
            for right, up in [axes.transData.transform(other)]
            if max(abs(right - x), abs(up - y)) < NEAR
        )
        placed.setdefault(next(near, spot), []).append(letter)
    return [(spot, " ".join(letters)) for spot, letters in placed.items()]
