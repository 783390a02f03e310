"""``barrowful plan``: the least-cost way to meet every need, proven."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import click

from barrowful.cli.charts import chart_option, check_chart, file_of, with_charts
from barrowful.cli.common import answer, open_site, output_options, settable_site, take_output
from barrowful.cli.files import change, check_changeable
from barrowful.cli.planner import entry_of, planner
from barrowful.cli.progress import progress, to_terminal
from barrowful.measures.problems import WrongUse
from barrowful.reports.limits import MOST_DAYS_A_YEAR

if TYPE_CHECKING:
    from barrowful.planning.frontier import FrontierPoint
    from barrowful.planning.plan import Plan
    from barrowful.site.load import LoadedSite
    from barrowful.tables.report import Report
    from barrowful.tables.writers.chart import Chart

#: Exit code of what the grower stops.
INTERRUPTED = 130


@click.command("plan")
@settable_site
@click.option("--by", metavar="DATE", help="Everything is to be ready by this day; instead of limits.by.")
@click.option(
    "--cash", metavar="MONEY", help="The most money to spend, e.g. '400 EUR'; instead of limits.cash."
)
@click.option(
    "--cash-first-year",
    metavar="MONEY",
    help="The most money to spend in the first twelve months; needs it does not do for wait for the next.",
)
@click.option(
    "--hours", metavar="HOURS", help="The most hours to spend, e.g. '60 h'; instead of limits.hours."
)
@click.option(
    "--days",
    type=click.IntRange(1, MOST_DAYS_A_YEAR),
    default=4,
    show_default=True,
    help="Days of each year to look at, beside those on which something comes.",
)
@click.option("--frontier", is_flag=True, help="The least cash for each day everything may be ready too.")
@click.option("--binds", is_flag=True, help="What a little more of each limit would save too.")
@chart_option("the frontier")
@click.option("--write", is_flag=True, help="Put the plan into SITE; the file before is kept as SITE.bak.")
@output_options()
def command(
    site: str | None,
    sets: tuple[str, ...],
    by: str | None,
    cash: str | None,
    cash_first_year: str | None,
    hours: str | None,
    days: int,
    frontier: bool,
    binds: bool,
    chart: str | None,
    write: bool,
    **options: Any,
) -> int:
    """What to put where, of what, when: every need met that can be, at the least cost, and that is proven.

    What stands under plan: in the file is left out. Needs the extra full. Long searches say what they look
    for on a terminal.
    Example: barrowful plan mysite.yaml --by 2029-03-01 --cash "400 EUR" --write
    """
    from barrowful.reports.limits import read_limit, with_limits
    from barrowful.reports.plan import Found, PlanRequest, find
    from barrowful.reports.plan import plan as report

    check_chart(chart, options["form"])
    output = take_output(options, site, file_of(chart))
    _check_write(write, site, sets)
    loaded = open_site(site, sets)
    limited = replace(with_limits(loaded, by, cash, hours), plan=())
    most = None
    if cash_first_year is not None:
        most = read_limit(loaded, "--cash-first-year", "cash", cash_first_year)
    frontier = frontier or chart is not None
    asked = PlanRequest(days=days, cash_first_year=most, frontier=frontier, binds=binds)
    with progress(to_terminal()) as step:
        found = find(limited, asked, step)
    stopped = isinstance(found, Found) and found.plan.interrupted
    if stopped:
        click.echo("Stopped: this is the best plan so far; it is not written anywhere.", err=True)
    elif isinstance(found, Found) and write:
        _write_down(found.plan, loaded, str(site))
    told = report(found, loaded, sources=output.shows_sources)
    if isinstance(found, Found):
        told = with_charts(told, chart, lambda: [_drawn(told, found.frontier or [])])
    code = answer(told, output)
    return INTERRUPTED if stopped else code


def _check_write(write: bool, site: str | None, sets: tuple[str, ...]) -> None:
    """Refuse to write a plan where there is no file for it that can be changed, or not the one it is for."""
    if write and site in {None, "-"}:
        raise WrongUse("--write puts the plan into a site file; give its name")
    if write and sets:
        raise WrongUse(
            "--write puts the plan into the file as it is; leave --set out, or change the file first"
        )
    if write:
        check_changeable(str(site))


def _write_down(plan: Plan, loaded: LoadedSite, site: str) -> None:
    """Put a plan into the site file it was made for."""
    lines = [entry_of(line) for line in plan.lines]
    backup = change(site, planner(site, lines, made_for=loaded.document))
    wrote = f"{len(lines)} line{'' if len(lines) == 1 else 's'}"
    told = f"Wrote {wrote} under plan: in" if lines else "Nothing is to be put on: no line is under plan: in"
    click.echo(f"{told} {site}; the file as it was is {backup}.", err=True)


def _drawn(report: Report, frontier: list[FrontierPoint]) -> Chart:
    """Return the drawing of the frontier."""
    from barrowful.tables.pictures import frontier_chart

    points = [(point.change, point.ready_on, point.cash) for point in frontier]
    return frontier_chart(report.site, report.currency, points)
