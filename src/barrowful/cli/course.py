"""``barrowful course``: year by year."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from barrowful.cli.charts import PNG, chart_option, check_chart, file_of, with_charts
from barrowful.cli.common import (
    WAY_OPTION,
    answer,
    load_site,
    output_options,
    range_options,
    settable_site,
    take_output,
    take_ranges,
)
from barrowful.cli.files import write_file
from barrowful.reports.limits import MOST_YEARS

if TYPE_CHECKING:
    from barrowful.answers.course import Course
    from barrowful.tables.report import Report
    from barrowful.tables.writers.chart import Chart


@click.command("course")
@settable_site
@WAY_OPTION
@click.option("--every-way", is_flag=True, help="Each way by itself.")
@click.option("--monthly", is_flag=True, help="By month instead of by year.")
@click.option(
    "--years", type=click.IntRange(1, MOST_YEARS), help="Years to follow; the horizon when left out."
)
@click.option("--from-history", is_flag=True, help="Start with the first entry of the history.")
@chart_option("it too")
@range_options
@output_options()
def command(
    site: str | None,
    sets: tuple[str, ...],
    way: str,
    every_way: bool,
    monthly: bool,
    years: int | None,
    from_history: bool,
    chart: str | None,
    **options: Any,
) -> int:
    """Year by year for each place: mulch left, humus, soil organic matter, usable nitrogen.

    Follows the plan in the file; without one, the cheapest way for each need. Covers are kept up.
    Example: barrowful course mysite.yaml --from-history --chart course.svg
    """
    from barrowful.answers.course import CourseRequest
    from barrowful.answers.course import course as reckon
    from barrowful.reports.course import of_courses

    output, ranges = take_output(options, site, file_of(chart)), take_ranges(options)
    check_chart(chart, output.form)
    if way and every_way:
        raise click.UsageError("--way and --every-way do not go together")
    loaded = load_site(site, sets)
    asked = CourseRequest(monthly, years, from_history, way, every_way)
    said, lines = reckon(loaded.site, asked)
    report = of_courses(loaded, asked, said, lines, sources=output.shows_sources, ranges=ranges)
    return answer(_with_drawing(report, chart, lines, output.measures), output)


def _with_drawing(report: Report, chart: str | None, lines: list[Course], measures: str) -> Report:
    """Return the report with the drawing of courses under its tables, or that drawing in its file."""

    def draw_all() -> Sequence[Chart]:
        from barrowful.tables.answer_pictures import course_charts

        return course_charts(lines, measures)

    if chart is None or not chart.lower().endswith(PNG):
        return with_charts(report, chart, draw_all)
    from barrowful.tables.chart import draw

    write_file(Path(chart), draw(lines, report.site))
    click.echo(f"Wrote {chart}.", err=True)
    return report
