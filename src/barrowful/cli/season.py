"""``barrowful season``: what to do, week by week."""

from __future__ import annotations

import re
from datetime import UTC, date, datetime, timedelta
from functools import partial as partial_of
from typing import TYPE_CHECKING, Any

import click

from barrowful.cli.charts import chart_option, check_chart, file_of, with_charts, write_charts
from barrowful.cli.common import (
    PARTIAL_OPTION,
    WAY_OPTION,
    answer,
    load_site,
    output_options,
    settable_site,
    take_output,
)
from barrowful.cli.files import put_text
from barrowful.measures.problems import ParseError, WrongUse

if TYPE_CHECKING:
    from barrowful.cli.common import Output
    from barrowful.jobs.season import Season
    from barrowful.site.records import Site
    from barrowful.tables.report import Report
    from barrowful.tables.season import JobLine
    from barrowful.tables.writers.chart import Chart

MONTH = re.compile(r"([0-9]{4})-(0[1-9]|1[0-2])")


@click.command("season")
@settable_site
@click.option("--from", "first", metavar="DATE", help="First day to show; the site's start when left out.")
@click.option("--to", "last", metavar="DATE", help="Last day to show; the end of the horizon when left out.")
@click.option("--month", metavar="YEAR-MONTH", help="One month, such as 2027-04.")
@click.option(
    "--by",
    type=click.Choice(["week", "month", "place"]),
    default="week",
    show_default=True,
    help="How jobs go together.",
)
@WAY_OPTION
@PARTIAL_OPTION
@click.option("--today", metavar="DATE", help="What is not in your history by then is done from that day on.")
@click.option(
    "--stamp",
    metavar="DATE",
    help="Day a calendar says it was made on; else that of --today, or the start.",
)
@chart_option("the hours by week")
@output_options("ics")
def command(
    site: str | None,
    sets: tuple[str, ...],
    first: str | None,
    last: str | None,
    month: str | None,
    by: str,
    way: str,
    partial: bool,
    today: str | None,
    stamp: str | None,
    chart: str | None,
    **options: Any,
) -> int:
    """Every job of what is followed, with its window, hours, what it waits for and what to take care of.

    Follows the plan in the file; without one, the cheapest way for each need. Jobs are moved inside
    their windows so that no week takes more than your hours_per_week. As ics it is a calendar, as
    markdown a sheet to tick.
    Example: barrowful season mysite.yaml --month 2027-04
    """
    from barrowful.jobs.season import season
    from barrowful.reports.season import lines_of, of_jobs
    from barrowful.tables.formats import FORMATS

    check_chart(chart, options["form"])
    output = take_output(options, site, file_of(chart))
    if output.form == "ics" and (output.table or by != "week"):
        raise WrongUse("a calendar holds events: leave --table and --by out")
    loaded = load_site(site, sets)
    days, now = _days(loaded.site, first, last, month), _today(loaded.site, today)
    found = season(loaded.site, way, partial, now)
    lines = lines_of(loaded, found, *days)
    drawn = partial_of(_hours_drawn, found, *days)
    with_sources = output.form in FORMATS and output.shows_sources
    report = of_jobs(loaded, found, lines, by, days, with_sources)
    if output.form == "ics" or (output.form == "markdown" and not output.table):
        made = _day("--stamp", stamp) or now or loaded.site.start
        write_charts(chart, drawn)
        put_text(_for_the_wall(output, report, found, lines, by, made), output.file)
        return 4 if output.strict and report.warnings else 0
    return answer(with_charts(report, chart, drawn), output)


def _today(site: Site, typed: str | None) -> date | None:
    """Return the day that what is not done is done from."""
    day = _day("--today", typed)
    if day is not None and day > site.end:
        raise WrongUse(f"--today {day} is after the site's horizon; give {site.end} or an earlier day")
    return day


def _for_the_wall(
    output: Output, report: Report, found: Season, lines: list[JobLine], by: str, made: date
) -> str:
    """Return jobs as a calendar that says it was made on a day, or as a sheet to tick."""
    from barrowful.tables.agenda import checklist, events
    from barrowful.tables.writers.ics import write_ics

    site = found.selection.answer.site
    if output.form != "ics":
        hours = {week.first: week.hours for week in found.weeks}
        return checklist(lines, site, by, output.measures, report.sentences, hours)
    for sentence in report.sentences:
        click.echo(sentence, err=True)
    stamp = datetime(made.year, made.month, made.day, tzinfo=UTC)
    return write_ics(site.name, events(lines, site, stamp, output.measures), stamp)


def _hours_drawn(found: Season, first: date, last: date) -> list[Chart]:
    """Return the drawing of hours by week: to the last day asked for, or else of twelve months."""
    from barrowful.tables.answer_pictures import season_chart
    from barrowful.tables.season import year_on

    end = last if last < date.max else year_on(first) - timedelta(days=1)
    return [season_chart(found.selection.answer.site.name, found.weeks, first, end)]


def _days(site: Site, first: str | None, last: str | None, month: str | None) -> tuple[date, date]:
    """Return the first and the last day to show."""
    if month is not None:
        if first is not None or last is not None:
            raise click.UsageError("--month does not go with --from or --to")
        return _month(month)
    from_day, to_day = _day("--from", first) or site.start, _day("--to", last) or date.max
    if to_day < from_day:
        raise WrongUse(f"--to {to_day} is before --from {from_day}; give that day or a later one")
    return from_day, to_day


def _month(text: str) -> tuple[date, date]:
    """Return the first and the last day of a month."""
    found = MONTH.fullmatch(text.strip())
    if not found or found[1] == "0000":
        raise WrongUse(f'--month "{text[:20]}" is not a month; write year-month, 2027-04')
    year, month = int(found[1]), int(found[2])
    after = date(year + month // 12, month % 12 + 1, 1) if (year, month) < (9999, 12) else date.max
    return date(year, month, 1), after - timedelta(days=1)


def _day(option: str, text: str | None) -> date | None:
    """Return the day an option says."""
    from barrowful.measures.dates import read_date

    try:
        return None if text is None else read_date(text.strip())
    except ParseError as misread:
        raise WrongUse(f"{option}: {misread}") from None
