"""The --chart option: drawings under the tables, or in a file of their own."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

import click

from barrowful.cli.files import write_file
from barrowful.measures.problems import WrongUse, printable

if TYPE_CHECKING:
    from barrowful.tables.report import Report
    from barrowful.tables.writers.chart import Chart

Command = TypeVar("Command", bound=Callable[..., Any])

#: What --chart says where the drawing goes under the tables.
ON_SCREEN = "-"
SVG, PNG = ".svg", ".png"


def chart_option(what: str, metavar: str = "[FILE.svg]") -> Callable[[Command], Command]:
    """Return what adds --chart, which draws something: under the tables, or as a file."""
    return click.option(
        "--chart",
        metavar=metavar,
        is_flag=False,
        flag_value=ON_SCREEN,
        help=f"Draw {what}: under the tables, or as {metavar.strip('[]')} or FILE.png.",
    )


def file_of(chart: str | None) -> str | None:
    """Return the file that a drawing goes to, where it goes to one."""
    return None if chart == ON_SCREEN else chart


def check_chart(chart: str | None, form: str) -> None:
    """Refuse a drawing of no known ending, or one on the screen beside rows for machines."""
    if chart == ON_SCREEN and form != "table":
        raise WrongUse(f"--chart draws under the tables; with --format {form} write --chart FILE.svg")
    if chart not in {None, ON_SCREEN} and not str(chart).lower().endswith((SVG, PNG)):
        raise WrongUse(
            f'--chart "{printable(str(chart))}" is no {SVG} or {PNG}; write --chart FILE{SVG} or --chart'
            f" FILE{PNG}, or --chart as the last word to draw under the tables"
        )


def with_charts(report: Report, chart: str | None, draw: Callable[[], Sequence[Chart]]) -> Report:
    """Return a report with drawings under its tables, or write them to their file."""
    from dataclasses import replace

    if chart == ON_SCREEN:
        return replace(report, charts=tuple(draw()))
    write_charts(chart, draw)
    return report


def write_charts(chart: str | None, draw: Callable[[], Sequence[Chart]]) -> None:
    """Write drawings to their file, where they go to one."""
    if chart is None:
        return
    write_file(Path(chart), _drawn(chart, draw()))
    click.echo(f"Wrote {chart}.", err=True)


def _drawn(chart: str, charts: Sequence[Chart]) -> bytes:
    """Return drawings in the form of their file."""
    if chart.lower().endswith(PNG):
        from barrowful.tables.writers.png import png

        return png(*charts)
    from barrowful.tables.writers.svg import svg

    return svg(*charts).encode()
