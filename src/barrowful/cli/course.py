"""``barrowful course``: year by year."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from barrowful.cli.common import answer, load_site, output_options, settable_site, take_output
from barrowful.cli.complete import ways
from barrowful.cli.files import write_file
from barrowful.reports.limits import MOST_YEARS


@click.command("course")
@settable_site
@click.option(
    "--way",
    default="",
    metavar="NAME",
    shell_complete=ways,
    help="As if this way did everything it can serve.",
)
@click.option("--every-way", is_flag=True, help="Each way by itself.")
@click.option("--monthly", is_flag=True, help="By month instead of by year.")
@click.option(
    "--years", type=click.IntRange(1, MOST_YEARS), help="Years to follow; the horizon when left out."
)
@click.option("--from-history", is_flag=True, help="Start with the first entry of the history.")
@click.option("--chart", metavar="FILE", help="Draw it too, as FILE.svg or FILE.png (extra: full).")
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

    output = take_output(options, site, chart)
    if way and every_way:
        raise click.UsageError("--way and --every-way do not go together")
    loaded = load_site(site, sets)
    asked = CourseRequest(monthly, years, from_history, way, every_way)
    said, lines = reckon(loaded.site, asked)
    report = of_courses(loaded, asked, said, lines, output.shows_sources)
    if chart:
        from barrowful.tables.chart import draw

        write_file(Path(chart), draw(lines, loaded.site.name, Path(chart).suffix.removeprefix(".").lower()))
        click.echo(f"Wrote {chart}.", err=True)
    return answer(report, output)
