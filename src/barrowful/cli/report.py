"""``barrowful report``: all that is to be known of a site on one page, to read, print and tick."""

from __future__ import annotations

import click

from barrowful.cli.common import (
    FILE_OPTION,
    MEASURES_OPTION,
    PARTIAL_OPTION,
    STRICT_OPTION,
    WAY_OPTION,
    load_site,
    settable_site,
    tell_in,
)
from barrowful.cli.files import put_pieces
from barrowful.cli.targets import check_targets


@click.command("report")
@settable_site
@WAY_OPTION
@PARTIAL_OPTION
@FILE_OPTION
@MEASURES_OPTION
@STRICT_OPTION
def command(
    site: str | None, sets: tuple[str, ...], way: str, partial: bool, file: str, measures: str, strict: bool
) -> int:
    """One HTML file to read, print and tick: what to do, orders, jobs, courses, cautions and figures.

    Follows the plan in the file; without one, the cheapest way for each need. The file needs nothing
    beside itself: no script, no connection. It prints on A4.
    Example: barrowful report mysite.yaml -o mysite.html
    """
    from barrowful.answers.orders import sheet
    from barrowful.jobs.season import season
    from barrowful.measures.problems import gathered
    from barrowful.reports.site_page import site_page
    from barrowful.tables.report import Look
    from barrowful.tables.writers.html import write_html

    check_targets(site, {"-o": file})
    tell_in(measures)
    loaded = load_site(site, sets)
    known = gathered(loaded.warnings)
    orders = sheet(loaded.site, way, partial)
    jobs = season(loaded.site, way, partial, orders=orders)
    page = site_page(orders, jobs, known, measures)
    warnings = list(dict.fromkeys(page.warnings))
    for warning in (warning for warning in warnings if warning not in known):
        click.echo(f"warning: {warning}.", err=True)
    put_pieces(write_html(page, Look(measures, all_cautions=True)), file)
    return 4 if strict and warnings else 0
